/** Simulates a pass, splits its motion and scores it against the truth: what every acceptance test does. */
import { poseSeries, splitMotion, vibrationOf, type Motion } from '../../../src/motion/index.js';
import { AXES, type Axis, type SixAxes } from '../../../src/run/index.js';
import { score, type AxisScore } from './score.js';
import { simulatePass, type PassOptions, type SimulatedPass } from './simulated-tracks.js';

/** A pass, what was measured of it, and how well. */
export interface MeasuredPass<P extends SimulatedPass = SimulatedPass> {
  readonly pass: P;
  readonly motion: Motion;
  readonly scores: Record<Axis, AxisScore>;
}

/** Measures a simulated pass: travel known, no coded pictures. */
export function measureOn<P extends SimulatedPass>(pass: P): MeasuredPass<P> {
  const travelM = pass.travelM > 0 ? pass.travelM : undefined;
  const motion = splitMotion(pass.table, pass.camera, { travelM, interCoded: false });
  return { pass, motion, scores: score(motion, pass) };
}

/** Simulates and measures. */
export function measurePass(options: Partial<PassOptions>): MeasuredPass {
  return measureOn(simulatePass(options));
}

/** True vibration in the band of the measured one, ends cut off. */
export function trueVibration({ pass, motion }: MeasuredPass): SixAxes {
  const path = poseSeries(pass.rotations, pass.centres);
  return cutEnds(vibrationOf(path, motion.rateHz, motion.bandHz[0]).vibration, motion);
}

/** Measured vibration, ends cut off. */
export function measuredVibration({ motion }: MeasuredPass): SixAxes {
  return cutEnds(motion.vibration, motion);
}

function cutEnds(series: SixAxes, { trimFrames }: Motion): SixAxes {
  return Object.fromEntries(
    AXES.map((axis) => [axis, series[axis].subarray(trimFrames, series[axis].length - trimFrames)]),
  ) as unknown as SixAxes;
}

/**
 * Slope of the false motion on one axis over the true motion on another: the part of an error that goes along with
 * something else, which no length of clip averages away.
 */
export function leak(measured: MeasuredPass, from: Axis, to: Axis): number {
  const truth = trueVibration(measured);
  const cause = truth[from];
  const error = measuredVibration(measured)[to].map((v, t) => v - truth[to][t]);
  return dot(error, cause) / dot(cause, cause);
}

function dot(a: Float64Array, b: Float64Array): number {
  return a.reduce((sum, v, t) => sum + v * b[t], 0);
}
