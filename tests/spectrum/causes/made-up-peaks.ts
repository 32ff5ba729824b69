/**
 * Peaks of made-up passes with the cause of each, as a detector would hand them on: frequencies with their error, some missed, some
 * of no cause beside a mount that rings.
 */
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { aliasedFrequencyHz } from '../../../src/optics/index.js';
import type { FoundPeak } from '../../../src/spectrum/peaks/types.js';
import type { CauseName, KnownCauses, ObservedBand, Sighting } from '../../../src/spectrum/causes/types.js';

/** A line of that strength, or a resonance. */
export function madeUpPeak(
  freqHz: number,
  given: Partial<FoundPeak> & { readonly durationS?: number } = {},
): FoundPeak {
  const { durationS = 10, strength = 30, ...rest } = given;
  return {
    freqHz,
    // A detector states 1.3 times the real scatter, 0.5 / (T sqrt(strength)), to be safe.
    freqSdHz: (1.3 * 0.5) / (durationS * Math.sqrt(strength)),
    widthHz: 1 / durationS,
    rms: 1,
    rmsShare: 0.79 / Math.sqrt(strength),
    prominenceDb: 10 * Math.log10(1 + 0.81 * strength),
    strength,
    broadProbability: 0.05,
    resonance: null,
    followsTravel: null,
    mayBeRipple: false,
    ...rest,
  };
}

export const KNOWN: KnownCauses = {
  speedMps: 0.2,
  speedSdShare: 0.02,
  wheelDiameterM: 0.08,
  joint: { spacingM: 0.3, sdShare: 0, source: 'given' },
  machinesHz: [7.4, 31],
  mountHz: null,
  lampsHz: [],
};

/** Half-open shutter at 25 frames a second. */
export const BAND: ObservedBand = { durationS: 10, rateHz: 25, bandHz: [1, 12], exposureS: 0.02 };

/** One made-up pass: what a tool sees and is told, and the truth. */
export interface MadeUpPass {
  readonly sightings: readonly Sighting[];
  readonly known: KnownCauses;
  readonly band: ObservedBand;
  /** Of each sighting; "none" where nothing is. */
  readonly truth: readonly (CauseName | 'none')[];
  /** True speed over the speed as told, minus 1. */
  readonly speedError: number;
}

interface Made {
  readonly freqHz: number;
  readonly cause: CauseName | 'none';
}

/** Passes of the mixture: a given machine, another seen folded, an unlisted line, a wheel, a mount, a row of joints. */
export function madeUpPasses(
  seed: number,
  count: number,
  speedMps: number,
  durationS: number,
  options: { readonly comb?: boolean } = {},
): MadeUpPass[] {
  const random = seededRandom(seed);
  const gaussian = gaussianRandom(random);
  const band = { ...BAND, durationS };
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)];
  const between = (a: number, b: number): number => a + (b - a) * random();
  const orders = (baseHz: number, upTo: number): number[] =>
    Array.from({ length: upTo }, (_, i) => i + 1).filter((k) => k * baseHz > 1.3 && k * baseHz < 12);

  const one = (): MadeUpPass => {
    const made: Made[] = [];
    const sometimes = (p: number): boolean => random() < p && !options.comb;
    if (sometimes(0.5)) made.push({ freqHz: 7.4, cause: 'machine' });
    if (sometimes(0.5)) made.push({ freqHz: aliasedFrequencyHz(31, band.rateHz), cause: 'machine' });
    if (sometimes(0.5)) made.push({ freqHz: between(1.5, 11), cause: 'unknown' });
    const turnHz = speedMps / (Math.PI * KNOWN.wheelDiameterM!);
    if (sometimes(0.7)) {
      const open = orders(turnHz, 4);
      for (let i = 0; i < 2 && open.length > 0; i++) {
        const k = open.splice(Math.floor(random() * open.length), 1)[0];
        made.push({ freqHz: k * turnHz, cause: 'wheel' });
      }
    }
    const mountHz = sometimes(0.5) ? between(4, 11) : null;
    const beatHz = speedMps / KNOWN.joint!.spacingM;
    if (options.comb) {
      const teeth = orders(beatHz, Math.floor(12 / beatHz));
      for (let i = 0; i < 5 && teeth.length > 0; i++) {
        const k = teeth.splice(Math.floor(random() * teeth.length), 1)[0];
        made.push({ freqHz: k * beatHz, cause: 'joint' });
      }
    } else if (random() < 0.4) {
      for (const k of orders(beatHz, 6).slice(0, 3)) made.push({ freqHz: k * beatHz, cause: 'joint' });
    }

    const truth: (CauseName | 'none')[] = [];
    const sightings: Sighting[] = [];
    const see = (freqHz: number, cause: CauseName | 'none', peak: FoundPeak): void => {
      if (freqHz < band.bandHz[0] || freqHz > band.bandHz[1]) return;
      sightings.push({ axis: 'tilt', peak });
      truth.push(cause);
    };
    const shape = (logOdds: number): number => 1 / (1 + Math.exp(-logOdds));
    const apart = (freqHz: number): boolean =>
      sightings.every(({ peak }) => Math.abs(peak.freqHz - freqHz) > 1.75 / durationS);
    if (mountHz !== null) {
      const freqHz = mountHz * (1 + 0.015 * gaussian());
      const broadProbability = shape((durationS / 10) * (5 + 4 * gaussian()));
      see(freqHz, 'mount', madeUpPeak(freqHz, { durationS, broadProbability, freqSdHz: 0.015 * freqHz }));
    }
    for (const { freqHz, cause } of made) {
      const strength = pick([20, 40, 80]) * (0.6 + 0.8 * random());
      // Weak lines are missed, as measured; and front and rear wheels often cancel.
      const seen = random() < Math.min(strength / 30, 1) * (cause === 'wheel' ? 0.7 : 1);
      const at = freqHz + (gaussian() * 0.5) / (durationS * Math.sqrt(strength));
      if (!seen || !apart(at)) continue;
      see(at, cause, madeUpPeak(at, { durationS, strength, broadProbability: shape(-3 + 2 * gaussian()) }));
    }
    if (mountHz !== null) {
      for (let i = 0; i < 2; i++) {
        const freqHz = mountHz * between(0.75, 1.25);
        if (random() < 0.5 && apart(freqHz))
          see(
            freqHz,
            'none',
            madeUpPeak(freqHz, { durationS, strength: 15, broadProbability: shape(-1 + 2 * gaussian()) }),
          );
      }
    }
    const speedError = KNOWN.speedSdShare * gaussian();
    return { sightings, known: { ...KNOWN, speedMps: speedMps / (1 + speedError) }, band, truth, speedError };
  };
  return Array.from({ length: count }, one);
}
