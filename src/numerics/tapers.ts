/** Sine tapers and the multitaper power spectrum, one-sided, in (unit of the series)^2 per Hz. */
import { realFft } from './fft.js';

/** A one-sided spectrum in columns of equal length, floor(size / 2) + 1 bins from 0 Hz to Nyquist. */
export interface PowerSpectrum {
  readonly freqHz: Float64Array;
  /** (Unit of the series)^2 / Hz; every bin but 0 Hz and Nyquist is doubled. */
  readonly psd: Float64Array;
}

/**
 * The first k sine tapers of length n: v_j[i] = sqrt(2 / (n + 1)) sin(pi j (i + 1) / (n + 1)), j = 1 .. k.
 *
 * They are orthonormal: each has energy 1, different ones are perpendicular.
 *
 * @param n length, >= 1
 * @param k how many, 1 .. n
 * @returns k columns of length n
 * @throws RangeError outside these bounds
 * @remarks Source: Riedel & Sidorenko 1995, IEEE Trans. Signal Processing 43 (minimum bias tapers) [from memory].
 */
export function sineTapers(n: number, k: number): Float64Array[] {
  if (!Number.isInteger(n) || n < 1) throw new RangeError(`n must be a whole number >= 1, got ${n}`);
  if (!Number.isInteger(k) || k < 1 || k > n)
    throw new RangeError(`k must be a whole number in 1..${n}, got ${k}`);
  const scale = Math.sqrt(2 / (n + 1));
  return Array.from({ length: k }, (_, j) =>
    Float64Array.from(
      { length: n },
      (_unused, i) => scale * Math.sin((Math.PI * (j + 1) * (i + 1)) / (n + 1)),
    ),
  );
}

/**
 * Multitaper power spectrum: S(f) = 2 / fs * mean over the tapers of |FFT(v_j y)|^2.
 *
 * The mean is not removed: pass a series without it. Every ordinate is near chi-square with 2k degrees of freedom
 * and averages over about (k + 1) / (n + 1) * fs Hz.
 *
 * @param y length n >= 1, evenly spaced, no gaps
 * @param rateHz samples per second, > 0
 * @param k number of sine tapers, 1 .. n
 * @param size transform length, n unless given; a longer one interpolates the spectrum
 * @throws RangeError outside these bounds
 */
export function multitaperSpectrum(
  y: Readonly<Float64Array>,
  rateHz: number,
  k: number,
  size: number = y.length,
): PowerSpectrum {
  if (!(rateHz > 0 && Number.isFinite(rateHz)))
    throw new RangeError(`rateHz must be positive, got ${rateHz}`);
  const n = y.length;
  const tapers = sineTapers(n, k);
  const bins = Math.floor(size / 2) + 1;
  const psd = new Float64Array(bins);
  const tapered = new Float64Array(n);
  for (const taper of tapers) {
    for (let i = 0; i < n; i++) tapered[i] = taper[i] * y[i];
    const { re, im } = realFft(tapered, size);
    for (let b = 0; b < bins; b++) psd[b] += re[b] * re[b] + im[b] * im[b];
  }
  for (let b = 0; b < bins; b++) {
    const doubled = b > 0 && 2 * b !== size;
    psd[b] *= (doubled ? 2 : 1) / (rateHz * k);
  }
  return { freqHz: Float64Array.from({ length: bins }, (_, b) => (b * rateHz) / size), psd };
}
