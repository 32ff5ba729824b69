/**
 * How well views of a calibration board determine focal length (px) and distortion coefficients, from what the fit left over.
 *
 * Two answers are computed and the larger one is taken, term by term. The first takes the errors of all crossings to be
 * independent. The second lets errors be alike within a view (blur, a board that is not flat, rolling shutter), and only
 * takes views to be independent of one another (K.-Y. Liang and S. Zeger, "Longitudinal data analysis using generalized
 * linear models", Biometrika 73 (1986)). Poses are eliminated view by view.
 */
import { choleskyInPlace, choleskySolveInPlace, invertSymmetric } from '../numerics/index.js';
import type { LensDistortion } from '../run/index.js';
import type { BoardCrossings } from './board-views.js';
import { crossingAt, type CalibrationBoard } from './calibration-board.js';
import type { PictureSize } from './camera-for-frame.js';
import { distort, undistort } from './lens-distortion.js';
import type { LensTerms } from './lens-terms.js';
import { rotationFromVector } from './rotation.js';

/** Where the board was in one view: rotation vector (rad) and shift (squares) from board axes to camera axes. */
export interface FittedPose {
  readonly turn: readonly [number, number, number];
  readonly shift: readonly [number, number, number];
}

/** A lens and the poses that explain some views. */
export interface FittedLens {
  /** Pixels of the views, the same for both directions. */
  readonly focalPx: number;
  readonly centreXPx: number;
  readonly centreYPx: number;
  /** Terms that were not fitted are 0. */
  readonly lens: LensDistortion;
  /** One per view. */
  readonly poses: readonly FittedPose[];
}

/** Standard deviations of a fit. */
export interface LensUncertainty {
  readonly focalPx: number;
  /** Terms that were not fitted are 0. */
  readonly lens: LensDistortion;
  /** Of the shift of a corner of the picture, px; see cornerShiftPx. */
  readonly cornerPx: number;
}

type Parameter = 'focalPx' | keyof LensDistortion;

/** Step of the derivatives, as a share of the parameter's own order of size: the error of central differences is near 1e-10. */
const STEP = 1e-5;

/** Standard deviations of a fit; null when the views do not determine it. */
export function lensUncertainty(
  board: CalibrationBoard,
  views: readonly BoardCrossings[],
  fit: FittedLens,
  terms: LensTerms,
  size: PictureSize,
): LensUncertainty | null {
  const names = parametersOf(terms);
  const n = names.length;
  const normal = new Float64Array(n * n);
  const scores: Float64Array[] = [];
  let squares = 0;
  let freedom = -n;
  for (let v = 0; v < views.length; v++) {
    const part = viewPart(board, views[v], fit, fit.poses[v], names);
    if (!part) return null;
    part.normal.forEach((value, i) => (normal[i] += value));
    scores.push(part.score);
    squares += part.squares;
    freedom += 2 * views[v].ids.length - 6;
  }
  if (freedom <= 0) return null;
  let inverse: Float64Array;
  try {
    inverse = invertSymmetric(normal, n);
  } catch {
    return null; // not positive definite: some term can be anything
  }
  const independent = inverse.map((value) => (value * squares) / freedom);
  const grouped = sandwich(inverse, scores, n);
  const corner = cornerSlopes(fit, names, size);
  const deviation = (name: Parameter): number => {
    const i = names.indexOf(name);
    return i < 0 ? 0 : Math.sqrt(Math.max(independent[i * n + i], grouped[i * n + i]));
  };
  return {
    focalPx: deviation('focalPx'),
    lens: {
      k1: deviation('k1'),
      k2: deviation('k2'),
      p1: deviation('p1'),
      p2: deviation('p2'),
      k3: deviation('k3'),
    },
    cornerPx: Math.sqrt(Math.max(quadratic(independent, corner), quadratic(grouped, corner))),
  };
}

function parametersOf(terms: LensTerms): Parameter[] {
  return [
    'focalPx',
    'k1',
    ...(terms.k2 ? (['k2'] as const) : []),
    ...(terms.decentring ? (['p1', 'p2'] as const) : []),
    ...(terms.k3 ? (['k3'] as const) : []),
  ];
}

/** The fit with one parameter moved by a step; also the length of the step. */
function moved(fit: FittedLens, name: Parameter, sign: number): { fit: FittedLens; step: number } {
  const step = name === 'focalPx' ? STEP * fit.focalPx : STEP;
  return name === 'focalPx'
    ? { fit: { ...fit, focalPx: fit.focalPx + sign * step }, step }
    : { fit: { ...fit, lens: { ...fit.lens, [name]: fit.lens[name] + sign * step } }, step };
}

function movedPose(pose: FittedPose, axis: number, sign: number): { pose: FittedPose; step: number } {
  const step = axis < 3 ? STEP : STEP * Math.hypot(...pose.shift);
  const add = (three: FittedPose['turn'], at: number): [number, number, number] => {
    const [a, b, c] = three.map((value, i) => (i === at ? value + sign * step : value));
    return [a, b, c];
  };
  return {
    pose: axis < 3 ? { ...pose, turn: add(pose.turn, axis) } : { ...pose, shift: add(pose.shift, axis - 3) },
    step,
  };
}

