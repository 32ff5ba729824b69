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

/** Where an ideal point (x, y) appears through the lens; both in normalised coordinates. */
export function distort(lens: LensDistortion, x: number, y: number): ImagePoint {
  const r2 = x * x + y * y;
  const radial = 1 + r2 * (lens.k1 + r2 * (lens.k2 + r2 * lens.k3));
  return {
    x: x * radial + 2 * lens.p1 * x * y + lens.p2 * (r2 + 2 * x * x),
    y: y * radial + lens.p1 * (r2 + 2 * y * y) + 2 * lens.p2 * x * y,
  };
}

/**
 * The ideal point behind a distorted one: the inverse of `distort`, by Newton steps halved where they would not help.
 *
 * A strongly barrelled model folds over at some radius and no ideal point lies behind a point further out;
 * the best point on the fold is given then and `converged` is false. The result is always finite.
 */
export function undistort(
  lens: LensDistortion,
  x: number,
  y: number,
): ImagePoint & { readonly converged: boolean } {
  let u = x;
  let v = y;
  let at = distort(lens, u, v);
  let miss = Math.hypot(at.x - x, at.y - y);
  for (let step = 0; step < INVERSE_STEPS && miss > INVERSE_TOLERANCE; step++) {
    const r2 = u * u + v * v;
    const radial = 1 + r2 * (lens.k1 + r2 * (lens.k2 + r2 * lens.k3));
    const slope = 2 * (lens.k1 + r2 * (2 * lens.k2 + r2 * 3 * lens.k3)); // d radial / d(r2), times two
    const xx = radial + u * u * slope + 2 * lens.p1 * v + 6 * lens.p2 * u;
    const xy = u * v * slope + 2 * lens.p1 * u + 2 * lens.p2 * v;
    const yy = radial + v * v * slope + 6 * lens.p1 * v + 2 * lens.p2 * u;
    const determinant = xx * yy - xy * xy;
    if (determinant <= 0) break; // on or beyond the fold
    const du = (yy * (x - at.x) - xy * (y - at.y)) / determinant;
    const dv = (xx * (y - at.y) - xy * (x - at.x)) / determinant;
    let share = 1;
    let next = distort(lens, u + du, v + dv);
    let nextMiss = Math.hypot(next.x - x, next.y - y);
    while (!(nextMiss < miss) && share > 1e-4) {
      share /= 2;
      next = distort(lens, u + share * du, v + share * dv);
      nextMiss = Math.hypot(next.x - x, next.y - y);
    }
    if (!(nextMiss < miss)) break; // rounding floor, or the fold
    u += share * du;
    v += share * dv;
    at = next;
    miss = nextMiss;
  }
  return { x: u, y: v, converged: miss < 1e-10 };
}
