/** Where the shake of one axis is strongest, Hz, from its density. */
import { chiSquareQuantile } from '../numerics/index.js';
import type { AxisSpectrum } from './types.js';

/** Chance that noise alone shows a dominant frequency on an axis. */
const FALSE_DOMINANT = 0.01;

/**
 * Where the shake of an axis is strongest, Hz: the highest density between `bandHz`, by a parabola through ln PSD.
 *
 * @param degreesOfFreedom of the density, for the threshold over the noise floor
 * @returns null when the highest density could be noise alone (1 in 100 spectra)
 */
export function dominantFrequencyHz(
  { freqHz, psd, noiseFloorPsd }: Pick<AxisSpectrum, 'freqHz' | 'psd' | 'noiseFloorPsd'>,
  bandHz: readonly [number, number],
  degreesOfFreedom: number,
): number | null {
  let best = -1;
  let bins = 0;
  for (let k = 1; k + 1 < psd.length; k++) {
    if (freqHz[k] < bandHz[0] || freqHz[k] > bandHz[1]) continue;
    bins++;
    if (best < 0 || psd[k] > psd[best]) best = k;
  }
  if (best < 0) return null;
  const noiseReaches =
    chiSquareQuantile((1 - FALSE_DOMINANT) ** (1 / bins), degreesOfFreedom) / degreesOfFreedom;
  if (psd[best] <= noiseFloorPsd * noiseReaches) return null;
  const [low, top, high] = [psd[best - 1], psd[best], psd[best + 1]].map((density) =>
    Math.log(density + Number.MIN_VALUE),
  );
  const bend = low - 2 * top + high;
  const shift = bend < 0 ? (0.5 * (low - high)) / bend : 0;
  return freqHz[best] + Math.max(-0.5, Math.min(0.5, shift)) * (freqHz[1] - freqHz[0]);
}
