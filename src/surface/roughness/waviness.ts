/**
 * The exponent w of the floor's spectrum, without unit, fitted in the observed band; straight on log-log axes, contact unknown.
 */
import type { ExpectedSpectra, PassSettings } from './expected-spectrum.js';
import {
  contactTable,
  fitChannel,
  weightedMoments,
  type ChannelSpectrum,
  type ContactTable,
} from './floor-fit.js';
import { fitLevel } from './level-fit.js';
import type { MaskedFit } from './machine-lines.js';

/** Exponent with its standard deviation. */
export interface WavinessFit {
  readonly waviness: number;
  readonly sd: number;
}

/** Claimed sd against measured spread. */
const SD_FACTOR = 1.3;
/** Exponents that are tried; the likelihood between them is read off a cubic. */
const LOWEST = 0.75;
const HIGHEST = 3.5;
const GRID_STEP = 0.25;
const FINE_STEPS = 12;

/**
 * Fits w separately to the mean and the difference of the tracks and joins them by their power, G_m to G_d / 4.
 *
 * The tracks are less alike the shorter the wave, so the mean track alone falls too steeply (w 0.15-0.23 too high); without
 * roll there is therefore no answer.
 *
 * @returns null without a roll channel
 */
export function fitWaviness(
  settings: PassSettings,
  expected: ExpectedSpectra,
  channels: readonly ChannelSpectrum[],
  masked: MaskedFit,
  phaseScale: number,
): WavinessFit | null {
  const ofMean = channels.filter(({ channel }) => channel !== 'roll');
  const ofDifference = channels.filter(({ channel }) => channel === 'roll');
  if (ofDifference.length === 0) return null;
  const speedMps = settings.speedsMps[Math.floor(settings.speedsMps.length / 2)];
  // Middle of the band on a log axis: there level and exponent hardly depend on each other.
  const pivotCyclesPerM = (0.7 * Math.sqrt(settings.rateHz)) / speedMps;
  const momentsOf = (some: readonly ChannelSpectrum[]): Moments =>
    momentsOver((waviness) => {
      const shape = { waviness, pivotCyclesPerM };
      return averagedOverContact(contactTable(expected, some, phaseScale, shape), some, masked);
    });
  const m = momentsOf(ofMean);
  const d = momentsOf(ofDifference);
  const gm = Math.exp(m.lnLevel);
  const quarter = Math.exp(d.lnLevel) / 4;
  const share = gm / (gm + quarter);
  return {
    waviness: share * m.w + (1 - share) * d.w,
    sd: SD_FACTOR * Math.hypot(share * m.sd, (1 - share) * d.sd),
  };
}

interface Averaged {
  /** Negative log of the likelihood, averaged over the contact. */
  readonly cost: number;
  /** ln Gd(n0) at the pivot of the likeliest contact. */
  readonly lnLevel: number;
}

function averagedOverContact(
  table: ContactTable,
  channels: readonly ChannelSpectrum[],
  { kept, fit }: MaskedFit,
): Averaged {
  const { noiseFactor } = fit;
  const fits = table.floors.map((floors) =>
    fitLevel(channels.map((c) => fitChannel(c, floors.get(c.channel)!, table.noise, kept, { noiseFactor }))),
  );
  const best = fits.reduce((a, b) => (b.cost < a.cost ? b : a));
  const likelihood = fits.reduce((sum, fit) => sum + Math.exp(best.cost - fit.cost), 0);
  return { cost: best.cost - Math.log(likelihood), lnLevel: best.lnLevel };
}

interface Moments {
  readonly w: number;
  readonly sd: number;
  readonly lnLevel: number;
}

/** Mean and sd of w under the likelihood, and the level where it peaks. A ridge of contact against w thus widens the sd. */
function momentsOver(fitAt: (waviness: number) => Averaged): Moments {
  const count = Math.round((HIGHEST - LOWEST) / GRID_STEP) + 1;
  const fits = Array.from({ length: count }, (_, i) => fitAt(LOWEST + i * GRID_STEP));
  const costs: number[] = [];
  const tried: number[] = [];
  for (let i = 0; i <= (count - 1) * FINE_STEPS; i++) {
    const place = i / FINE_STEPS;
    tried.push(LOWEST + place * GRID_STEP);
    costs.push(
      cubicAt(
        fits.map((fit) => fit.cost),
        place,
      ),
    );
  }
  const { mean, sd } = weightedMoments(
    costs,
    tried,
    tried.map(() => 0),
  );
  const best = fits.reduce((a, b) => (b.cost < a.cost ? b : a));
  return { w: mean, sd, lnLevel: best.lnLevel };
}

/** Cubic through the four values around `place`, a fractional index. */
function cubicAt(values: readonly number[], place: number): number {
  const first = Math.max(0, Math.min(values.length - 4, Math.floor(place) - 1));
  const t = place - first;
  const [a, b, c, d] = values.slice(first, first + 4);
  const ab = b - a;
  const second = c - 2 * b + a;
  const third = d - 3 * c + 3 * b - a;
  return a + t * ab + ((t * (t - 1)) / 2) * second + ((t * (t - 1) * (t - 2)) / 6) * third;
}
