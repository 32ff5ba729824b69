/**
 * How smooth a path of angles is: the weighted sum of its absolute first, second and third differences, in pixels of
 * picture motion, and how much of the time it stands, moves evenly, or changes its speed evenly.
 *
 * On an even movement the sum of first differences does not depend on the frame rate, that of second and third differences
 * falls with the rate and its square. Their weights are those of a path at 30 frames per second and are raised with the
 * rate, so that the same move filmed at another rate has the same smoothest path.
 */
import { emptyRows, type SparseRows } from '../../numerics/index.js';
import type { Camera } from '../../optics/index.js';
import { ANGULAR_AXES } from '../../run/index.js';
import type { AngularVibration } from '../types.js';
import { pxPerRad } from './window-limits.js';

/** Weights of the first, second and third derivative. */
export interface PathWeights {
  readonly first: number;
  readonly second: number;
  readonly third: number;
}

/** As public re-implementations of Grundmann, Kwatra and Essa 2011 quote the paper. */
export const PATH_WEIGHTS: PathWeights = { first: 10, second: 1, third: 100 };
/** Frames per second at which the weights hold; the paper speaks of ordinary video. Own choice. */
export const WEIGHTS_RATE_HZ = 30;

const DIFFERENCES = [
  [-1, 1],
  [1, -2, 1],
  [-1, 3, -3, 1],
] as const;

/**
 * The differences of a path as the terms of a least-absolute programme: its unknowns are corrections in px, frame by frame
 * pan, tilt and roll, and path minus correction is made smooth.
 *
 * @param path radians, columns of length n
 */
export function smoothnessTerms(
  path: AngularVibration,
  camera: Camera,
  rateHz: number,
  weights: PathWeights,
): SparseRows {
  const n = path.pan.length;
  const scale = pxPerRad(camera);
  const orders = [1, 2, 3].filter((order) => n > order);
  const rows = emptyRows(3 * orders.reduce((sum, order) => sum + n - order, 0), 4);
  let row = 0;
  for (const order of orders) {
    const taps = DIFFERENCES[order - 1];
    const weight = weightAt(rateHz, weights, order);
    for (let t = 0; t + order < n; t++) {
      for (let a = 0; a < 3; a++, row++) {
        const column = path[ANGULAR_AXES[a]];
        for (let k = 0; k < 4; k++) rows.columns[4 * row + k] = 3 * (t + Math.min(k, order)) + a;
        for (let k = 0; k <= order; k++) {
          rows.coefficients[4 * row + k] = weight * taps[k];
          // Against the first sample: a path far from zero keeps its digits.
          rows.right[row] += weight * taps[k] * scale[a] * (column[t + k] - column[t]);
        }
      }
    }
  }
  return rows;
}

/** Weighted sum of the absolute differences of a path, px at 30 frames per second; 0 for a path of one frame. */
export function pathRoughnessPx(
  path: AngularVibration,
  camera: Camera,
  rateHz: number,
  weights: PathWeights = PATH_WEIGHTS,
): number {
  return smoothnessTerms(path, camera, rateHz, weights).right.reduce((sum, d) => sum + Math.abs(d), 0);
}

function weightAt(rateHz: number, { first, second, third }: PathWeights, order: number): number {
  return [first, second, third][order - 1] * (rateHz / WEIGHTS_RATE_HZ) ** (order - 1);
}

/** Shares of the frames of a path, 0..1: what the camera does there on all three axes. */
export interface PathStretches {
  /** It stands. */
  readonly still: number;
  /** It moves, at one speed. */
  readonly even: number;
  /** Its speed changes evenly. */
  readonly accelerated: number;
  /** Where one stretch passes into another, or where the window leaves no choice. */
  readonly other: number;
}

/** Speeds (px a frame) and their changes below this are none: a hundredth of what an eye may see. */
const NONE_PX = 2e-3;

/**
 * How much of a path is still, even and evenly accelerated. The first three frames count as the fourth does; a path of
 * fewer than four frames is judged by the derivatives that it has.
 */
export function pathStretches(path: AngularVibration, camera: Camera): PathStretches {
  const n = path.pan.length;
  const scale = pxPerRad(camera);
  const counts = [0, 0, 0, 0];
  for (let t = 0; t < n; t++) {
    const at = Math.min(Math.max(t, 3), n - 1);
    // The lowest order of difference that vanishes on all axes.
    let kind = 0;
    for (; kind < 3 && kind < at; kind++) if (vanishes(path, scale, at, kind + 1)) break;
    counts[kind]++;
  }
  const [still, even, accelerated, other] = counts.map((count) => (n > 0 ? count / n : 0));
  return { still, even, accelerated, other };
}

function vanishes(path: AngularVibration, scale: readonly number[], at: number, order: number): boolean {
  const taps = DIFFERENCES[order - 1];
  return ANGULAR_AXES.every((axis, a) => {
    let difference = 0;
    for (let k = 0; k <= order; k++)
      difference += taps[k] * scale[a] * (path[axis][at - order + k] - path[axis][at]);
    return Math.abs(difference) < NONE_PX;
  });
}
