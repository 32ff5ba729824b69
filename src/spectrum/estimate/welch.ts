/**
 * The power spectral density that people read: Welch's averaged, one-sided estimate of an evenly spaced series,
 * in (unit of the series)^2 per Hz, with its resolution and 95 % interval.
 */
import { chiSquareQuantile, multitaperSpectrum, realFft, sineTapers } from '../../numerics/index.js';
import { centred, segmentTransforms } from './segments.js';
import { noiseBandwidthBins, overlapCorrelation, type WindowName } from './windows.js';

/** How many averages are wanted, and how long segments must be for it to be worth while. */
export const WELCH_DEFAULTS = {
  /** Averages when the series allows. */
  segments: 8,
  /** Averages of a short series. */
  segmentsShort: 3,
  /** Shortest segment for 8 averages, seconds: 1.6 periods of the slowest vibration (0.8 Hz). */
  leastSegmentS: 2,
  /** Shortest segment for 3 averages, seconds: one period of the slowest vibration. Below it: sine tapers. */
  leastSegmentShortS: 1.25,
  /** Longest segment, seconds: 0.1 Hz is fine enough, a longer clip gains averages instead. */
  mostSegmentS: 10,
  /** Sine tapers for a series too short for segments. */
  tapers: 3,
} as const;

/** What may be asked of {@link welch}; everything left out follows {@link WELCH_DEFAULTS}. */
export interface WelchOptions {
  /** Samples in a segment, 2 .. length of the series. */
  readonly segmentSamples?: number;
  /** Window, periodic; Hann unless given. */
  readonly window?: WindowName;
  /** Take the mean off each segment (off the whole series for tapers); true unless given. */
  readonly removeMean?: boolean;
}

/** A one-sided spectrum and how far it may be trusted. */
export interface WelchSpectrum {
  /** From 0 Hz to Nyquist. */
  readonly freqHz: Float64Array;
  /** (Unit of the series)^2 / Hz, same length; all bins but 0 Hz and Nyquist are doubled. */
  readonly psd: Float64Array;
  readonly method: 'welch' | 'sineTapers';
  /** Spacing of the bins: rate / segment length. */
  readonly resolutionHz: number;
  /** Equivalent noise bandwidth of window or tapers. */
  readonly noiseBandwidthHz: number;
  /**
   * Of the chi-square law of one ordinate, 0 Hz and Nyquist aside; with tapers also one bin beside them, where the tapers see
   * both signs of the frequency and an interval of 95 % holds the truth in 90.
   */
  readonly degreesOfFreedom: number;
  /** The true density lies between psd * lo and psd * hi in 95 % of cases. */
  readonly ci95Factors: readonly [number, number];
  /** Number of averages: segments, or tapers. */
  readonly segments: number;
  readonly segmentSamples: number;
}

/**
 * Degrees of freedom of K averages with half-overlapping segments: 2 K / (1 + 2 (1 - 1/K) rho^2), rho the
 * correlation of overlapping windows (Hann, rho = 1/6: 36 K^2 / (19 K - 1)).
 *
 * @remarks Source: Welch 1967, IEEE Trans. Audio Electroacoust. 15, 70-73.
 */
export function welchDegreesOfFreedom(segments: number, correlation: number): number {
  return (2 * segments) / (1 + 2 * (1 - 1 / segments) * correlation * correlation);
}

/**
 * Factors [lo, hi] that turn an averaged ordinate into the ends of its interval.
 *
 * @param degreesOfFreedom > 0
 * @param confidence 0..1, 0.95 unless given
 */
export function intervalFactors(degreesOfFreedom: number, confidence = 0.95): [number, number] {
  const tail = (1 - confidence) / 2;
  return [
    degreesOfFreedom / chiSquareQuantile(1 - tail, degreesOfFreedom),
    degreesOfFreedom / chiSquareQuantile(tail, degreesOfFreedom),
  ];
}

/** Longest even segment that fits `count` times with half overlap. */
function longestSegment(samples: number, count: number): number {
  return 2 * Math.floor(samples / (count + 1));
}