/** Pixels of crossings as a fit sees them, x and y in turn. */
export function seenCrossings(
  board: CalibrationBoard,
  ids: ArrayLike<number>,
  fit: Omit<FittedLens, 'poses'>,
  { turn, shift }: FittedPose,
): Float64Array {
  const r = rotationFromVector(...turn);
  const out = new Float64Array(2 * ids.length);
  for (let i = 0; i < ids.length; i++) {
    const { x, y } = crossingAt(board, ids[i]);
    const z = r[6] * x + r[7] * y + shift[2];
    const seen = distort(
      fit.lens,
      (r[0] * x + r[1] * y + shift[0]) / z,
      (r[3] * x + r[4] * y + shift[1]) / z,
    );
    out[2 * i] = fit.centreXPx + fit.focalPx * seen.x;
    out[2 * i + 1] = fit.centreYPx + fit.focalPx * seen.y;
  }
  return out;
}

/** One view's share of the normal equations of the lens, its pose eliminated; null when its pose is not determined. */
function viewPart(
  board: CalibrationBoard,
  view: BoardCrossings,
  fit: FittedLens,
  pose: FittedPose,
  names: readonly Parameter[],
): { normal: Float64Array; score: Float64Array; squares: number } | null {
  const seen = (f: FittedLens, p: FittedPose): Float64Array => seenCrossings(board, view.ids, f, p);
  const slope = (ahead: Float64Array, behind: Float64Array, step: number): Float64Array =>
    ahead.map((value, i) => (value - behind[i]) / (2 * step));
  const lensSlopes = names.map((name) => {
    const { fit: ahead, step } = moved(fit, name, 1);
    return slope(seen(ahead, pose), seen(moved(fit, name, -1).fit, pose), step);
  });
  const poseSlopes = [0, 1, 2, 3, 4, 5].map((axis) => {
    const { pose: ahead, step } = movedPose(pose, axis, 1);
    return slope(seen(fit, ahead), seen(fit, movedPose(pose, axis, -1).pose), step);
  });
  const residual = seen(fit, pose).map((value, i) => (i % 2 === 0 ? view.xPx : view.yPx)[i >> 1] - value);

  // Take out of every lens slope what a change of pose could do as well.
  const poseNormal = new Float64Array(36);
  for (let i = 0; i < 6; i++)
    for (let j = 0; j < 6; j++) poseNormal[6 * i + j] = dot(poseSlopes[i], poseSlopes[j]);
  if (!choleskyInPlace(poseNormal, 6)) return null;
  const own = lensSlopes.map((column) => {
    const share = Float64Array.from(poseSlopes, (poseColumn) => dot(poseColumn, column));
    choleskySolveInPlace(poseNormal, share, 6);
    return column.map((value, i) => value - poseSlopes.reduce((sum, p, k) => sum + share[k] * p[i], 0));
  });
  return {
    normal: Float64Array.from(own.flatMap((a) => own.map((b) => dot(a, b)))),
    score: Float64Array.from(own, (column) => dot(column, residual)),
    squares: dot(residual, residual),
  };
}

/** Covariance when only the views are independent, corrected for their finite number. */
function sandwich(inverse: Float64Array, scores: readonly Float64Array[], n: number): Float64Array {
  const views = scores.length;
  const correction = views / Math.max(1, views - 1);
  const covariance = new Float64Array(n * n);
  for (const score of scores) {
    const pull = Float64Array.from({ length: n }, (_, i) => dot(inverse.subarray(i * n, (i + 1) * n), score));
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) covariance[i * n + j] += correction * pull[i] * pull[j];
  }
  return covariance;
}

/**
 * How far the lens moves what is seen in the corner of the picture, px: positive outwards. The corner is the bottom right
 * one; the others differ by decentring alone.
 */
export function cornerShiftPx(
  { focalPx, centreXPx, centreYPx, lens }: Omit<FittedLens, 'poses'>,
  size: PictureSize,
): number {
  const x = (size.widthPx - 0.5 - centreXPx) / focalPx;
  const y = (size.heightPx - 0.5 - centreYPx) / focalPx;
  const ideal = undistort(lens, x, y);
  return focalPx * (Math.hypot(x, y) - Math.hypot(ideal.x, ideal.y));
}

/** Change of the shift of the corner with each parameter, px per unit. */
function cornerSlopes(fit: FittedLens, names: readonly Parameter[], size: PictureSize): Float64Array {
  return Float64Array.from(names, (name) => {
    const { fit: ahead, step } = moved(fit, name, 1);
    return (cornerShiftPx(ahead, size) - cornerShiftPx(moved(fit, name, -1).fit, size)) / (2 * step);
  });
}

function quadratic(matrix: Float64Array, v: Float64Array): number {
  const n = v.length;
  return v.reduce((sum, value, i) => sum + value * dot(matrix.subarray(i * n, (i + 1) * n), v), 0);
}

function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
