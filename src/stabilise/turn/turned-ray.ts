/** Where a ray of the picture is seen when the camera is turned: normalised ray and rotation matrix to pixels of a camera. */
import { distort, type Camera } from '../../optics/index.js';

/** Rays closer than this to the plane of the camera count as behind it. */
const LEAST_DEPTH = 1e-6;

/**
 * Writes into `out` (x, y) the pixel at which the ray (rayX, rayY, 1) is seen once it is turned by `r`.
 *
 * @param r row-major 3x3
 * @returns false, `out` untouched, when the turned ray lies behind the camera, or so far out that the lens model has
 *   folded over: past that radius it would put the ray back into the picture
 */
export function placeOfTurnedRay(
  camera: Camera,
  r: Float64Array,
  rayX: number,
  rayY: number,
  out: Float64Array,
): boolean {
  const depth = r[6] * rayX + r[7] * rayY + r[8];
  if (!(depth > LEAST_DEPTH)) return false;
  const u = (r[0] * rayX + r[1] * rayY + r[2]) / depth;
  const v = (r[3] * rayX + r[4] * rayY + r[5]) / depth;
  const lens = camera.distortion;
  if (lens === null) {
    out[0] = camera.centreXPx + camera.focalPx * u;
    out[1] = camera.centreYPx + camera.focalPx * v;
    return true;
  }
  const r2 = u * u + v * v;
  // d (radius seen) / d (radius) of the radial part.
  if (!(1 + r2 * (3 * lens.k1 + r2 * (5 * lens.k2 + r2 * 7 * lens.k3)) > 0)) return false;
  const seen = distort(lens, u, v);
  out[0] = camera.centreXPx + camera.focalPx * seen.x;
  out[1] = camera.centreYPx + camera.focalPx * seen.y;
  return true;
}