/** Segment length in samples that {@link WELCH_DEFAULTS} give a series, or null when it is too short for segments. */
export function chooseSegment(samples: number, rateHz: number): number | null {
  const d = WELCH_DEFAULTS;
  const many = Math.min(longestSegment(samples, d.segments), 2 * Math.round((d.mostSegmentS * rateHz) / 2));
  if (many >= d.leastSegmentS * rateHz) return many;
  const few = longestSegment(samples, d.segmentsShort);
  return few >= d.leastSegmentShortS * rateHz ? few : null;
}

function taperSpectrum(x: Readonly<Float64Array>, rateHz: number, removeMean: boolean): WelchSpectrum {
  const n = x.length;
  const k = Math.min(WELCH_DEFAULTS.tapers, n);
  const { freqHz, psd } = multitaperSpectrum(centred(x, removeMean), rateHz, k);
  // Mean kernel of the tapers on a fine grid: its area over its height.
  const size = 16 * n;
  const kernel = new Float64Array(size / 2 + 1);
  for (const taper of sineTapers(n, k)) {
    const { re, im } = realFft(taper, size);
    for (let b = 0; b < kernel.length; b++) kernel[b] += (re[b] * re[b] + im[b] * im[b]) / k;
  }
  const height = kernel.reduce((a, b) => Math.max(a, b), 0);
  return {
    freqHz,
    psd,
    method: 'sineTapers',
    resolutionHz: rateHz / n,
    // Each taper has energy 1, so the area over one period of the frequency axis is the rate.
    noiseBandwidthHz: rateHz / height,
    degreesOfFreedom: 2 * k,
    ci95Factors: intervalFactors(2 * k),
    segments: k,
    segmentSamples: n,
  };
}

/**
 * Welch spectrum: segments with half overlap, the mean of each taken off, a periodic window, averaged power.
 *
 * Segment length unless given: the longest that allows 8 averages, when that is 2 s or more, at most 10 s; else the
 * longest that allows 3; a series in which that would be below 1.25 s gets 3 sine tapers over its whole length
 * instead. Samples at the end that fill no segment are not used. No gaps are allowed.
 *
 * @param x length n >= 2, evenly spaced, any unit, not changed
 * @param rateHz samples per second, > 0
 * @throws RangeError on a series, rate or segment outside these bounds
 * @remarks Source: Welch 1967; scaling by the window's energy as in Heinzel, Ruediger, Schilling 2002.
 */
export function welch(x: Readonly<Float64Array>, rateHz: number, options: WelchOptions = {}): WelchSpectrum {
  if (x.length < 2) throw new RangeError(`x must hold at least 2 samples, got ${x.length}`);
  if (!(rateHz > 0 && Number.isFinite(rateHz)))
    throw new RangeError(`rateHz must be positive, got ${rateHz}`);
  const removeMean = options.removeMean ?? true;
  const length = options.segmentSamples ?? chooseSegment(x.length, rateHz);
  if (length === null) return taperSpectrum(x, rateHz, removeMean);
  const plan = { segmentSamples: length, window: options.window ?? 'hann', removeMean };
  const { transforms, window, density } = segmentTransforms(x, rateHz, plan);
  const segments = transforms.length;
  const psd = density.map(
    (scale, b) =>
      (scale * transforms.reduce((sum, { re, im }) => sum + re[b] ** 2 + im[b] ** 2, 0)) / segments,
  );
  const degreesOfFreedom = welchDegreesOfFreedom(segments, overlapCorrelation(window, 0.5));
  return {
    freqHz: psd.map((_, b) => (b * rateHz) / length),
    psd,
    method: 'welch',
    resolutionHz: rateHz / length,
    noiseBandwidthHz: (noiseBandwidthBins(window) * rateHz) / length,
    degreesOfFreedom,
    ci95Factors: intervalFactors(degreesOfFreedom),
    segments,
    segmentSamples: length,
  };
}
