/**
 * Both sides of a comparison on the same frames: the vibration of the pictures and that of a motion log sampled as the
 * camera saw it, rad, once it is said how the log's clock follows from the clip's.
 */
import { fourthDifferenceSmooth } from '../../numerics/index.js';
import type { AngularAxis } from '../../run/index.js';
import { seenAngles, type AngleIntegrals } from './angles.js';
import type { AxisNaming } from './naming.js';
import { seenAxes, type ComparedMotion } from './video.js';

/** How the log's clock follows from the clip's: log = middle + offset + ratio * (clip - middle). */
export interface LogClock {
  /** The log's clock minus the clip's at the middle of the clip, seconds. */
  readonly offsetS: number;
  /** Seconds of the log in a second of the clip. */
  readonly ratio: number;
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
