/**
 * The offset between the clocks of a motion log and a clip, in seconds, to a small part of a frame, with its standard
 * deviation; and how much faster one clock runs, where the clip is long enough to tell.
 *
 * Least squares of the video's vibration against the log's, sampled as the camera saw it, over offset, clock rate and one
 * gain for each axis; axes are weighed by their own residual (Gauss-Newton, reweighted). The deviation allows for
 * residuals that hang together in time by the estimator of Newey & West 1987, Econometrica 55 [from memory].
 */
import { fourthDifferenceSmooth } from '../numerics/index.js';
import type { AngularAxis } from '../run/index.js';
import { seenAngles, type AngleIntegrals } from './motion-log-angles.js';
import { dot, seenAxes, type ComparedMotion } from './motion-log-video.js';
import type { AxisNaming } from './motion-log-search.js';

/** How the log's clock follows from the clip's: log = middle + offset + ratio * (clip - middle). */
export interface LogClock {
  /** The log's clock minus the clip's at the middle of the clip, seconds. */
  readonly offsetS: number;
  /** Seconds of the log in a second of the clip. */
  readonly ratio: number;
}

/** A clock with its deviations. */
export interface RefinedClock extends LogClock {
  readonly offsetSdS: number;
  /** 0 when the ratio was not fitted. */
  readonly ratioSd: number;
}

/** Vibration of video and log on the frames that the log covers, rad, ends cut; columns of equal length. */
export interface CommonFrames {
  /** Frames of the clip, first and one past the last, before the ends are cut. */
  readonly from: number;
  readonly to: number;
  /** Frames of the clip that the columns hold. */
  readonly frames: Int32Array;
  /** Clip time of each of them, seconds. */
  readonly timeS: Float64Array;
  /** By axis of the camera: those that the clip shows. */
  readonly video: ReadonlyMap<AngularAxis, Float64Array>;
  /** By axis of the camera that the naming gives each column. */
  readonly log: ReadonlyMap<AngularAxis, Float64Array>;
  /** Change of the log's column with the offset, rad/s. */
  readonly slope: ReadonlyMap<AngularAxis, Float64Array>;
}

/** Clips shorter than this, seconds, show no difference of clocks. */
const LEAST_FOR_RATIO_S = 20;
/** Deviations from 1 that a clock rate must stand clear. */
const SIGNIFICANT = 3;
/** First stretch that is fitted, seconds; each further one is twice as long, so that two clocks cannot drift out of step. */
const FIRST_STRETCH_S = 60;
const MOST_STEPS = 30;
/** Steps this small, seconds, end the search. */
const SETTLED_S = 1e-7;
/** Residuals this far apart, seconds, count as independent. */
const MEMORY_S = 0.4;

/** What is compared with what. */
export interface Comparison {
  readonly motion: ComparedMotion;
  readonly log: ReadonlyMap<AngularAxis, AngleIntegrals>;
  readonly naming: readonly AxisNaming[];
  readonly exposureS: number;
  /** True for a clip time, in seconds on the log's clock, near a gap of the log. */
  readonly inGap: (logS: number) => boolean;
}

/** Time on the log's clock. */
export function logTime({ offsetS, ratio }: LogClock, clipS: number, middleS: number): number {
  return middleS + offsetS + ratio * (clipS - middleS);
}

/** Middle of the clip, seconds: where the offset is stated. */
export function middleOf({ timeS }: ComparedMotion): number {
  return (timeS[0] + timeS[timeS.length - 1]) / 2;
}

/**
 * Both sides on the frames that the log covers: the same exposure, the same high-pass over the same frames, the same
 * ends left out. Frames near a gap of the log do not count.
 *
 * @param within only frames of this range of clip times, seconds
 */
