/**
 * How far a pair of image points is from agreeing with a move of the camera, to first order in image distance
 * (Sampson error; Hartley & Zisserman, from memory), with its derivatives; normalised image units.
 *
 * x2^T [t]x R x1 = 0 holds for every point that stands still; its depth does not enter.
 */
import type { SharedTracks } from './observations.js';

/**
 * Sampson error of track k and, when `gradient` is given, its derivatives by the turn (3) and by the direction along
 * two tangents (2).
 */
export function sampsonError(
  pair: SharedTracks,
  k: number,
  rotation: Float64Array,
  t: readonly number[],
  tangents: Float64Array,
  gradient: Float64Array | null,
): number {
  const r = rotation;
  const x1 = pair.x1[k];
  const y1 = pair.y1[k];
  const x2 = pair.x2[k];
  const y2 = pair.y2[k];
  // a = R h1, b = h2 x t; the error is h2 . (t x a) = b . a.
  const a0 = r[0] * x1 + r[1] * y1 + r[2];
  const a1 = r[3] * x1 + r[4] * y1 + r[5];
  const a2 = r[6] * x1 + r[7] * y1 + r[8];
  const b0 = y2 * t[2] - t[1];
  const b1 = t[0] - x2 * t[2];
  const b2 = x2 * t[1] - y2 * t[0];
  const e = b0 * a0 + b1 * a1 + b2 * a2;
  // Epipolar lines: l2 = t x a in the second image, l1 = R^T b in the first; first two coordinates of each.
  const l2x = t[1] * a2 - t[2] * a1;
  const l2y = t[2] * a0 - t[0] * a2;
  const l1x = r[0] * b0 + r[3] * b1 + r[6] * b2;
  const l1y = r[1] * b0 + r[4] * b1 + r[7] * b2;
  const inverse = 1 / Math.sqrt(l2x * l2x + l2y * l2y + l1x * l1x + l1y * l1y + 1e-30);
  const error = e * inverse;
  if (!gradient) return error;
  for (let u = 0; u < 5; u++) {
    // c = change of a, d = change of b, s = change of t.
    let c0 = 0;
    let c1 = 0;
    let c2 = 0;
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    if (u === 0) {
      c1 = -a2;
      c2 = a1;
    } else if (u === 1) {
      c0 = a2;
      c2 = -a0;
    } else if (u === 2) {
      c0 = -a1;
      c1 = a0;
    } else {
      s0 = tangents[3 * (u - 3)];
      s1 = tangents[3 * (u - 3) + 1];
      s2 = tangents[3 * (u - 3) + 2];
    }
    const d0 = y2 * s2 - s1;
    const d1 = s0 - x2 * s2;
    const d2 = x2 * s1 - y2 * s0;
    const de = d0 * a0 + d1 * a1 + d2 * a2 + b0 * c0 + b1 * c1 + b2 * c2;
    const dl2x = s1 * a2 - s2 * a1 + t[1] * c2 - t[2] * c1;
    const dl2y = s2 * a0 - s0 * a2 + t[2] * c0 - t[0] * c2;
    // R^T changes by -R^T [w]x: R^T (b x w) for a turn, R^T d for a change of direction.
    const f0 = u === 1 ? -b2 : u === 2 ? b1 : d0;
    const f1 = u === 0 ? b2 : u === 2 ? -b0 : d1;
    const f2 = u === 0 ? -b1 : u === 1 ? b0 : d2;
    const dl1x = r[0] * f0 + r[3] * f1 + r[6] * f2;
    const dl1y = r[1] * f0 + r[4] * f1 + r[7] * f2;
    const dn = (l2x * dl2x + l2y * dl2y + l1x * dl1x + l1y * dl1y) * inverse;
    gradient[u] = (de - error * dn) * inverse;
  }
  return error;
}

/** Two unit vectors that span the plane across t, one after the other. */
export function tangentPlane(t: readonly number[]): Float64Array {
  const across = Math.abs(t[0]) < 0.8 ? [1, 0, 0] : [0, 1, 0];
  const b = unit([
    t[1] * across[2] - t[2] * across[1],
    t[2] * across[0] - t[0] * across[2],
    t[0] * across[1] - t[1] * across[0],
  ]);
  return Float64Array.of(
    ...b,
    t[1] * b[2] - t[2] * b[1],
    t[2] * b[0] - t[0] * b[2],
    t[0] * b[1] - t[1] * b[0],
  );
}

/** The vector of length one along v. */
export function unit(v: readonly [number, number, number]): [number, number, number] {
  const inverse = 1 / Math.hypot(v[0], v[1], v[2]);
  return [v[0] * inverse, v[1] * inverse, v[2] * inverse];
}
