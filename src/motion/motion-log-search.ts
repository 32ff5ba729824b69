/**
 * Where in a motion log a clip lies: the correlation of the clip's vibration with the log at every offset that leaves
 * enough of the clip covered, in steps of a quarter frame, and how far its highest peak can be trusted.
 *
 * Both sides pass the same filter first: it makes the video's spectrum flat where it stands over its noise and shuts the
 * rest out, so that the peak is as sharp as the clip allows and each axis counts by the width of the band in which it can
 * be seen. Correlation with filters of this kind: Knapp & Carter 1976, IEEE Trans. ASSP 24 [from memory]; the weights are
 * our own.
 */
import { complexFft, fourthDifferenceSmooth, multitaperSpectrum } from '../numerics/index.js';
import type { AngularAxis } from '../run/index.js';
import { seenAngles, type AngleIntegrals } from './motion-log-angles.js';
import { seenAxes, videoNoisePsd, type ComparedMotion } from './motion-log-video.js';

/** Steps of the search within a frame. */
const PHASES = 4;
/** Longest stretch of the clip that is searched for, seconds: over more, two clocks may drift apart. */
const MOST_SEARCHED_S = 60;
/** The offset must leave this much of the clip covered: share and seconds. */
const LEAST_COVERED = 0.5;
const LEAST_COVERED_S = 3;
/** A spectrum below this many times the noise counts as noise: one in a hundred smoothed ordinates of noise is higher. */
const CLEAR_OF_NOISE = 2;
const LEAST_CORRELATION = 0.5;
/** Peaks at other offsets must stay below this share of the highest. */
const MOST_SECOND_PEAK = 0.9;
/** Another naming of the log's axes must beat the given one by this much. */
const LEAST_GAIN_OF_RENAMING = 0.1;

/** Which axis of the camera a column of the log is taken for, and with which sign. */
export interface AxisNaming {
  readonly log: AngularAxis;
  readonly camera: AngularAxis;
  readonly sign: 1 | -1;
}

/** What the search found. */
export interface LogMatch {
  /** The log's clock minus the clip's, seconds, to an eighth of a frame. */
  readonly offsetS: number;
  /** Height of the peak, -1..1. */
  readonly correlation: number;
  /** Height of the highest other peak. */
  readonly secondCorrelation: number;
  /** What the peak had to reach. */
  readonly neededCorrelation: number;
  /** The names of the columns under which it was found; as they are given unless another naming fits much better. */
  readonly naming: readonly AxisNaming[];
}

/** The match, or why there is none. */
export type SearchResult =
  | { readonly match: LogMatch; readonly reason: null }
  | { readonly match: LogMatch | null; readonly reason: string };

/** Seconds of a clip that a log must cover. */
export function leastCoveredS(clipS: number): number {
  return Math.max(LEAST_COVERED * clipS, LEAST_COVERED_S);
}

/**
 * Searches a log for a clip.
 *
 * @param log integrals of the axes that the log has
 * @param exposureS of the pictures
 */
export function searchOffset(
  motion: ComparedMotion,
  log: ReadonlyMap<AngularAxis, AngleIntegrals>,
  exposureS: number,
): SearchResult {
  if (seenAxes(motion).length === 0)
    return { match: null, reason: 'the clip shows no angles to compare with' };
  if (motion.timeS.length / motion.rateHz < LEAST_COVERED_S)
    return { match: null, reason: `the clip is shorter than ${LEAST_COVERED_S} s` };
  const stretch = searchedStretch(motion);
  const filters = seenAxes(motion).flatMap((axis) => videoFilter(motion, axis, stretch) ?? []);
  if (filters.length === 0)
    return { match: null, reason: 'the clip shows no turning above its noise floor to compare with' };
  const curves = correlate(motion, log, filters, stretch, exposureS);
  if (curves.lagCount < 3)
    return { match: null, reason: 'the log covers too little of the clip at any offset' };

  const namings = allNamings([...log.keys()]);
  const given = peakOf(curves, namings[0], filters);
  let best = given;
  for (const naming of namings.slice(1)) {
    const other = peakOf(curves, naming, filters);
    if (
      weakness(other) === null &&
      other.correlation > given.correlation + LEAST_GAIN_OF_RENAMING &&
      other.correlation > best.correlation
    )
      best = other;
  }
  const reason = weakness(best);
  return reason === null ? { match: best, reason: null } : { match: best, reason };
}

