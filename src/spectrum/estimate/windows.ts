/** Window shapes for spectra and the figures that describe them; lengths in samples, frequencies in bins. */
import { realFft } from '../../numerics/index.js';

/** Cosine-sum coefficients: w[i] = sum_k (-1)^k a_k cos(2 pi k i / n). */
const COSINE_TERMS = {
  rectangular: [1],
  hann: [0.5, 0.5],
  hamming: [0.54, 0.46],
  blackman: [0.42, 0.5, 0.08],
  /** Four-term minimum, -92 dB. */
  blackmanHarris: [0.35875, 0.48829, 0.14128, 0.01168],
  /** Five-term flat top in the form of ISO 18431-2. */
  flatTop: [0.21557895, 0.41663158, 0.277263158, 0.083578947, 0.006947368],
} as const satisfies Record<string, readonly number[]>;

/** The windows that are known here. */
export type WindowName = keyof typeof COSINE_TERMS;

/**
 * Samples of a window.
 *
 * @param name the window
 * @param n length, >= 1
 * @param symmetry 'periodic' (period n, for spectra) or 'symmetric' (first and last sample equal, for filters)
 * @returns length n, peak near 1
 * @throws RangeError when n is no whole number >= 1
 * @remarks Source: Harris 1978, Proc. IEEE 66, 51-83; flat top: coefficients of ISO 18431-2.
 */
export function windowSamples(
  name: WindowName,
  n: number,
  symmetry: 'periodic' | 'symmetric' = 'periodic',
): Float64Array {
  if (!Number.isInteger(n) || n < 1) throw new RangeError(`n must be a whole number >= 1, got ${n}`);
  const terms: readonly number[] = COSINE_TERMS[name];
  const period = symmetry === 'periodic' ? n : Math.max(n - 1, 1);
  return Float64Array.from({ length: n }, (_, i) =>
    terms.reduce((sum, a, k) => sum + (k % 2 ? -a : a) * Math.cos((2 * Math.PI * k * i) / period), 0),
  );
}

function sumOf(window: Readonly<Float64Array>): number {
  return window.reduce((sum, w) => sum + w, 0);
}

function energyOf(window: Readonly<Float64Array>): number {
  return window.reduce((sum, w) => sum + w * w, 0);
}

/**
 * Equivalent noise bandwidth n sum w^2 / (sum w)^2, in bins: the width of the ideal filter that passes as much
 * white noise; times rate / n it is in hertz.
 *
 * @remarks Source: Harris 1978, equation 11.
 */
export function noiseBandwidthBins(window: Readonly<Float64Array>): number {
  return (window.length * energyOf(window)) / sumOf(window) ** 2;
}

/** Mean of the window: what it leaves of the amplitude of a sine on a bin. Source: Harris 1978, equation 12. */
export function coherentGain(window: Readonly<Float64Array>): number {
  return sumOf(window) / window.length;
}

/**
 * Correlation of two windows that overlap: the share of information two neighbouring segments have in common
 * (of white noise, as amplitude).
 *
 * @param overlap share of the length, 0..1
 * @throws RangeError when overlap lies outside 0..1
 * @remarks Source: Harris 1978, equation 17.
 */
export function overlapCorrelation(window: Readonly<Float64Array>, overlap: number): number {
  if (!(overlap >= 0 && overlap <= 1)) throw new RangeError(`overlap must lie in 0..1, got ${overlap}`);
  const n = window.length;
  const shift = n - Math.round(overlap * n);
  let sum = 0;
  for (let i = 0; i + shift < n; i++) sum += window[i] * window[i + shift];
  return sum / energyOf(window);
}

/**
 * Scalloping loss in decibels, >= 0: how much lower a sine half way between two bins reads than one on a bin.
 *
 * @remarks Source: Harris 1978, equation 13.
 */
export function scallopingLossDb(window: Readonly<Float64Array>): number {
  // Transform at twice the length: bin 1 lies half a bin from 0 Hz.
  const { re, im } = realFft(window, 2 * window.length);
  return -20 * Math.log10(Math.hypot(re[1], im[1]) / Math.abs(re[0]));
}
