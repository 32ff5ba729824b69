/** The video's side of a comparison with a motion log: vibration of the turning axes in rad, and its noise. */
import { ANGULAR_AXES, type AngularAxis } from '../../run/index.js';
import type { Motion } from '../types.js';

/** The part of a Motion that a log is compared with. */
export type ComparedMotion = Pick<
  Motion,
  'timeS' | 'rateHz' | 'path' | 'vibration' | 'axes' | 'bandHz' | 'trimFrames' | 'separation'
>;

/** Turning axes that the clip could show. */
export function seenAxes(motion: ComparedMotion): AngularAxis[] {
  return ANGULAR_AXES.filter((axis) => motion.axes[axis].status !== 'notObservable');
}

/** One-sided density of the video's noise on an axis, rad^2/Hz: its floor spread evenly over the band. */
export function videoNoisePsd(motion: ComparedMotion, axis: AngularAxis): number {
  const [lowHz, highHz] = motion.bandHz;
  return motion.axes[axis].floor ** 2 / (highHz - lowHz);
}

/** The offset must leave this much of the clip covered: share and seconds. */
const LEAST_COVERED = 0.5;
const LEAST_COVERED_S = 3;

/** Seconds of a clip that a log must cover: half of it, and 3 s. */
export function leastCoveredS(clipS: number): number {
  return Math.max(LEAST_COVERED * clipS, LEAST_COVERED_S);
}

/** Sum of the products of two columns. */
export function dot(a: Readonly<Float64Array>, b: Readonly<Float64Array>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
