/**
 * Power of one wheel track's heights in a band of wavelengths, m^2, from multitaper spectra of the deck and the floor that was
 * fitted to them.
 *
 * In each bin of the band (S - noise) / signal says by what factor the floor differs from the fitted straight spectrum; bins
 * count by (signal / (signal + noise))^2, so those in the notches of the wheelbase and under the noise hardly count. Pitch and
 * heave give the factor of the mean track, roll that of the difference of the tracks. Nothing is divided by a notch: the
 * signal is what the tapers are expected to show. Own derivation.
 */
import type { DeckChannel } from '../deck/deck-transfer.js';
import type { FloorLevels } from '../profile/types.js';
import { bandRmsM } from '../roughness/road-profile.js';
import type { WavelengthBandEdges } from './wavelength-bands-edges.js';

/** Fewest bins that a factor is read from. */
const FEWEST_BINS = 2;

/** A channel as measured and as the fitted floor and the stated noise would show it; columns of one value per bin. */
export interface ExplainedChannel {
  readonly channel: DeckChannel;
  readonly measured: Float64Array;
  readonly signal: Float64Array;
  readonly noise: Float64Array;
  /** The bins that count. */
  readonly bins: readonly number[];
}

/** Power of one track in a band, m^2, with what is not known of it. */
export interface BandPower {
  /** May be below zero where the noise happens to be smaller than stated. */
  readonly powerM2: number;
  /** Standard deviation of the estimate: few bins, noise, and noise other than stated. */
  readonly sdM2: number;
  /** What would be left of it without any floor, and without any noise. */
  readonly noiseSdM2: number;
  readonly floorSdM2: number;
}

/** How far the answer leans on the number of bins and on the noise. */
export interface BandTrust {
  /** Variance of the mean of a factor over m bins is this over m. */
  readonly varianceOfOneBin: number;
  /** Standard deviation of the noise's power as a share of it. */
  readonly noisePowerSd: number;
}

/**
 * Power in a band; of the mean track alone when roll is not among the channels.
 *
 * @returns null with fewer than two bins of pitch and heave, or of roll though it is there
 */
export function bandPower(
  channels: readonly ExplainedChannel[],
  edges: WavelengthBandEdges,
  levels: FloorLevels,
  trust: BandTrust,
): BandPower | null {
  const rolls = channels.filter(({ channel }) => channel === 'roll');
  const others = channels.filter(({ channel }) => channel !== 'roll');
  const fittedM2 = (gdM3: number | null): number =>
    bandRmsM(gdM3 ?? 0, edges.fromCyclesPerM, edges.toCyclesPerM) ** 2;
  const mean = bandFactor(others, fittedM2(levels.meanTrackM3), trust);
  if (rolls.length === 0 || mean === null) return mean;
  const difference = bandFactor(rolls, fittedM2(levels.differenceM3) / 4, trust);
  if (difference === null) return null;
  return {
    powerM2: mean.powerM2 + difference.powerM2,
    sdM2: Math.hypot(mean.sdM2, difference.sdM2),
    noiseSdM2: Math.hypot(mean.noiseSdM2, difference.noiseSdM2),
    floorSdM2: Math.hypot(mean.floorSdM2, difference.floorSdM2),
  };
}

/** The factor that some channels share, times the fitted power. */
function bandFactor(
  channels: readonly ExplainedChannel[],
  fittedM2: number,
  { varianceOfOneBin, noisePowerSd }: BandTrust,
): BandPower | null {
  const weights: number[] = [];
  const noiseShares: number[] = [];
  let total = 0;
  let sum = 0;
  for (const { measured, signal, noise, bins } of channels) {
    for (const i of bins) {
      const weight = (signal[i] / (signal[i] + noise[i])) ** 2;
      weights.push(weight);
      noiseShares.push(noise[i] / signal[i]);
      total += weight;
      sum += (weight * (measured[i] - noise[i])) / signal[i];
    }
  }
  if (weights.length < FEWEST_BINS) return null;
  const factor = sum / total;
  const spread = (floor: number, noise: number): number => {
    const squares = weights.reduce((all, w, i) => all + (w * (floor + noise * noiseShares[i])) ** 2, 0);
    return Math.sqrt(varianceOfOneBin * squares) / total;
  };
  const noiseOff = (noisePowerSd * weights.reduce((all, w, i) => all + w * noiseShares[i], 0)) / total;
  const seen = Math.max(0, factor);
  return {
    powerM2: fittedM2 * factor,
    sdM2: fittedM2 * Math.hypot(spread(seen, 1), noiseOff),
    noiseSdM2: fittedM2 * Math.hypot(spread(0, 1), noiseOff),
    floorSdM2: fittedM2 * spread(seen, 0),
  };
}
