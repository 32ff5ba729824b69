/**
 * The unit of length: metres when the length of the camera's path or the speed of the dolly is known, else the median
 * distance of the scene.
 */
import { median, mean, standardDeviation, fourthDifferenceSmooth } from '../numerics/index.js';
import type { FrameCovariances } from './covariance.js';
import type { SceneDepth } from './types.js';

/** Chords of the path are at least this share of its extent, so that swaying on the spot adds no length. */
const SHORTEST_CHORD = 0.02;
/** Speed is measured over chords of so many seconds. */
const SPEED_CHORD_S = 0.2;
/** The dolly rolls above the first share of its usual speed, and has got up to speed at the second. */
const ROLLING = 0.5;
const UP_TO_SPEED = 0.95;

/**
 * Length of the smoothed path of the camera, the travel without the vibration, in the unit of the centres.
 *
 * Measured by chords: where the dolly stands, noise and the ringing of the smoother would otherwise add up.
 *
 * @param centres the three coordinates, evenly spaced at rateHz
 */
export function pathLength(centres: readonly Float64Array[], rateHz: number, cutoffHz: number): number {
  const smooth = centres.map((column) => fourthDifferenceSmooth(column, rateHz, cutoffHz));
  const last = smooth[0].length - 1;
  const distance = (from: number, to: number): number =>
    Math.hypot(...smooth.map((column) => column[to] - column[from]));
  let extent = 0;
  for (let t = 1; t <= last; t++) extent = Math.max(extent, distance(0, t));
  let length = 0;
  let anchor = 0;
  for (let t = 1; t <= last; t++) {
    const chord = distance(anchor, t);
    if (chord < SHORTEST_CHORD * extent && t < last) continue;
    length += chord;
    anchor = t;
  }
  return length;
}

/**
 * Speed of the smoothed path while the dolly is under way, in units of the centres per second: way over time of the
 * stretches in which it rolls, less the ramps where it gets up to speed or slows down to a stop. For a pass that rolls
 * from its first frame to its last this is way over time of the whole.
 *
 * @param centres the three coordinates, evenly spaced at rateHz
 * @returns 0 when the path has no length
 */
export function cruisingSpeed(centres: readonly Float64Array[], rateHz: number, cutoffHz: number): number {
  const smooth = centres.map((column) => fourthDifferenceSmooth(column, rateHz, cutoffHz));
  const gaps = smooth[0].length - 1;
  const half = Math.max(1, Math.round((SPEED_CHORD_S * rateHz) / 2));
  const speed = Float64Array.from({ length: gaps }, (_, t) => {
    const from = Math.max(0, t + 1 - half);
    const to = Math.min(gaps, t + half);
    return (Math.hypot(...smooth.map((column) => column[to] - column[from])) * rateHz) / (to - from);
  });
  let usual = usualSpeed(speed);
  if (!(usual > 0)) return 0;
  // Once more with the ramps out of the way.
  usual = stretchSpeed(speed, usual);
  return stretchSpeed(speed, usual);
}

/** Median speed of the frames that move at all. */
function usualSpeed(speed: Float64Array): number {
  const fastest = speed.reduce((most, v) => Math.max(most, v), 0);
  const moving = speed.filter((v) => v > 0.25 * fastest);
  return moving.length > 0 ? median(moving) : 0;
}

/** Mean speed over the stretches that roll, ramps left out; ends of the clip are no ramps. */
function stretchSpeed(speed: Float64Array, usual: number): number {
  let way = 0;
  let frames = 0;
  for (let from = 0; from < speed.length; from++) {
    if (speed[from] <= ROLLING * usual) continue;
    let to = from;
    while (to < speed.length && speed[to] > ROLLING * usual) to++;
    let begin = from;
    let end = to;
    if (from > 0) while (begin < end && speed[begin] < UP_TO_SPEED * usual) begin++;
    if (to < speed.length) while (end > begin && speed[end - 1] < UP_TO_SPEED * usual) end--;
    for (let t = begin; t < end; t++) way += speed[t];
    frames += end - begin;
    from = to;
  }
  return frames > 0 ? way / frames : usual;
}

/** Depths of the kept tracks over all frames that see them, in scene units; null when nothing was kept. */
export function sceneDepth({ inverseDepth, weights }: FrameCovariances): SceneDepth | null {
  const kept = inverseDepth.filter((_, o) => weights[o] > 0.25);
  if (kept.length < 2) return null;
  const middle = median(kept);
  if (!(middle > 0)) return null;
  return { median: 1 / middle, meanInverse: mean(kept), sdInverse: standardDeviation(kept) };
}

/** The same depths after lengths were multiplied by `factor`. */
export function scaleDepth(depth: SceneDepth, factor: number): SceneDepth {
  return {
    median: depth.median * factor,
    meanInverse: depth.meanInverse / factor,
    sdInverse: depth.sdInverse / factor,
  };
}
