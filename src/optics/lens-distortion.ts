/**
 * Brown-Conrady lens distortion of normalised image points (image coordinates divided by the focal length, no unit).
 *
 * Radial k1, k2, k3 and decentring p1, p2, in the order and sign in which OpenCV writes them:
 * Brown, "Decentering distortion of lenses", Photogrammetric Engineering 32 (1966).
 */
import type { LensDistortion } from '../run/index.js';

/** A point in normalised image coordinates, x right, y down. */
export interface ImagePoint {
  readonly x: number;
  readonly y: number;
}

/** Residual at which the inverse stops, in units of the focal length: far below any pixel. */
const INVERSE_TOLERANCE = 1e-13;
const INVERSE_STEPS = 60;
/** A Newton step that helps only when shorter than this share of itself ends the search. */
const LEAST_SHARE = 1e-9;

/** Where an ideal point (x, y) appears through the lens; both in normalised coordinates. */
export function distort(lens: LensDistortion, x: number, y: number): ImagePoint {
  const r2 = x * x + y * y;
  const radial = 1 + r2 * (lens.k1 + r2 * (lens.k2 + r2 * lens.k3));
  return {
    x: x * radial + 2 * lens.p1 * x * y + lens.p2 * (r2 + 2 * x * x),
    y: y * radial + lens.p1 * (r2 + 2 * y * y) + 2 * lens.p2 * x * y,
  };
}

/** The symmetric 2x2 derivative of `distort`: d x'/d x, d x'/d y (= d y'/d x), d y'/d y. */
function slopes(lens: LensDistortion, x: number, y: number): readonly [number, number, number] {
  const r2 = x * x + y * y;
  const radial = 1 + r2 * (lens.k1 + r2 * (lens.k2 + r2 * lens.k3));
  const growth = 2 * (lens.k1 + r2 * (2 * lens.k2 + r2 * 3 * lens.k3)); // twice d radial / d r2
  return [
    radial + x * x * growth + 2 * lens.p1 * y + 6 * lens.p2 * x,
    x * y * growth + 2 * lens.p1 * x + 2 * lens.p2 * y,
    radial + y * y * growth + 6 * lens.p1 * y + 2 * lens.p2 * x,
  ];
}

/**
 * The ideal point behind a distorted one: the inverse of `distort`, by Newton steps halved where they would not help.
 *
 * A strongly barrelled model folds over at some radius and no ideal point lies behind a point further out;
 * a point close to the fold is given then and `converged` is false. The result is always finite.
 */
export function undistort(
  lens: LensDistortion,
  x: number,
  y: number,
): ImagePoint & { readonly converged: boolean } {
  const missAt = (u: number, v: number): number => {
    const seen = distort(lens, u, v);
    return Math.hypot(seen.x - x, seen.y - y);
  };
  const beforeFold = (u: number, v: number): boolean => {
    const [xx, xy, yy] = slopes(lens, u, v);
    return xx > 0 && xx * yy > xy * xy;
  };
  let u = x;
  let v = y;
  // Start on the near side of the fold: behind it lies a second, mirrored solution.
  while (!beforeFold(u, v) && Math.hypot(u, v) > 1e-6) {
    u *= 0.8;
    v *= 0.8;
  }
  let miss = missAt(u, v);
  for (let step = 0; step < INVERSE_STEPS && miss > INVERSE_TOLERANCE; step++) {
    const seen = distort(lens, u, v);
    const [xx, xy, yy] = slopes(lens, u, v);
    const determinant = xx * yy - xy * xy;
    const du = (yy * (x - seen.x) - xy * (y - seen.y)) / determinant;
    const dv = (xx * (y - seen.y) - xy * (x - seen.x)) / determinant;
    let share = 1;
    while (
      share > LEAST_SHARE &&
      !(beforeFold(u + share * du, v + share * dv) && missAt(u + share * du, v + share * dv) < miss)
    ) {
      share /= 2;
    }
    if (share <= LEAST_SHARE) break; // rounding floor, or the fold
    u += share * du;
    v += share * dv;
    miss = missAt(u, v);
  }
  return { x: u, y: v, converged: miss < 1e-10 };
}

/** Steps in which the radius is looked through. */
const RADIUS_STEPS = 200;

/**
 * True when every place up to `seenRadius` from the middle (over the focal length) is seen from one ideal place only: the
 * radial part grows all the way. Coefficients of another lens, or with a wrong sign, fold the corners of the picture over.
 */
export function isOneToOne(lens: LensDistortion, seenRadius: number): boolean {
  const step = seenRadius / RADIUS_STEPS;
  let before = 0;
  for (let i = 1; i <= 20 * RADIUS_STEPS; i++) {
    const r2 = (i * step) ** 2;
    const seen = i * step * (1 + r2 * (lens.k1 + r2 * (lens.k2 + r2 * lens.k3)));
    if (!(seen > before)) return false;
    if (seen >= seenRadius) return true;
    before = seen;
  }
  return false;
}
