/** The fast part of a series and how far it stands above its noise, in the unit of the series. */
import { fourthDifferenceVibration, rms } from '../../numerics/index.js';
import type { NoisySeries } from './lens-path.js';

/** A series without its slow part; `rms` freed of noise, `noise` the RMS that noise alone leaves. */
export interface Shake {
  readonly values: Float64Array;
  readonly rms: number;
  readonly noise: number;
}

/** Takes off what is slower than `cutoffHz`. White noise keeps 1 - 2 fc / rate of its variance, about. */
export function shakeOf({ values, noiseSd }: NoisySeries, rateHz: number, cutoffHz: number): Shake {
  const fast = fourthDifferenceVibration(values, rateHz, cutoffHz);
  const noise = noiseSd * Math.sqrt(Math.max(0, 1 - (2 * cutoffHz) / rateHz));
  return { values: fast, rms: Math.sqrt(Math.max(0, rms(fast) ** 2 - noise ** 2)), noise };
}
