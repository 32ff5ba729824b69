/**
 * The offset between the clocks of a motion log and a clip, in seconds, to a small part of a frame, with its standard
 * deviation; and how much faster one clock runs, where that can be told.
 *
 * Least squares of the video's vibration against the log's, sampled as the camera saw it, over offset, clock rate and one
 * gain for each axis; axes are weighed by their own residual (Gauss-Newton, reweighted). The deviation allows for
 * residuals that hang together in time.
 */
import { commonFrames, middleOf, type CommonFrames, type Comparison, type LogClock } from './common.js';
import { sumDeviation } from './scatter.js';
import { dot, type ComparedMotion } from './video.js';

/** A clock with its deviations. */
export interface RefinedClock extends LogClock {
  readonly offsetSdS: number;
  /** 0 when the ratio was not fitted. */
  readonly ratioSd: number;
}

/** What a ratio of the clocks must show to be believed: deviations from 1, and distance from 1. */
interface Doubt {
  readonly deviations: number;
  readonly leastDistance: number;
}
/** Over this many seconds small differences of clocks can be told. */
const LONG_S = 20;
const ON_LONG: Doubt = { deviations: 3, leastDistance: 0 };
/** Over less, only a clock that is out of order. */
const ON_SHORT: Doubt = { deviations: 4, leastDistance: 1e-3 };
/** First stretch that is fitted, seconds; each further one is twice as long, so that two clocks cannot drift out of step. */
const FIRST_STRETCH_S = 8;
const MOST_STEPS = 30;
/** Steps this small, seconds, end the search. */
const SETTLED_S = 1e-7;

/**
 * Refines an offset that is right to a fraction of a frame.
 *
 * @returns null when too few frames are common to both
 */
export function refineClock(comparison: Comparison, startOffsetS: number): RefinedClock | null {
  const { timeS } = comparison.motion;
  const middleS = middleOf(comparison.motion);
  const halfS = (timeS[timeS.length - 1] - timeS[0]) / 2;
  let clock: LogClock = { offsetS: startOffsetS, ratio: 1 };
  for (let reachS = FIRST_STRETCH_S / 2; reachS < halfS; reachS *= 2) {
    // A stretch that lies in a gap of the log tells nothing; the next one is longer.
    clock = fitBelieved(comparison, clock, [middleS - reachS, middleS + reachS], ON_SHORT) ?? clock;
  }
  return fitBelieved(comparison, clock, [-Infinity, Infinity], 2 * halfS >= LONG_S ? ON_LONG : ON_SHORT);
}

/** A fit with the ratio of the clocks where that can be believed, else without. */
function fitBelieved(
  comparison: Comparison,
  start: LogClock,
  within: readonly [number, number],
  { deviations, leastDistance }: Doubt,
): RefinedClock | null {
  const free = fit(comparison, start, within, true);
  const distance = free ? Math.abs(free.ratio - 1) : 0;
  if (free && distance > leastDistance && distance >= deviations * free.ratioSd) return free;
  return fit(comparison, { offsetS: start.offsetS, ratio: 1 }, within, false);
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
  const onOffset = score[0].map((v, i) => inverse[0] * v + (withRatio ? inverse[1] * score[1][i] : 0));
  const onRatio = score[0].map((v, i) => inverse[1] * v + inverse[2] * score[1][i]);
  const deviations = [
    Math.max(Math.sqrt(inverse[0]), sumDeviation(onOffset, motion.rateHz)),
    withRatio ? Math.max(Math.sqrt(inverse[2]), sumDeviation(onRatio, motion.rateHz)) : 0,
  ] as const;
  return { offsetS, ratio, deviations };
}

function withoutPart(series: Float64Array, along: Float64Array, energy: number): Float64Array {
  const share = dot(series, along) / energy;
  return series.map((v, i) => v - share * along[i]);
}
