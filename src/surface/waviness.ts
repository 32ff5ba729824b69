/**
 * The exponent w of the floor's spectrum, without unit, fitted in the observed band; straight on log-log axes, contact unknown.
 */
import type { DeckChannel } from './deck-transfer.js';
import { expectedSpectra, type PassSettings } from './expected-spectrum.js';
import {
  CONTACT_TRIES,
  fitChannel,
  weightedMoments,
  type ChannelSpectrum,
  type KeptBins,
} from './floor-fit.js';
import { fitLevel } from './level-fit.js';

/** Exponent with its standard deviation. */
export interface WavinessFit {
  readonly waviness: number;
  readonly sd: number;
}

/** Claimed sd against measured spread. */
const SD_FACTOR = 1.3;
const START = 2;
const LOWEST = 0.5;
const HIGHEST = 4;
const DIFFERENCE = 0.1;
const LONGEST_STEP = 0.5;
const CONVERGED = 0.02;
const MAX_ROUNDS = 5;
const SMALLEST_CURVATURE = 1;

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
  channels: readonly ChannelSpectrum[],
  kept: KeptBins,
): WavinessFit | null {
  const ofMean = channels.filter(({ channel }) => channel !== 'roll');
  const ofDifference = channels.filter(({ channel }) => channel === 'roll');
  if (ofDifference.length === 0) return null;
  const expected = expectedSpectra(settings);
  const speedMps = settings.speedsMps[Math.floor(settings.speedsMps.length / 2)];
  const pivotCyclesPerM = (0.7 * Math.sqrt(settings.rateHz)) / speedMps;

  const costs: number[] = [];
  const values: number[] = [];
  const sds: number[] = [];
  // Every second contact is enough: neighbours differ by a third.
  for (const contactCyclesPerM of CONTACT_TRIES.filter((_, i) => i % 2 === 0)) {
    const levelAt = (some: readonly ChannelSpectrum[], waviness: number) => {
      const shape = { waviness, pivotCyclesPerM, contactCyclesPerM };
      const floorOf = (channel: DeckChannel) => expected.floor(channel, shape);
      return fitLevel(some.map((c) => fitChannel(c, floorOf(c.channel), expected.noise, kept)));
    };
    const m = peakOf((w) => levelAt(ofMean, w));
    const d = peakOf((w) => levelAt(ofDifference, w));
    const gm = Math.exp(m.lnLevel);
    const quarter = Math.exp(d.lnLevel) / 4;
    const share = gm / (gm + quarter);
    costs.push(m.cost + d.cost);
    values.push(share * m.w + (1 - share) * d.w);
    sds.push(Math.hypot(share * m.sd, (1 - share) * d.sd));
  }
  const { mean, sd } = weightedMoments(costs, values, sds);
  return { waviness: mean, sd: SD_FACTOR * sd };
}

interface Peak {
  readonly w: number;
  readonly sd: number;
  readonly cost: number;
  readonly lnLevel: number;
}

/** Least cost over w by Newton steps on central differences. */
function peakOf(fitAt: (waviness: number) => { cost: number; lnLevel: number }): Peak {
  let w = START;
  for (let round = 1; ; round++) {
    const here = fitAt(w);
    const below = fitAt(w - DIFFERENCE).cost;
    const above = fitAt(w + DIFFERENCE).cost;
    const curvature = Math.max((above - 2 * here.cost + below) / DIFFERENCE ** 2, SMALLEST_CURVATURE);
    const slope = (above - below) / (2 * DIFFERENCE);
    const step = Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, -slope / curvature));
    if (Math.abs(step) < CONVERGED || round === MAX_ROUNDS) {
      return { w: w + step, sd: 1 / Math.sqrt(curvature), cost: here.cost, lnLevel: here.lnLevel };
    }
    w = Math.max(LOWEST, Math.min(HIGHEST, w + step));
  }
}
