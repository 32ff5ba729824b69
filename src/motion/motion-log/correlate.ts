/**
 * The vibration of a clip slid along a motion log: products and energies at every lag, in steps of a quarter frame, for
 * each pair of a camera axis and a column of the log.
 *
 * Both sides pass the same filter first: it makes the video's spectrum flat where it stands over its noise and shuts the
 * rest out, so that peaks are as sharp as the clip allows and each axis counts by the width of the band in which it can
 * be seen. Correlation with filters of this kind: Knapp & Carter 1976, IEEE Trans. ASSP 24 [from memory]; the weights are
 * our own.
 */
import { complexFft, fourthDifferenceVibration, multitaperSpectrum } from '../../numerics/index.js';
import type { AngularAxis } from '../../run/index.js';
import { seenAngles } from './angles.js';
import { coveredFrames, type LogPart } from './parts.js';
import { leastCoveredS, videoNoisePsd, type ComparedMotion } from './video.js';

/** Steps of the search within a frame. */
const PHASES = 4;
/** Frames this near to a gap, seconds, do not count: the filter reaches into it from there. */
const GAP_EDGE_S = 0.25;
/** A spectrum below this many times the noise counts as noise: one in a hundred smoothed ordinates of noise is higher. */
const CLEAR_OF_NOISE = 2;
/** Spectra are made flat down to this share of their highest ordinate: lower ones hold what leaks out of the high ones. */
const FLATTENED_TO = 3e-4;

/** Some frames of a clip: first, and one past the last. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** The middle of the clip, its ends left out, at most some seconds of it. */
export function searchedStretch({ timeS, rateHz, trimFrames }: ComparedMotion, mostS: number): Stretch {
  const most = Math.round(mostS * rateHz);
  const usable = timeS.length - 2 * trimFrames;
  const from = trimFrames + Math.max(0, (usable - most) >> 1);
  return { from, to: Math.min(from + most, timeS.length - trimFrames) };
}

/** What an axis passes before it is compared. */
export interface VideoFilter {
  readonly axis: AngularAxis;
  /** Gain at a frequency in Hz. */
  readonly gain: (freqHz: number) => number;
  /** Width of the band in which the axis can be seen, Hz. */
  readonly widthHz: number;
}

/** The filter of one axis: sqrt(signal) / (signal + noise), 0 outside the band; null when it is all noise. */
export function videoFilter(
  motion: ComparedMotion,
  axis: AngularAxis,
  { from, to }: Stretch,
): VideoFilter | null {
  const series = motion.vibration[axis].slice(from, to);
  const durationS = series.length / motion.rateHz;
  const { freqHz, psd } = multitaperSpectrum(series, motion.rateHz, Math.max(5, Math.round(durationS)));
  const noise = videoNoisePsd(motion, axis);
  const stepHz = freqHz[1];
  const least = FLATTENED_TO * psd.reduce((most, value) => Math.max(most, value), 0);
  const gains = psd.map((total, b) => {
    if (freqHz[b] < motion.bandHz[0] || !(total > 0)) return 0;
    return Math.sqrt(Math.max(0, total - CLEAR_OF_NOISE * noise)) / (total + least);
  });
  const widthHz = gains.reduce((sum, g, b) => sum + g * g * psd[b], 0) * stepHz;
  if (!(widthHz > 0)) return null;
  const gain = (f: number): number => {
    const at = Math.min(f / stepHz, gains.length - 1);
    const b = Math.min(Math.floor(at), gains.length - 2);
    return gains[b] + (at - b) * (gains[b + 1] - gains[b]);
  };
  return { axis, gain, widthHz };
}

/** Products and energies at every lag, for each pair of a camera axis and a log column. */
export interface LagCurves {
  readonly lagCount: number;
  /** Offset of lag k, seconds. */
  readonly offsetS: (k: number) => number;
  /** Seconds of the clip that count at lag k. */
  readonly countedS: (k: number) => number;
  /** Seconds that must count. */
  readonly leastS: number;
  readonly pairs: readonly {
    readonly camera: AngularAxis;
    readonly log: AngularAxis;
    readonly product: Float64Array;
    readonly videoEnergy: Float64Array;
    readonly logEnergy: Float64Array;
  }[];
}

/**
 * The log is sampled like a film of its own in each of the phases; the video slides over it. Lag j puts frame 0 of the
 * stretch on frame j of that film; frames in a gap of the log, or beyond either end of it, do not count.
 *
 * @param parts the log between its gaps, at least one
 */
