/**
 * Possible moves of the camera between two frames, from their shared tracks alone, with no depth known and no start
 * given: Gauss-Newton on the Sampson error (Hartley & Zisserman, from memory) from many small samples.
 *
 * x2^T [t]x R x1 = 0 with R the turn from the first to the second frame and t the unit direction of -R C2;
 * normalised image units.
 */
import { gaussianRandom, median, seededRandom, solveSymmetric } from '../numerics/index.js';
import type { SharedTracks } from './observations.js';
import { turn } from './rotation-steps.js';
import { sampsonError, tangentPlane, unit } from './sampson.js';

/** A turn and a direction, and how well they explain the pair: mean of min((e / sigma)^2, 9). */
export interface TwoViewMove {
  readonly rotation: Float64Array;
  readonly direction: [number, number, number];
  readonly cost: number;
}

const SAMPLES = 100;
const SAMPLE_TRACKS = 6;
const REFINED = 12;
/** Directions nearer than this (cosine, 14 degrees) count as one. */
const SAME_DIRECTION = 0.97;

/**
 * The best distinct explanations of a pair, best first.
 *
 * Samples of six tracks find the right valley even when a walking subject holds a third of the tracks; starts on all
 * tracks at once do not.
 *
 * @param rotation the rotation-only fit, where every sample starts
 * @param sigma noise per axis
 * @param wanted at most this many come back
 */
export function twoViewMoves(
  pair: SharedTracks,
  rotation: Float64Array,
  sigma: number,
  wanted: number,
  seed: number,
): TwoViewMove[] {
  const random = seededRandom(seed);
  const normal = gaussianRandom(random);
  const total = pair.track.length;
  const everything = Int32Array.from({ length: total }, (_, k) => k);
  const sample = new Int32Array(Math.min(SAMPLE_TRACKS, total));
  const found: TwoViewMove[] = [];
  for (let s = 0; s < SAMPLES; s++) {
    drawSample(sample, total, random);
    for (let axis = 0; axis < 3; axis++) {
      const direction: [number, number, number] = [0.05 * normal(), 0.05 * normal(), 0.05 * normal()];
      direction[axis] += 1;
      const start = { rotation: rotation.slice(), direction: unit(direction), cost: Infinity };
      const move = refine(pair, sample, start, sigma, 6, false);
      found.push({ ...move, cost: sampsonCost(pair, everything, move, 3 * sigma) });
    }
  }
  found.sort((a, b) => a.cost - b.cost);
  const refined = found.slice(0, REFINED).map((start) => {
    let move = start;
    for (const factor of [4, 2, 1]) move = refine(pair, everything, move, sigma * factor, 6, true);
    return { ...move, cost: sampsonCost(pair, everything, move, sigma) };
  });
  refined.sort((a, b) => a.cost - b.cost);
  const distinct: TwoViewMove[] = [];
  for (const move of refined) {
    const isNew = distinct.every((d) => Math.abs(dot(d.direction, move.direction)) < SAME_DIRECTION);
    if (isNew && distinct.length < wanted) distinct.push(move);
  }
  return distinct.map((move) => untwist(refine(pair, everything, move, sigma, 12, true), rotation));
}

/**
 * The epipolar geometry cannot tell a move from the same move with half a turn about its direction (the twisted pair);
 * the one nearer to the rotation-only fit is meant.
 */
function untwist(move: TwoViewMove, near: Float64Array): TwoViewMove {
  const [tx, ty, tz] = move.direction.map((value) => value * Math.PI);
  const twisted = move.rotation.slice();
  turn(twisted, 0, tx, ty, tz);
  // The trace of near^T R grows as the angle between the two falls.
  const closeness = (r: Float64Array): number => r.reduce((sum, value, k) => sum + value * near[k], 0);
  return closeness(twisted) > closeness(move.rotation) ? { ...move, rotation: twisted } : move;
}

/**
 * Inverse depth of each track seen from the first frame, in units of 1 / |t|, by least squares in the second image.
 */