export function commonFrames(
  { motion, log, naming, exposureS, inGap }: Comparison,
  clock: LogClock,
  within: readonly [number, number] = [-Infinity, Infinity],
): CommonFrames {
  const { timeS, rateHz, trimFrames, bandHz } = motion;
  const middleS = middleOf(motion);
  const [{ timeS: stamps }] = log.values();
  const covered = Array.from(timeS.keys()).filter((t) => {
    const atS = logTime(clock, timeS[t], middleS);
    return (
      atS - exposureS / 2 >= stamps[0] &&
      atS + exposureS / 2 <= stamps[stamps.length - 1] &&
      timeS[t] >= within[0] &&
      timeS[t] <= within[1]
    );
  });
  const from = covered[0] ?? 0;
  const to = covered.length > 0 ? covered[covered.length - 1] + 1 : 0;
  const atS = Float64Array.from({ length: to - from }, (_, k) => logTime(clock, timeS[from + k], middleS));
  const kept = Array.from(atS.keys()).filter(
    (k) => k >= trimFrames && k < atS.length - trimFrames && !inGap(atS[k]),
  );
  const counted = (series: Float64Array): Float64Array => {
    const slow = fourthDifferenceSmooth(series, rateHz, bandHz[0]);
    return Float64Array.from(kept, (k) => series[k] - slow[k]);
  };
  const video = new Map<AngularAxis, Float64Array>();
  const logged = new Map<AngularAxis, Float64Array>();
  const slope = new Map<AngularAxis, Float64Array>();
  for (const axis of seenAxes(motion)) video.set(axis, counted(motion.path[axis].slice(from, to)));
  for (const { camera, log: column, sign } of naming) {
    const integrals = log.get(column);
    if (!integrals) continue;
    const seen = seenAngles(integrals, atS, exposureS);
    logged.set(camera, counted(seen.angle.map((v) => sign * v)));
    slope.set(camera, counted(seen.rate.map((v) => sign * v)));
  }
  return {
    from,
    to,
    frames: Int32Array.from(kept, (k) => from + k),
    timeS: Float64Array.from(kept, (k) => timeS[from + k]),
    video,
    log: logged,
    slope,
  };
}

/**
 * Refines an offset that is right to a fraction of a frame.
 *
 * @returns null when too few frames are common to both
 */
export function refineClock(comparison: Comparison, startOffsetS: number): RefinedClock | null {
  const { motion } = comparison;
  const middleS = middleOf(motion);
  const halfS = (motion.timeS[motion.timeS.length - 1] - motion.timeS[0]) / 2;
  let clock: RefinedClock | null = { offsetS: startOffsetS, ratio: 1, offsetSdS: 0, ratioSd: 0 };
  for (let reachS = FIRST_STRETCH_S / 2; ; reachS *= 2) {
    const last = reachS >= halfS;
    const within: [number, number] = last ? [-Infinity, Infinity] : [middleS - reachS, middleS + reachS];
    const withRatio = 2 * Math.min(reachS, halfS) >= LEAST_FOR_RATIO_S;
    const fitted: RefinedClock | null = fit(comparison, clock, within, withRatio);
    if (!fitted) return null;
    clock = fitted;
    if (!last) continue;
    if (withRatio && Math.abs(clock.ratio - 1) < SIGNIFICANT * clock.ratioSd)
      clock = fit(comparison, { offsetS: clock.offsetS, ratio: 1 }, within, false);
    return clock;
  }
}

/** Gauss-Newton steps until the offset settles. */
function fit(
  comparison: Comparison,
  start: LogClock,
  within: readonly [number, number],
  withRatio: boolean,
): RefinedClock | null {
  let { offsetS, ratio } = start;
  let deviations: readonly [number, number] = [0, 0];
  for (let step = 0; step < MOST_STEPS; step++) {
    const common = commonFrames(comparison, { offsetS, ratio }, within);
    if (common.timeS.length < 8 || common.video.size === 0) return null;
    const solved = gaussNewtonStep(common, comparison.motion, withRatio);
    if (!solved) return null;
    offsetS += solved.offsetS;
    ratio += solved.ratio;
    deviations = solved.deviations;
    const halfS = (common.timeS[common.timeS.length - 1] - common.timeS[0]) / 2;
    if (Math.abs(solved.offsetS) < SETTLED_S && Math.abs(solved.ratio) * halfS < SETTLED_S) break;
  }
  return { offsetS, ratio, offsetSdS: deviations[0], ratioSd: withRatio ? deviations[1] : 0 };
}