export function correlate(
  motion: ComparedMotion,
  parts: readonly LogPart[],
  filters: readonly VideoFilter[],
  { from, to }: Stretch,
  exposureS: number,
): LagCurves {
  const { rateHz, timeS } = motion;
  const startS = parts[0].fromS + exposureS / 2;
  const endS = parts[parts.length - 1].toS - exposureS / 2 - 1 / rateHz;
  const frames = Math.max(0, Math.floor((endS - startS) * rateHz) + 1);
  const n = to - from;
  // A log that begins or ends within the clip leaves out a part of one side, and of that what is not searched anyway.
  const wanted = Math.ceil(leastCoveredS(timeS.length / rateHz) * rateHz - 1e-6);
  const least = Math.max(1, Math.min(n, wanted - ((timeS.length - n) >> 1)));
  const firstLag = least - n;
  const lags = Math.max(0, frames - least - firstLag + 1);
  const lagCount = frames < least ? 0 : PHASES * lags;
  const counted = new Int32Array(lagCount);
  const offsetS = (k: number): number => startS + (firstLag + k / PHASES) / rateHz - timeS[from];
  const curves = { lagCount, offsetS, countedS: (k: number) => counted[k] / rateHz, leastS: least / rateHz };
  if (lagCount === 0) return { ...curves, pairs: [] };

  const edge = Math.round(GAP_EDGE_S * rateHz);
  const size = 2 ** Math.ceil(Math.log2(frames + n));
  const video = filters.map((filter) => {
    const filtered = filterSeries(motion.vibration[filter.axis].slice(from, to), filter, rateHz, size);
    const energy = filtered.map((v) => v * v);
    return { filter, spectrum: transform(filtered), energy: transform(energy) };
  });
  const pairs = filters.flatMap(({ axis }) =>
    [...parts[0].integrals.keys()].map((column) => ({
      camera: axis,
      log: column,
      product: new Float64Array(lagCount),
      videoEnergy: new Float64Array(lagCount),
      logEnergy: new Float64Array(lagCount),
    })),
  );
  for (let phase = 0; phase < PHASES; phase++) {
    const atS = Float64Array.from({ length: frames }, (_, k) => startS + (k + phase / PHASES) / rateHz);
    const runs = coveredFrames(parts, atS, exposureS).filter((run) => run.to - run.from >= 5);
    const inPart = new Float64Array(frames);
    const clear = new Float64Array(size);
    runs.forEach((run, r) => {
      inPart.fill(1, run.from, run.to);
      clear.fill(1, run.from + (r > 0 ? edge : 0), run.to - (r + 1 < runs.length ? edge : 0));
    });
    const clearSpectrum = transform(clear);
    const frameCount = runningSum(inPart);
    for (let j = 0; j < lags; j++) counted[PHASES * j + phase] = overlap(frameCount, firstLag + j, n);
    const videoEnergies = video.map(({ energy }) => circularProducts(energy, clearSpectrum));
    for (const column of parts[0].integrals.keys()) {
      const shake = new Float64Array(frames);
      for (const run of runs) {
        const integrals = run.part.integrals.get(column);
        if (!integrals) continue;
        const { angle } = seenAngles(integrals, atS.subarray(run.from, run.to), exposureS);
        shake.set(fourthDifferenceVibration(angle, rateHz, motion.bandHz[0]), run.from);
      }
      video.forEach(({ filter, spectrum }, v) => {
        const pair = pairs.find((p) => p.camera === filter.axis && p.log === column);
        if (!pair) return;
        // What the filter carried into a gap does not count.
        const filtered = filterSeries(shake, filter, rateHz, size).map((value, k) => clear[k] * value);
        const products = circularProducts(spectrum, transform(filtered));
        const logEnergy = runningSum(filtered.subarray(0, frames).map((value) => value * value));
        for (let j = 0; j < lags; j++) {
          const lag = firstLag + j;
          const k = PHASES * j + phase;
          pair.product[k] = products[(lag + size) % size];
          pair.videoEnergy[k] = Math.max(0, videoEnergies[v][(lag + size) % size]);
          pair.logEnergy[k] = overlap(logEnergy, lag, n);
        }
      });
    }
  }
  return { ...curves, pairs };
}

interface Spectrum {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** A series through the filter of an axis, zero phase, of the given size: 0 beyond its own length. */
function filterSeries(
  series: Float64Array,
  { gain }: VideoFilter,
  rateHz: number,
  size: number,
): Float64Array {
  const padded = new Float64Array(size);
  padded.set(series);
  const { re, im } = transform(padded);
  for (let b = 0; b < size; b++) {
    const g = gain((Math.min(b, size - b) * rateHz) / size);
    re[b] *= g;
    im[b] *= g;
  }
  const filtered = inverse(re, im);
  filtered.fill(0, series.length);
  return filtered;
}

function transform(series: Float64Array): Spectrum {
  return complexFft(series, new Float64Array(series.length));
}

/** sum over i of video[i] log[i + lag], at index lag modulo the size. */
function circularProducts(video: Spectrum, log: Spectrum): Float64Array {
  const re = video.re.map((a, b) => a * log.re[b] + video.im[b] * log.im[b]);
  const im = video.re.map((a, b) => a * log.im[b] - video.im[b] * log.re[b]);
  return inverse(re, im);
}

/** Real part of the inverse transform, by the forward one of the conjugate. */
function inverse(re: Float64Array, im: Float64Array): Float64Array {
  const { re: real } = complexFft(
    re,
    im.map((value) => -value),
  );
  return real.map((value) => value / re.length);
}

/** Sum of the first k samples, at index k. */
function runningSum(series: Readonly<Float64Array>): Float64Array {
  const sums = new Float64Array(series.length + 1);
  for (let i = 0; i < series.length; i++) sums[i + 1] = sums[i] + series[i];
  return sums;
}

/** Sum over the samples from a lag on, n of them, as far as there are any. */
function overlap(sums: Readonly<Float64Array>, lag: number, n: number): number {
  return sums[Math.min(lag + n, sums.length - 1)] - sums[Math.max(0, lag)];
}