export function triangulate(pair: SharedTracks, move: TwoViewMove): Float64Array {
  const r = move.rotation;
  const [tx, ty, tz] = move.direction;
  return Float64Array.from(pair.x1, (x1, k) => {
    const y1 = pair.y1[k];
    const h3 = r[6] * x1 + r[7] * y1 + r[8];
    const ax = r[0] * x1 + r[1] * y1 + r[2] - pair.x2[k] * h3;
    const ay = r[3] * x1 + r[4] * y1 + r[5] - pair.y2[k] * h3;
    const bx = tx - pair.x2[k] * tz;
    const by = ty - pair.y2[k] * tz;
    return -(ax * bx + ay * by) / Math.max(bx * bx + by * by, 1e-18);
  });
}

/** Gauss-Newton on some tracks of a pair; robust by Geman-McClure at sigma or at the residuals' own larger scale. */
function refine(
  pair: SharedTracks,
  tracks: Int32Array,
  start: TwoViewMove,
  sigma: number,
  iterations: number,
  robust: boolean,
): TwoViewMove {
  const rotation = start.rotation.slice();
  let t = start.direction;
  const errors = new Float64Array(tracks.length);
  const sizes = new Float64Array(tracks.length);
  const gradients = new Float64Array(5 * tracks.length);
  const gradient = new Float64Array(5);
  const matrix = new Float64Array(25);
  const right = new Float64Array(5);
  for (let iteration = 0; iteration < iterations; iteration++) {
    const tangents = tangentPlane(t);
    for (let k = 0; k < tracks.length; k++) {
      errors[k] = sampsonError(pair, tracks[k], rotation, t, tangents, gradient);
      sizes[k] = Math.abs(errors[k]);
      gradients.set(gradient, 5 * k);
    }
    const scale = robust ? Math.max(median(sizes) / 0.6745, sigma) : Infinity;
    matrix.fill(0);
    right.fill(0);
    for (let k = 0; k < tracks.length; k++) {
      const e = errors[k] / scale / 3;
      const w = 1 / (1 + e * e) ** 2;
      for (let r = 0; r < 5; r++) {
        const g = w * gradients[5 * k + r];
        right[r] -= g * errors[k];
        for (let c = 0; c <= r; c++) matrix[5 * r + c] += g * gradients[5 * k + c];
      }
    }
    const trace = matrix[0] + matrix[6] + matrix[12] + matrix[18] + matrix[24];
    for (let r = 0; r < 5; r++) matrix[6 * r] += 1e-4 * matrix[6 * r] + 1e-9 * trace + 1e-30;
    const step = solveSymmetric(matrix, right, 5);
    const along = [clampHalf(step[3]), clampHalf(step[4])];
    turn(rotation, 0, step[0], step[1], step[2]);
    t = unit([
      t[0] + along[0] * tangents[0] + along[1] * tangents[3],
      t[1] + along[0] * tangents[1] + along[1] * tangents[4],
      t[2] + along[0] * tangents[2] + along[1] * tangents[5],
    ]);
    if (step.every((value) => Math.abs(value) < 1e-7)) break;
  }
  return { rotation, direction: t, cost: start.cost };
}

function sampsonCost(pair: SharedTracks, tracks: Int32Array, move: TwoViewMove, sigma: number): number {
  const none = new Float64Array(6);
  let sum = 0;
  for (const k of tracks) {
    const e = sampsonError(pair, k, move.rotation, move.direction, none, null) / sigma;
    sum += Math.min(e * e, 9);
  }
  return sum / Math.max(tracks.length, 1);
}

/** Draws distinct track numbers below `total`. */
function drawSample(sample: Int32Array, total: number, random: () => number): void {
  for (let k = 0; k < sample.length; k++) {
    let candidate: number;
    do candidate = Math.floor(random() * total);
    while (sample.indexOf(candidate) >= 0 && sample.indexOf(candidate) < k);
    sample[k] = candidate;
  }
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

const clampHalf = (value: number): number => Math.max(-0.5, Math.min(0.5, value));
