/**
 * The unit of length: metres when the length of the camera's path is known, else the median distance of the scene.
 */
import { median, mean, standardDeviation, fourthDifferenceSmooth } from '../numerics/index.js';
import type { FrameCovariances } from './covariance.js';
import type { SceneDepth } from './types.js';

/** Chords of the path are at least this share of its extent, so that swaying on the spot adds no length. */
const SHORTEST_CHORD = 0.02;

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
