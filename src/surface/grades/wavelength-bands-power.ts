/**
 * Power of one wheel track's heights in a band of wavelengths, m^2, from multitaper spectra of the deck and the floor that was
 * fitted to them.
 *
 * In each bin of the band (S - noise) / signal says by what factor the floor differs from the fitted straight spectrum; bins
 * count by (signal / (signal + noise))^2, so those in the notches of the wheelbase and under the noise hardly count. Pitch and
 * heave give the factor of the mean track, roll that of the difference of the tracks. Nothing is divided by a notch: the
 * signal is what the tapers are expected to show. Own derivation.
 */
import type { FloorLevels } from '../profile/types.js';
import type { ChannelSpectrum } from '../roughness/floor-fit.js';
import { bandRmsM } from '../roughness/road-profile.js';
import type { WavelengthBandEdges } from './wavelength-bands-edges.js';

/** A channel as measured and as the fitted floor and the stated noise would show it; columns of one value per bin. */
export interface ExplainedChannel {
  readonly channel: ChannelSpectrum['channel'];
  readonly measured: Float64Array;
  readonly signal: Float64Array;
  readonly noise: Float64Array;
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
 * Power in a band.
 *
 * @param bins for each channel, the bins that count
 * @returns null when no bin of pitch or heave counts, or none of roll though it is there
 */
export function bandPower(
  channels: readonly ExplainedChannel[],
  bins: (channel: ChannelSpectrum['channel']) => readonly number[],
  edges: WavelengthBandEdges,
  levels: FloorLevels,
  trust: BandTrust,
): BandPower | null {
  const unit = (gdM3: number): number => bandRmsM(gdM3, edges.fromCyclesPerM, edges.toCyclesPerM) ** 2;
  const hasRoll = channels.some(({ channel }) => channel === 'roll');
  const parts: { factor: BandFactor | null; scaleM2: number }[] = [
    {
      factor: bandFactor(
        channels.filter(({ channel }) => channel !== 'roll'),
        bins,
        trust,
      ),
      scaleM2: unit(levels.meanTrackM3 ?? 0),
    },
  ];
  if (hasRoll) {
    const ofRoll = channels.filter(({ channel }) => channel === 'roll');
    parts.push({ factor: bandFactor(ofRoll, bins, trust), scaleM2: unit((levels.differenceM3 ?? 0) / 4) });
  }
  let powerM2 = 0;
  let variance = 0;
  let noiseVariance = 0;
  let floorVariance = 0;
  for (const { factor, scaleM2 } of parts) {
    if (factor === null) return null;
    powerM2 += scaleM2 * factor.value;
    variance += (scaleM2 * factor.sd) ** 2;
    noiseVariance += (scaleM2 * factor.noiseSd) ** 2;
    floorVariance += (scaleM2 * factor.floorSd) ** 2;
  }
  return {
    powerM2,
    sdM2: Math.sqrt(variance),
    noiseSdM2: Math.sqrt(noiseVariance),
    floorSdM2: Math.sqrt(floorVariance),
  };
}

interface BandFactor {
  readonly value: number;
  readonly sd: number;
  readonly noiseSd: number;
  readonly floorSd: number;
}

function bandFactor(
  channels: readonly ExplainedChannel[],
  bins: (channel: ChannelSpectrum['channel']) => readonly number[],
  { varianceOfOneBin, noisePowerSd }: BandTrust,
): BandFactor | null {
  let weights = 0;
  let sum = 0;
  let noiseShare = 0;
  for (const { channel, measured, signal, noise } of channels) {
    for (const i of bins(channel)) {
      const weight = (signal[i] / (signal[i] + noise[i])) ** 2;
      weights += weight;
      sum += (weight * (measured[i] - noise[i])) / signal[i];
      noiseShare += (weight * noise[i]) / signal[i];
    }
  }
  if (!(weights > 0)) return null;
  const value = sum / weights;
  const spread = (factor: number, noiseFactor: number): number => {
    let squares = 0;
    for (const { channel, signal, noise } of channels) {
      for (const i of bins(channel)) {
        const weight = (signal[i] / (signal[i] + noise[i])) ** 2;
        squares += (weight * (factor + (noiseFactor * noise[i]) / signal[i])) ** 2;
      }
    }
    return Math.sqrt(varianceOfOneBin * squares) / weights;
  };
  const noiseOff = (noisePowerSd * noiseShare) / weights;
  const found = Math.max(0, value);
  return {
    value,
    sd: Math.hypot(spread(found, 1), noiseOff),
    noiseSd: Math.hypot(spread(0, 1), noiseOff),
    floorSd: spread(found, 0),
  };
}
