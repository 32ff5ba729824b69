/**
 * Whether a peak is a line (or a few of them) or a resonance: difference of the Whittle likelihoods of both models around it, from the
 * one-taper spectrum in (unit of the series)^2 per Hz.
 *
 * Without the further lines a group of lines would read as a resonance. Own derivation.
 */
import { lineShape } from './line-shape.js';
import { resonanceLift, type TunedResonance } from './resonance.js';
import { PADDING, type TaperSpectra } from './taper-spectra.js';

/** Verdict on one peak. */
export interface ShapeVerdict {
  /** ln of the odds that it is a resonance; far below 0 for a line. */
  readonly lnOdds: number;
  /** The likeliest resonance; null outside the band where mounts have theirs. */
  readonly resonance: TunedResonance | null;
}

/** Band of the resonances of camera mounts, Hz. */
const MOUNT_BAND_HZ: readonly [number, number] = [3, 12.5];
/** Reach of the comparison around the peak: 5 / T, or this share of its frequency. */
const REACH_CELLS = 5;
const REACH_SHARE = 0.18;
const MOST_LINES = 3;
/** Price of each further line, and of the resonance's own parameters, in negative log likelihood. */
const LINE_PRICE = 3.5;
const RESONANCE_PRICE = 2;
const LINE_POWERS = [0.3, 0.5, 0.7, 1, 1.4];
const DAMPING_RATIOS = [0.015, 0.02, 0.03, 0.04, 0.055];
const GAINS = [0.05, 0.1, 0.2, 0.35, 0.6, 0.9];
const FREQUENCY_STEPS = 13;
const FREQUENCY_REACH = 0.06;

/**
 * Compares both models.
 *
 * @param background under the line spectrum, on its bins
 * @param free 1 for bins of the line spectrum that no other peak has taken
 * @param at bin of the peak; `freqHz` its frequency between bins
 * @param mostLines lines that the peak and its surroundings may be
 */
export function lineOrResonance(
  { line, durationS, bandHz, parts }: TaperSpectra,
  background: Readonly<Float64Array>,
  free: Readonly<Uint8Array>,
  at: number,
  freqHz: number,
  mostLines = MOST_LINES,
): ShapeVerdict {
  if (freqHz <= MOUNT_BAND_HZ[0] || freqHz >= MOUNT_BAND_HZ[1]) return { lnOdds: -Infinity, resonance: null };
  const reachHz = Math.max(REACH_CELLS / durationS, REACH_SHARE * freqHz);
  const bins: number[] = [];
  // Every fourth bin of the padded spectrum is one of an unpadded one, the peak's own among them.
  for (let i = at % PADDING; i < line.freqHz.length; i += PADDING) {
    const f = line.freqHz[i];
    const own = Math.abs(f - freqHz) < 1.5 / durationS;
    if (Math.abs(f - freqHz) < reachHz && f > bandHz[0] && f < bandHz[1] && (free[i] === 1 || own))
      bins.push(i);
  }
  const patch: Patch = {
    freqHz: Float64Array.from(bins, (i) => line.freqHz[i]),
    psd: Float64Array.from(bins, (i) => line.psd[i]),
    background: Float64Array.from(bins, (i) => background[i]),
    durationS,
  };
  const { cost, resonance } = bestResonance(patch, freqHz);
  const first = { freqHz, powerOver: line.psd[at] / background[at], under: background[at] };
  const lines = costOfLines(patch, first, mostLines);
  return { lnOdds: parts * (lines.cost - cost) + lines.price - RESONANCE_PRICE, resonance };
}

interface Patch {
  readonly freqHz: Float64Array;
  readonly psd: Float64Array;
  readonly background: Float64Array;
  readonly durationS: number;
}

function bestResonance(
  { freqHz, psd, background }: Patch,
  aroundHz: number,
): { cost: number; resonance: TunedResonance } {
  let least = Infinity;
  let resonance: TunedResonance = { freqHz: aroundHz, dampingRatio: DAMPING_RATIOS[0], gain: GAINS[0] };
  for (let k = 0; k < FREQUENCY_STEPS; k++) {
    const f0 = aroundHz * (1 + FREQUENCY_REACH * ((2 * k) / (FREQUENCY_STEPS - 1) - 1));
    for (const dampingRatio of DAMPING_RATIOS) {
      for (const gain of GAINS) {
        const tried = { freqHz: f0, dampingRatio, gain };
        let cost = 0;
        for (let i = 0; i < psd.length; i++) {
          const expected = background[i] * resonanceLift(freqHz[i], tried);
          cost += psd[i] / expected + Math.log(expected);
        }
        if (cost < least) {
          least = cost;
          resonance = tried;
        }
      }
    }
  }
  return { cost: least, resonance };
}

interface FirstLine {
  readonly freqHz: number;
  readonly powerOver: number;
  readonly under: number;
}

/** Up to `mostLines` lines, each where the spectrum stands out most from those before; the cheapest number of them. */
function costOfLines(
  { freqHz, psd, background, durationS }: Patch,
  first: FirstLine,
  mostLines: number,
): { cost: number; price: number } {
  let model: Float64Array = background;
  let best = { cost: Infinity, price: 0 };
  for (let extra = 0; extra < mostLines; extra++) {
    const stands = highestOver(psd, model);
    const lineHz = extra === 0 ? first.freqHz : freqHz[stands];
    const under = extra === 0 ? first.under : model[stands];
    const over = extra === 0 ? first.powerOver : psd[stands] / model[stands];
    const height = Math.max(over - 1, 0.1) * under;
    let least = Infinity;
    let next = model;
    for (const power of LINE_POWERS) {
      const tried = model.map((m, i) => m + power * height * lineShape((freqHz[i] - lineHz) * durationS));
      const cost = tried.reduce((sum, m, i) => sum + psd[i] / m + Math.log(m), 0);
      if (cost < least) {
        least = cost;
        next = tried;
      }
    }
    model = next;
    if (least + extra * LINE_PRICE < best.cost + best.price)
      best = { cost: least, price: extra * LINE_PRICE };
  }
  return best;
}

function highestOver(psd: Readonly<Float64Array>, model: Readonly<Float64Array>): number {
  let best = 0;
  psd.forEach((s, i) => {
    if (s / model[i] > psd[best] / model[best]) best = i;
  });
  return best;
}
