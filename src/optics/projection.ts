/**
 * From scene to pixel and back: pixels of a `Camera`, normalised image points, rotation homographies.
 */
import type { Camera } from './camera.js';
import { distort, undistort } from './lens-distortion.js';
import { multiply3 } from './rotation.js';

/**
 * Pixels to ideal normalised image points (lens distortion removed): x = X/Z, y = Y/Z of the ray.
 *
 * @param xPx pixel columns, length n, pixel centres on whole numbers
 * @param yPx pixel rows, length n
 * @returns two new columns of length n
 * @throws RangeError when the two columns differ in length
 */
export function normalisePoints(
  camera: Camera,
  xPx: ArrayLike<number>,
  yPx: ArrayLike<number>,
): { x: Float64Array; y: Float64Array } {
  const n = xPx.length;
  if (yPx.length !== n) throw new RangeError(`xPx and yPx must be of one length, got ${n} and ${yPx.length}`);
  const x = new Float64Array(n);
  const y = new Float64Array(n);
  const scale = 1 / camera.focalPx;
  const lens = camera.distortion;
  for (let i = 0; i < n; i++) {
    x[i] = (xPx[i] - camera.centreXPx) * scale;
    y[i] = (yPx[i] - camera.centreYPx) * scale;
    if (!lens) continue;
    const ideal = undistort(lens, x[i], y[i]);
    x[i] = ideal.x;
    y[i] = ideal.y;
  }
  return { x, y };
}

/** Pixel at which the ideal normalised point (x, y) appears, lens distortion included. */
export function pixelOfNormalised(camera: Camera, x: number, y: number): { xPx: number; yPx: number } {
  const seen = camera.distortion ? distort(camera.distortion, x, y) : { x, y };
  return { xPx: camera.centreXPx + camera.focalPx * seen.x, yPx: camera.centreYPx + camera.focalPx * seen.y };
}

/**
 * Pixel of a point given in camera axes (x right, y down, z forward, any one unit); null when it is not in front.
 *
 * @example projectPoint(camera, 0, 0, 2) // the middle of the frame
 */
export function projectPoint(
  camera: Camera,
  x: number,
  y: number,
  z: number,
): { xPx: number; yPx: number } | null {
  return z > 0 ? pixelOfNormalised(camera, x / z, y / z) : null;
}

/**
 * The homography K R K^-1 (row-major, length 9) that moves the pixels of a lens without distortion when the camera
 * turns by R: x' ~ H x, whatever the depth. Hartley & Zisserman, Multiple View Geometry, 2nd ed., chapter 8.
 *
 * @param rotation maps camera axes of the first orientation to those of the second, row-major 3x3
 */
export function rotationHomography(camera: Camera, rotation: ArrayLike<number>): Float64Array {
  const { focalPx: f, centreXPx: cx, centreYPx: cy } = camera;
  const intrinsic = [f, 0, cx, 0, f, cy, 0, 0, 1];
  const inverse = [1 / f, 0, -cx / f, 0, 1 / f, -cy / f, 0, 0, 1];
  return multiply3(multiply3(intrinsic, rotation), inverse);
}

/** Applies a 3x3 homography to a pixel; null when the point passes through or behind the camera plane. */
export function applyHomography(
  homography: ArrayLike<number>,
  xPx: number,
  yPx: number,
): { xPx: number; yPx: number } | null {
  const h = homography;
  const w = h[6] * xPx + h[7] * yPx + h[8];
  if (!(w > 0)) return null;
  return { xPx: (h[0] * xPx + h[1] * yPx + h[2]) / w, yPx: (h[3] * xPx + h[4] * yPx + h[5]) / w };
}
