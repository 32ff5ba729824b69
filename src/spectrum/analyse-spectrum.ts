/** Spectra and peaks of the six axes of a measured vibration, in SI units, from the motion of the camera. */
import type { Motion } from '../motion/index.js';
import { chiSquareQuantile } from '../numerics/index.js';
import { AXES, type Axis } from '../run/index.js';
import { findPeaks } from './peaks/find-peaks.js';
import type { AxisSpectrum, Spectrum } from './types.js';
import { intervalFactors, welch, type WelchSpectrum } from './estimate/welch.js';

/** Peaks are looked for from this multiple of the cut-off on: there the high-pass leaves six sevenths. */
const LOWEST_OVER_CUTOFF = 1.25;
/** and up to this share of the rate, because the spectrum mirrors at Nyquist. */
const HIGHEST_SHARE = 0.48;
/** A series below this many samples (ends left out) has no spectrum. */
const LEAST_SAMPLES = 8;

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

function describe(s: WelchSpectrum, rateHz: number): string {
  if (s.method === 'sineTapers') return `sine tapers, ${s.segments} over the whole length, one-sided`;
  const seconds = (s.segmentSamples / rateHz).toFixed(2);
  return `Welch, Hann, 50 % overlap, ${s.segments} averages of ${seconds} s, one-sided`;
}

function meanSquare(x: Readonly<Float64Array>): number {
  return x.reduce((sum, v) => sum + v * v, 0) / x.length;
}

/** One-sided density of the noise of an axis, flat: the part that each frame adds, raised by what tracks share in coded pictures. */
function noiseDensity({ noiseSd, axes, rateHz, trimFrames }: Motion, axis: Axis): number {
  const kept = noiseSd[axis].subarray(trimFrames, Math.max(trimFrames, noiseSd[axis].length - trimFrames));
  const { floor, plainFloor } = axes[axis];
  const raised = plainFloor > 0 && Number.isFinite(floor) ? (floor / plainFloor) ** 2 : 1;
  const density = (2 * raised * meanSquare(kept)) / rateHz;
  return Number.isFinite(density) ? density : 0;
}

/**
 * Analyses the vibration of every axis.
 *
 * The ends that `motion.trimFrames` names are left out, and so are axes whose status is notObservable or whose
 * series holds a gap. Peaks are looked for between 1.25 times the cut-off and 0.48 times the frame rate. A series of
 * fewer than 8 samples gives no axes and a resolution as wide as the band.
 */
export function analyseSpectrum(motion: Motion): Spectrum {
  const { rateHz, trimFrames, bandHz } = motion;
  const axes: Partial<Record<Axis, AxisSpectrum>> = {};
  const dominantHz: Partial<Record<Axis, number | null>> = {};
  let shape: WelchSpectrum | null = null;

  for (const axis of AXES) {
    const whole = motion.vibration[axis];
    const series = whole.slice(trimFrames, Math.max(trimFrames, whole.length - trimFrames));
    const unusable = motion.axes[axis].status === 'notObservable' || series.some((v) => !Number.isFinite(v));
    if (unusable || series.length < LEAST_SAMPLES) continue;
    const estimate = welch(series, rateHz);
    shape ??= estimate;
    const noiseFloorPsd = noiseDensity(motion, axis);
    const peaks = findPeaks(series, rateHz, {
      bandHz: [LOWEST_OVER_CUTOFF * bandHz[0], HIGHEST_SHARE * rateHz],
      noiseFloorPsd,
    }).map((peak) => ({ axis, ...peak }));
    const result = { axis, freqHz: estimate.freqHz, psd: estimate.psd, noiseFloorPsd, peaks };
    axes[axis] = result;
    dominantHz[axis] = dominantFrequencyHz(result, bandHz, estimate.degreesOfFreedom);
  }

  return {
    method: shape ? describe(shape, rateHz) : 'none: the series is too short',
    resolutionHz: shape?.resolutionHz ?? rateHz / 2,
    noiseBandwidthHz: shape?.noiseBandwidthHz ?? rateHz / 2,
    degreesOfFreedom: shape?.degreesOfFreedom ?? 2,
    ci95Factors: shape?.ci95Factors ?? intervalFactors(2),
    nyquistHz: rateHz / 2,
    translationUnit: motion.translationUnit,
    axes,
    dominantHz,
  };
}