interface Step {
  readonly offsetS: number;
  readonly ratio: number;
  readonly deviations: readonly [number, number];
}

function gaussNewtonStep(common: CommonFrames, motion: ComparedMotion, withRatio: boolean): Step | null {
  const { timeS, video, log, slope } = common;
  const n = timeS.length;
  const middleS = middleOf(motion);
  // Normal equations of (offset, ratio), and the score of each frame, summed over the axes.
  const normal = [0, 0, 0];
  const score = [new Float64Array(n), new Float64Array(n)];
  for (const [axis, seen] of video) {
    const logged = log.get(axis);
    const rate = slope.get(axis);
    if (!logged || !rate) continue;
    const energy = dot(logged, logged);
    if (!(energy > 0)) continue;
    const gain = dot(seen, logged) / energy;
    const residual = seen.map((v, i) => v - gain * logged[i]);
    const variance = dot(residual, residual) / n;
    if (!(variance > 0)) continue;
    // The gain is fitted along: what looks like a gain is taken out of the derivatives.
    const turn = withoutPart(
      rate.map((v) => gain * v),
      logged,
      energy,
    );
    const drift = withoutPart(
      rate.map((v, i) => gain * v * (timeS[i] - middleS)),
      logged,
      energy,
    );
    normal[0] += dot(turn, turn) / variance;
    normal[1] += dot(turn, drift) / variance;
    normal[2] += dot(drift, drift) / variance;
    for (let i = 0; i < n; i++) {
      score[0][i] += (turn[i] * residual[i]) / variance;
      score[1][i] += (drift[i] * residual[i]) / variance;
    }
  }
  const [a, b, c] = withRatio ? normal : [normal[0], 0, 1];
  const determinant = a * c - b * b;
  if (!(determinant > 0)) return null;
  const inverse = [c / determinant, -b / determinant, a / determinant];
  const sums = score.map((column) => column.reduce((sum, v) => sum + v, 0));
  const offsetS = inverse[0] * sums[0] + (withRatio ? inverse[1] * sums[1] : 0);
  const ratio = withRatio ? inverse[1] * sums[0] + inverse[2] * sums[1] : 0;

  // Deviations: the influence of each frame on the two unknowns, summed with its neighbours in time.
  const memory = Math.round(MEMORY_S * motion.rateHz);
  const onOffset = score[0].map((v, i) => inverse[0] * v + (withRatio ? inverse[1] * score[1][i] : 0));
  const onRatio = score[0].map((v, i) => inverse[1] * v + inverse[2] * score[1][i]);
  const deviations = [
    Math.sqrt(Math.max(inverse[0], longRunVariance(onOffset, memory))),
    withRatio ? Math.sqrt(Math.max(inverse[2], longRunVariance(onRatio, memory))) : 0,
  ] as const;
  return { offsetS, ratio, deviations };
}

function withoutPart(series: Float64Array, along: Float64Array, energy: number): Float64Array {
  const share = dot(series, along) / energy;
  return series.map((v, i) => v - share * along[i]);
}

/**
 * Variance of the sum of a column whose samples hang together over `memory` steps: autocovariances with weights that fall
 * to 0 (Bartlett).
 */
export function longRunVariance(column: Readonly<Float64Array>, memory: number): number {
  let total = dot(column, column);
  for (let lag = 1; lag <= Math.min(memory, column.length - 1); lag++) {
    const weight = 1 - lag / (memory + 1);
    total += 2 * weight * dot(column.subarray(lag), column.subarray(0, column.length - lag));
  }
  return total;
}
