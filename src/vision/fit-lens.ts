/**
 * Fits focal length and lens distortion to views of a calibration board (Z. Zhang, "A flexible new technique for camera
 * calibration", PAMI 22 (2000), as OpenCV carries it out): least squares of the reprojection error over lens and all poses.
 */
import {
  crossingAt,
  type BoardCrossings,
  type CalibrationBoard,
  type FittedLens,
  type LensTerms,
} from '../optics/index.js';
import type { LensDistortion } from '../run/index.js';
import { boardEngine, type BoardEngine, type MatVector, type NumberMat } from './board-engine.js';
import type { Engine, Mat } from './engine.js';
import { withMats, type Keep } from './scope.js';

/** What to fit. */
export interface LensFitOptions {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly terms: LensTerms;
  /** True to fit the optical centre too; else it stays in the middle of the frame. */
  readonly freeCentre?: boolean;
}

/** A lens and the poses that explain the views best. */
export interface LensFit extends FittedLens {
  /** The engine's standard deviations, for errors that are independent from crossing to crossing. */
  readonly deviations: { readonly focalPx: number } & LensDistortion;
  /** RMS distance between the crossings seen and where the fit puts them, px: all, and view by view. */
  readonly rmsPx: number;
  readonly viewRmsPx: Float64Array;
}

const EITHER_LIMIT = 3;
const MOST_STEPS = 100;
const SETTLED = 1e-10;

/** See `Vision.fitLens`. */
export function fitLens(
  plain: Engine,
  board: CalibrationBoard,
  views: readonly BoardCrossings[],
  options: LensFitOptions,
): LensFit {
  if (views.length === 0) throw new RangeError('views must hold at least one view, got none');
  if (views.some(({ ids }) => ids.length < 4)) throw new RangeError('each view needs at least 4 crossings');
  const engine = boardEngine(plain);
  return withMats(engine, (keep) => {
    const places = keep(new engine.MatVector());
    const seen = keep(new engine.MatVector());
    for (const view of views) addView(engine, board, view, places, seen);
    const matrix = numbers(engine, keep, [1, 0, 0, 0, 1, 0, 0, 0, 1], 3);
    const coefficients = numbers(engine, keep, [0, 0, 0, 0, 0], 1);
    const turns = keep(new engine.MatVector());
    const shifts = keep(new engine.MatVector());
    const deviations = keep(new engine.Mat()) as NumberMat;
    const errors = keep(new engine.Mat()) as NumberMat;
    const rmsPx = engine.calibrateCameraExtended(
      places,
      seen,
      new engine.Size(options.widthPx, options.heightPx),
      matrix,
      coefficients,
      turns,
      shifts,
      deviations,
      keep(new engine.Mat()),
      errors,
      flagsOf(engine, options),
      new engine.TermCriteria(EITHER_LIMIT, MOST_STEPS, SETTLED),
    );
    const m = matrix.data64F;
    const d = deviations.data64F;
    return {
      focalPx: m[0],
      centreXPx: m[2],
      centreYPx: m[5],
      lens: lensOf(coefficients.data64F, 0),
      deviations: { focalPx: d[1], ...lensOf(d, 4) },
      poses: views.map((_, i) => ({ turn: threeOf(turns, i), shift: threeOf(shifts, i) })),
      rmsPx,
      viewRmsPx: errors.data64F.slice(0, views.length),
    };
  });
}

function flagsOf(engine: BoardEngine, { terms, freeCentre }: LensFitOptions): number {
  return (
    engine.CALIB_FIX_ASPECT_RATIO |
    (freeCentre ? 0 : engine.CALIB_FIX_PRINCIPAL_POINT) |
    (terms.k2 ? 0 : engine.CALIB_FIX_K2) |
    (terms.k3 ? 0 : engine.CALIB_FIX_K3) |
    (terms.decentring ? 0 : engine.CALIB_ZERO_TANGENT_DIST)
  );
}

/** The engine's order is k1, k2, p1, p2, k3. */
function lensOf(values: ArrayLike<number>, from: number): LensDistortion {
  return {
    k1: values[from],
    k2: values[from + 1],
    p1: values[from + 2],
    p2: values[from + 3],
    k3: values[from + 4],
  };
}

function addView(
  engine: BoardEngine,
  board: CalibrationBoard,
  { ids, xPx, yPx }: BoardCrossings,
  places: MatVector,
  seen: MatVector,
): void {
  withMats(engine, (keep) => {
    const place = keep(new engine.Mat(ids.length, 1, engine.CV_32FC3));
    const pixel = keep(new engine.Mat(ids.length, 1, engine.CV_32FC2));
    ids.forEach((id, i) => {
      const { x, y } = crossingAt(board, id);
      place.data32F.set([x, y, 0], 3 * i);
      pixel.data32F.set([xPx[i], yPx[i]], 2 * i);
    });
    // The list takes its own hold of the data.
    places.push_back(place);
    seen.push_back(pixel);
  });
}

function numbers(engine: BoardEngine, keep: Keep, values: readonly number[], rows: number): NumberMat {
  const mat = keep(new engine.Mat(rows, values.length / rows, engine.CV_64F)) as NumberMat;
  mat.data64F.set(values);
  return mat;
}

function threeOf(list: MatVector, index: number): [number, number, number] {
  const mat: Mat = list.get(index);
  try {
    const [x, y, z] = (mat as NumberMat).data64F;
    return [x, y, z];
  } finally {
    mat.delete();
  }
}
