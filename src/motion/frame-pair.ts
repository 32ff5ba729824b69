/**
 * What two frames say without any depth: the rotation that best explains their shared tracks, what it leaves over
 * (parallax), and the small move that explains them if all were equally far; normalised image units, radians.
 */
import { median, solveSymmetric } from '../numerics/index.js';
import { frameJacobian } from './projection.js';
import { observationWeight } from './robust-weights.js';
import { turn } from './rotation-steps.js';
import type { SharedTracks } from './observations.js';

/** Median length of a 2-D normal residual of unit sigma. */
const PLANE_NORMAL_MEDIAN = 1.1774;

/** Rotation from the first frame's axes to the second's, and the robust residual per axis. */
export interface PairRotation {
  readonly rotation: Float64Array;
  readonly scale: number;
}

/** Fits a rotation alone, by Gauss-Newton with Geman-McClure weights at the residuals' own scale. */
export function fitPairRotation(pair: SharedTracks): PairRotation {
  const rotation = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1);
  const fit = makePairFit(pair.track.length);
  const unknowns = [0, 1, 2];
  let scale = 0;
  for (let iteration = 0; iteration < 15; iteration++) {
    for (let k = 0; k < fit.count; k++) projectRotated(pair, rotation, k, 0, fit);
    scale = fit.scale();
    const step = fit.solve(unknowns, scale);
    turn(rotation, 0, step[0], step[1], step[2]);
    if (Math.max(Math.abs(step[0]), Math.abs(step[1]), Math.abs(step[2])) < 1e-9) break;
  }
  return { rotation, scale };
}

/**
 * Roll and displacement (right, down, forward) of the camera between the frames if every track had inverse depth 1
 * and the camera neither panned nor tilted: a first guess that a flat scene cannot spoil.
 */
export function fitPairMove(pair: SharedTracks): { rollW: number; move: [number, number, number] } {
  const fit = makePairFit(pair.track.length);
  const unknowns = [2, 3, 4, 5];
  const identity = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1);
  for (let k = 0; k < fit.count; k++) projectRotated(pair, identity, k, 1, fit);
  const startX = fit.residualX.slice();
  const startY = fit.residualY.slice();
  let step = fit.solve(unknowns, Infinity);
  const rowX = new Float64Array(6);
  const rowY = new Float64Array(6);
  for (let iteration = 0; iteration < 6; iteration++) {
    for (let k = 0; k < fit.count; k++) {
      frameJacobian(fit.x[k], fit.y[k], 1, rowX, rowY);
      fit.residualX[k] = startX[k];
      fit.residualY[k] = startY[k];
      unknowns.forEach((u, j) => {
        fit.residualX[k] -= rowX[u] * step[j];
        fit.residualY[k] -= rowY[u] * step[j];
      });
    }
    const change = fit.solve(unknowns, fit.scale());
    step = step.map((value, j) => value + change[j]);
  }
  return { rollW: step[0], move: [step[1], step[2], step[3]] };
}

/** Residuals of one pair at its present pose, and the weighted step that lowers them. */
interface PairFit {
  readonly count: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly inverseDepth: Float64Array;
  readonly residualX: Float64Array;
  readonly residualY: Float64Array;
  scale(): number;
  solve(unknowns: readonly number[], sigma: number): Float64Array;
}

function makePairFit(count: number): PairFit {
  const fit = {
    count,
    x: new Float64Array(count),
    y: new Float64Array(count),
    inverseDepth: new Float64Array(count),
    residualX: new Float64Array(count),
    residualY: new Float64Array(count),
  };
  const lengths = new Float64Array(count);
  return {
    ...fit,
    scale: () => {
      for (let k = 0; k < count; k++) lengths[k] = Math.hypot(fit.residualX[k], fit.residualY[k]);
      return count > 0 ? median(lengths) / PLANE_NORMAL_MEDIAN : 0;
    },
    solve: (unknowns, sigma) => poseStep(fit, unknowns, sigma),
  };
}

/** Points with residuals, as the pose steps of pairs and of single frames need them. */
export interface PoseResiduals {
  readonly count: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly inverseDepth: Float64Array;
  readonly residualX: Float64Array;
  readonly residualY: Float64Array;
}

/**
 * One weighted least-squares step over some of the six pose unknowns (0..2 turn, 3..5 displacement, camera axes).
 *
 * @param sigma noise per axis for Geman-McClure weights; Infinity weighs all alike; 0 is taken as tiny
 */
export function poseStep(data: PoseResiduals, unknowns: readonly number[], sigma: number): Float64Array {
  const n = unknowns.length;
  const matrix = new Float64Array(n * n);
  const right = new Float64Array(n);
  const rowX = new Float64Array(6);
  const rowY = new Float64Array(6);
  const noise = Math.max(sigma, 1e-12);
  for (let k = 0; k < data.count; k++) {
    const rx = data.residualX[k];
    const ry = data.residualY[k];
    const w = observationWeight(rx * rx + ry * ry, noise, 'gemanMcClure');
    frameJacobian(data.x[k], data.y[k], data.inverseDepth[k], rowX, rowY);
    for (let r = 0; r < n; r++) {
      const fx = w * rowX[unknowns[r]];
      const fy = w * rowY[unknowns[r]];
      right[r] += fx * rx + fy * ry;
      for (let c = 0; c <= r; c++) matrix[n * r + c] += fx * rowX[unknowns[c]] + fy * rowY[unknowns[c]];
    }
  }
  let trace = 0;
  for (let r = 0; r < n; r++) trace += matrix[(n + 1) * r];
  for (let r = 0; r < n; r++) matrix[(n + 1) * r] += 1e-9 * matrix[(n + 1) * r] + 1e-12 * trace + 1e-30;
  return solveSymmetric(matrix, right, n);
}

function projectRotated(
  pair: SharedTracks,
  rotation: Float64Array,
  k: number,
  inverseDepth: number,
  fit: PairFit,
): void {
  const x = pair.x1[k];
  const y = pair.y1[k];
  const z = 1 / Math.max(rotation[6] * x + rotation[7] * y + rotation[8], 0.02);
  fit.x[k] = (rotation[0] * x + rotation[1] * y + rotation[2]) * z;
  fit.y[k] = (rotation[3] * x + rotation[4] * y + rotation[5]) * z;
  fit.inverseDepth[k] = inverseDepth;
  fit.residualX[k] = pair.x2[k] - fit.x[k];
  fit.residualY[k] = pair.y2[k] - fit.y[k];
}