/** Why a peak cannot be trusted, or null. */
function weakness({ correlation, secondCorrelation, neededCorrelation }: LogMatch): string | null {
  if (correlation < neededCorrelation)
    return `log and picture agree too little at every offset (correlation ${correlation.toFixed(2)}, ${neededCorrelation.toFixed(2)} needed)`;
  if (secondCorrelation > MOST_SECOND_PEAK * correlation)
    return `log and picture agree about as well at several offsets (correlation ${correlation.toFixed(2)} and ${secondCorrelation.toFixed(2)}): the shake repeats itself`;
  return null;
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** The middle of the clip, its ends left out. */
function searchedStretch({ timeS, rateHz, trimFrames }: ComparedMotion): Stretch {
  const most = Math.round(MOST_SEARCHED_S * rateHz);
  const usable = timeS.length - 2 * trimFrames;
  const from = trimFrames + Math.max(0, (usable - most) >> 1);
  return { from, to: Math.min(from + most, timeS.length - trimFrames) };
}

interface VideoFilter {
  readonly axis: AngularAxis;
  /** Gain at a frequency in Hz. */
  readonly gain: (freqHz: number) => number;
  /** Width of the band in which the axis can be seen, Hz. */
  readonly widthHz: number;
}

/** The filter of one axis: sqrt(signal) / (signal + noise), 0 outside the band; null when it is all noise. */
function videoFilter(motion: ComparedMotion, axis: AngularAxis, { from, to }: Stretch): VideoFilter | null {
  const series = motion.vibration[axis].slice(from, to);
  const durationS = series.length / motion.rateHz;
  const { freqHz, psd } = multitaperSpectrum(series, motion.rateHz, Math.max(5, Math.round(durationS)));
  const noise = videoNoisePsd(motion, axis);
  const stepHz = freqHz[1];
  const gains = psd.map((total, b) => {
    if (freqHz[b] < motion.bandHz[0] || !(total > 0)) return 0;
    return Math.sqrt(Math.max(0, total - CLEAR_OF_NOISE * noise)) / total;
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
interface LagCurves {
  readonly lagCount: number;
  /** Offset of lag k, seconds. */
  readonly offsetS: (k: number) => number;
  /** Seconds of the clip that count at lag k. */
  readonly countedS: (k: number) => number;
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
 * stretch on frame j of that film; frames beyond either end of the log do not count.
 */
function correlate(
  motion: ComparedMotion,
  log: ReadonlyMap<AngularAxis, AngleIntegrals>,
  filters: readonly VideoFilter[],
  { from, to }: Stretch,
  exposureS: number,
): LagCurves {
  const { rateHz, timeS } = motion;
  const [{ timeS: stamps }] = log.values();
  const startS = stamps[0] + exposureS / 2;
  const endS = stamps[stamps.length - 1] - exposureS / 2 - 1 / rateHz;
  const frames = Math.max(0, Math.floor((endS - startS) * rateHz) + 1);
  const n = to - from;
  // A log that begins or ends within the clip leaves out a part of one side, and of that what is not searched anyway.
  const wanted = Math.ceil(leastCoveredS(timeS.length / rateHz) * rateHz - 1e-6);
  const least = Math.max(1, Math.min(n, wanted - ((timeS.length - n) >> 1)));
  const firstLag = least - n;
  const lags = Math.max(0, frames - least - firstLag + 1);
  const lagCount = PHASES * lags;
  const offsetS = (k: number): number => startS + (firstLag + k / PHASES) / rateHz - timeS[from];
  const countedS = (k: number): number => {
    const lag = firstLag + Math.floor(k / PHASES);
    return (Math.min(n, frames - lag) - Math.max(0, -lag)) / rateHz;
  };
  if (frames < least || lags < 1) return { lagCount: 0, offsetS, countedS, pairs: [] };

  const size = 2 ** Math.ceil(Math.log2(frames + n));
  const video = filters.map((filter) => {
    const filtered = filterSeries(motion.vibration[filter.axis].slice(from, to), filter, rateHz, size);
    return { filter, spectrum: filtered.spectrum, energy: runningEnergy(filtered.series.subarray(0, n)) };
  });
  const pairs = filters.flatMap(({ axis }) =>
    [...log.keys()].map((column) => ({
      camera: axis,
      log: column,
      product: new Float64Array(lagCount),
      videoEnergy: new Float64Array(lagCount),
      logEnergy: new Float64Array(lagCount),
    })),
  );
  for (let phase = 0; phase < PHASES; phase++) {
    const atS = Float64Array.from({ length: frames }, (_, k) => startS + (k + phase / PHASES) / rateHz);
    for (const [column, integrals] of log) {
      const { angle } = seenAngles(integrals, atS, exposureS);
      const slow = fourthDifferenceSmooth(angle, rateHz, motion.bandHz[0]);
      const shake = angle.map((value, k) => value - slow[k]);
      for (const { filter, spectrum, energy } of video) {
        const pair = pairs.find((p) => p.camera === filter.axis && p.log === column);
        if (!pair) continue;
        const filtered = filterSeries(shake, filter, rateHz, size);
        const products = circularProducts(spectrum, filtered.spectrum);
        const logEnergy = runningEnergy(filtered.series.subarray(0, frames));
        for (let j = 0; j < lags; j++) {
          const lag = firstLag + j;
          const first = Math.max(0, -lag);
          const end = Math.min(n, frames - lag);
          const k = PHASES * j + phase;
          pair.product[k] = products[(lag + size) % size];
          pair.videoEnergy[k] = energy[end] - energy[first];
          pair.logEnergy[k] = logEnergy[lag + end] - logEnergy[lag + first];
        }
      }
    }
  }
  return { lagCount, offsetS, countedS, pairs };
}

interface Spectrum {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** A series through the filter of an axis, zero phase; cut to its own length before it is used for products. */
function filterSeries(
  series: Float64Array,
  { gain }: VideoFilter,
  rateHz: number,
  size: number,
): { series: Float64Array; spectrum: Spectrum } {
  const padded = new Float64Array(size);
  padded.set(series);
  const { re, im } = complexFft(padded, new Float64Array(size));
  for (let b = 0; b < size; b++) {
    const g = gain((Math.min(b, size - b) * rateHz) / size);
    re[b] *= g;
    im[b] *= g;
  }
  const filtered = inverse(re, im);
  filtered.fill(0, series.length);
  return { series: filtered, spectrum: complexFft(filtered, new Float64Array(size)) };
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

/** Energy of the first k samples, at index k. */
function runningEnergy(series: Readonly<Float64Array>): Float64Array {
  const sums = new Float64Array(series.length + 1);
  for (let i = 0; i < series.length; i++) sums[i + 1] = sums[i] + series[i] * series[i];
  return sums;
}

/** Correlation at every lag under one naming of the log's columns, all axes together. */
function scoreCurve({ lagCount, pairs }: LagCurves, naming: readonly AxisNaming[]): Float64Array {
  const score = new Float64Array(lagCount);
  const videoEnergy = new Float64Array(lagCount);
  const logEnergy = new Float64Array(lagCount);
  for (const { camera, log, sign } of naming) {
    const pair = pairs.find((p) => p.camera === camera && p.log === log);
    if (!pair) continue;
    for (let k = 0; k < lagCount; k++) {
      score[k] += sign * pair.product[k];
      videoEnergy[k] += pair.videoEnergy[k];
      logEnergy[k] += pair.logEnergy[k];
    }
  }
  for (let k = 0; k < lagCount; k++) {
    const energy = Math.sqrt(videoEnergy[k] * logEnergy[k]);
    score[k] = energy > 0 ? score[k] / energy : 0;
  }
  return score;
}

/** The highest peak of a curve, and the highest value beyond the foot of that peak. */
function peakOf(curves: LagCurves, naming: readonly AxisNaming[], filters: readonly VideoFilter[]): LogMatch {
  const { offsetS, countedS } = curves;
  const score = scoreCurve(curves, naming);
  let at = 0;
  for (let k = 1; k < score.length; k++) if (score[k] > score[at]) at = k;
  let left = at;
  while (left > 0 && score[left - 1] < score[left]) left--;
  let right = at;
  while (right + 1 < score.length && score[right + 1] < score[right]) right++;
  let second = 0;
  for (let k = 0; k < score.length; k++) if (k < left || k > right) second = Math.max(second, score[k]);

  // Vertex of the parabola through the three highest samples.
  const inside = at > 0 && at + 1 < score.length;
  const bend = inside ? score[at - 1] - 2 * score[at] + score[at + 1] : 0;
  const shift = bend < 0 ? (0.5 * (score[at - 1] - score[at + 1])) / bend : 0;

  // Chance alone reaches sqrt(2 ln tries) deviations of Fisher's z, whose variance is 1 / independent samples.
  const widthHz = filters.reduce((sum, filter) => sum + filter.widthHz, 0);
  const rangeS = offsetS(score.length) - offsetS(0);
  const independent = Math.max(2 * widthHz * countedS(at), 1);
  const tries = Math.max((2 * widthHz * rangeS) / filters.length, 2);
  const chance = Math.tanh((Math.sqrt(2 * Math.log(tries)) + 1) / Math.sqrt(independent));
  return {
    offsetS: offsetS(at + shift),
    correlation: score[at],
    secondCorrelation: second,
    neededCorrelation: Math.max(LEAST_CORRELATION, chance),
    naming,
  };
}

/** Every way to take the log's columns for axes of the camera, with signs; the way they are named comes first. */
function allNamings(columns: readonly AngularAxis[]): AxisNaming[][] {
  const axes: readonly AngularAxis[] = ['pan', 'tilt', 'roll'];
  const extend = (rest: readonly AngularAxis[], used: readonly AngularAxis[]): AxisNaming[][] => {
    if (rest.length === 0) return [[]];
    const [log, ...others] = rest;
    const choices = [log, ...axes.filter((axis) => axis !== log)].filter((axis) => !used.includes(axis));
    return choices.flatMap((camera) =>
      ([1, -1] as const).flatMap((sign) =>
        extend(others, [...used, camera]).map((tail) => [{ log, camera, sign }, ...tail]),
      ),
    );
  };
  return extend(columns, []);
}
