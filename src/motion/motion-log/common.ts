/**
 * Both sides of a comparison on the same frames: the vibration of the pictures and that of a motion log sampled as the
 * camera saw it, rad, once it is said how the log's clock follows from the clip's.
 */
import { fourthDifferenceVibration } from '../../numerics/index.js';
import type { AngularAxis } from '../../run/index.js';
import { seenAngles } from './angles.js';
import type { AxisNaming } from './naming.js';
import { coveredFrames, type LogPart } from './parts.js';
import { seenAxes, type ComparedMotion } from './video.js';

/** How the log's clock follows from the clip's: log = middle + offset + ratio * (clip - middle). */
export interface LogClock {
  /** The log's clock minus the clip's at the middle of the clip, seconds. */
  readonly offsetS: number;
  /** Seconds of the log in a second of the clip. */
  readonly ratio: number;
}

/** Vibration of video and log on the frames that the log covers, rad, ends of each part cut; columns of equal length. */
export interface CommonFrames {
  /** Frames of the clip, first and one past the last, before the ends are cut; both 0 when there are none. */
  readonly from: number;
  readonly to: number;
  /** Seconds of the clip in parts long enough to compare, before their ends are cut. */
  readonly coveredS: number;
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

/** What is compared with what. */
export interface Comparison {
  readonly motion: ComparedMotion;
  /** The log between its gaps. */
  readonly parts: readonly LogPart[];
  readonly naming: readonly AxisNaming[];
  readonly exposureS: number;
}

/** Time on the log's clock. */
export function logTime({ offsetS, ratio }: LogClock, clipS: number, middleS: number): number {
  return middleS + offsetS + ratio * (clipS - middleS);
}

/** Middle of the clip, seconds: where the offset is stated. */
export function middleOf({ timeS }: ComparedMotion): number {
  return (timeS[0] + timeS[timeS.length - 1]) / 2;
}

/** Shortest part that is compared, seconds: one period of the high-pass. */
export function leastPartS({ bandHz }: ComparedMotion): number {
  return 1 / bandHz[0];
}

/**
 * Both sides on the frames that the log covers: the same exposure, the same high-pass over the same frames, the same
 * ends left out. Where the log has gaps this holds for each part between them by itself, on both sides, so that neither
 * the filter nor what is not known of the gap makes a difference.
 *
 * Where the log's clock is fast, its stamps lie too far apart and the rates add up to too much: the angle is that over
 * the ratio of the clocks.
 *
 * @param within only frames of this range of clip times, seconds
 */
export function commonFrames(
  { motion, parts, naming, exposureS }: Comparison,
  clock: LogClock,
  within: readonly [number, number] = [-Infinity, Infinity],
): CommonFrames {
  const { timeS, rateHz, trimFrames, bandHz } = motion;
  const middleS = middleOf(motion);
  const wanted = Array.from(timeS.keys()).filter((t) => timeS[t] >= within[0] && timeS[t] <= within[1]);
  const first = wanted[0] ?? 0;
  const atS = Float64Array.from(wanted, (t) => logTime(clock, timeS[t], middleS));
  const leastFrames = Math.max(leastPartS(motion) * rateHz, 2 * trimFrames + 1);
  const runs = coveredFrames(parts, atS, clock.ratio * exposureS).filter(
    ({ from, to }) => to - from >= leastFrames,
  );
  const counted = (series: Float64Array): Float64Array =>
    fourthDifferenceVibration(series, rateHz, bandHz[0]).subarray(trimFrames, series.length - trimFrames);
  const column = (pieces: readonly Float64Array[]): Float64Array =>
    Float64Array.from(pieces.flatMap((piece) => Array.from(piece)));
  const video = new Map(
    seenAxes(motion).map((axis) => [
      axis,
      column(runs.map(({ from, to }) => counted(motion.path[axis].slice(first + from, first + to)))),
    ]),
  );
  const log = new Map<AngularAxis, Float64Array>();
  const slope = new Map<AngularAxis, Float64Array>();
  for (const { camera, log: name, sign } of naming) {
    const seen = runs.flatMap(({ part, from, to }) => {
      const integrals = part.integrals.get(name);
      return integrals ? [seenAngles(integrals, atS.subarray(from, to), clock.ratio * exposureS)] : [];
    });
    const scale = sign / clock.ratio;
    log.set(camera, column(seen.map(({ angle }) => counted(angle.map((v) => scale * v)))));
    slope.set(camera, column(seen.map(({ rate }) => counted(rate.map((v) => scale * v)))));
  }
  const frames = Int32Array.from(
    runs.flatMap(({ from, to }) =>
      Array.from({ length: to - from - 2 * trimFrames }, (_, k) => first + from + trimFrames + k),
    ),
  );
  return {
    from: runs.length > 0 ? first + runs[0].from : 0,
    to: runs.length > 0 ? first + runs[runs.length - 1].to : 0,
    coveredS: runs.reduce((sum, { from, to }) => sum + to - from, 0) / rateHz,
    frames,
    timeS: Float64Array.from(frames, (t) => timeS[t]),
    video,
    log,
    slope,
  };
}
