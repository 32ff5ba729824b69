/**
 * The exact crop of a clip whose angular vibration is taken out by one warp per frame: from angles in radians and a
 * camera in pixels, with no small-angle formula.
 *
 * A vibration v = (pan, tilt, roll) means R_measured = exp([w]) R_intended with w = (-tilt, -pan, -roll); the picture is
 * corrected by exp(-[w]). Warps by a turning camera: Hartley & Zisserman, Multiple View Geometry, 2nd ed., chapter 8.
 */
import {
  distort,
  normalisePoints,
  rotationFromAngles,
  rotationHomography,
  type Camera,
} from '../optics/index.js';
import { largestCentredHalfWidth } from './crop-geometry.js';
import type { AngularVibration, ExactCrop } from './types.js';

/** More crop than this and the shot is not worth stabilising. */
export const MOST_CROP_PERCENT = 50;
/** Half widths below this share are raised to it, so that the zoom stays a number. */
const LEAST_SHARE = 0.05;
/** Points per side of the border when lens distortion bends it; the chord error is then below 0.02 px. */
const POINTS_PER_SIDE = 64;

/** Height per width of a delivery. */
export function heightPerWidth(size: { readonly widthPx: number; readonly heightPx: number }): number {
  return size.heightPx / size.widthPx;
}

/** Per cent of the width that a zoom takes away: 100 (1 - 1/zoom). @example horizontalCropPercent(1.25) // 20 */
export function horizontalCropPercent(zoom: number): number {
  return 100 * (1 - 1 / zoom);
}

/**
 * The correction of every frame as a row-major 3x3 homography K exp(-[w]) K^-1, in pixels of `camera`.
 *
 * @returns length 9 n; on a lens with distortion it acts on undistorted pixels
 */
export function correctionHomographies(vibration: AngularVibration, camera: Camera): Float64Array {
  const n = vibration.pan.length;
  const out = new Float64Array(9 * n);
  for (let t = 0; t < n; t++) out.set(rotationHomography(camera, correctionOf(vibration, t)), 9 * t);
  return out;
}

/**
 * The exact static zoom for a given angular vibration: the smallest one, centred and of the delivery's shape, that shows
 * no border in any frame, first and last included.
 *
 * The outermost half pixel counts as picture: a frame of width W reaches from -0.5 to W - 0.5. The stabilised picture
 * keeps the look of the lens: distortion is taken out, the picture turned, and the distortion put back.
 *
 * @param vibration radians, measured or true, length n
 * @param shape height per width of the delivery; that of the frame unless given
 * @example exactZoomForPath({ pan, tilt, roll }, camera).cropPercent
 */
export function exactZoomForPath(
  vibration: AngularVibration,
  camera: Camera,
  shape: number = camera.heightPx / camera.widthPx,
): ExactCrop {
  const n = vibration.pan.length;
  const border = borderRays(camera);
  const points = border.x.length;
  const x = new Float64Array(points);
  const y = new Float64Array(points);
  const offsetX = camera.centreXPx - (camera.widthPx - 1) / 2;
  const offsetY = camera.centreYPx - (camera.heightPx - 1) / 2;
  const whole = wholeHalfWidth(camera, shape);
  const halfWidthShare = new Float64Array(n);
  let worstFrame = -1;
  let worst = Infinity;
  for (let t = 0; t < n; t++) {
    const inFront = turnBorder(border, correctionOf(vibration, t), camera, offsetX, offsetY, x, y);
    const share = inFront ? largestCentredHalfWidth(x, y, shape) / whole : 0;
    halfWidthShare[t] = Math.min(1, Math.max(LEAST_SHARE, share));
    if (halfWidthShare[t] < worst) {
      worst = halfWidthShare[t];
      worstFrame = t;
    }
  }
  const zoom = n > 0 ? 1 / worst : 1;
  const cropPercent = horizontalCropPercent(zoom);
  return { halfWidthShare, zoom, cropPercent, worstFrame, coverable: cropPercent <= MOST_CROP_PERCENT };
}

/** Half width in pixels of the largest rectangle of `shape` inside the unwarped frame. */
export function wholeHalfWidth(
  frame: { readonly widthPx: number; readonly heightPx: number },
  shape: number,
): number {
  return Math.min(frame.widthPx / 2, frame.heightPx / 2 / shape);
}

/** exp(-[w]) of frame t: the camera turned back by its vibration. */
function correctionOf(vibration: AngularVibration, t: number): Float64Array {
  return rotationFromAngles(-vibration.pan[t], -vibration.tilt[t], -vibration.roll[t]);
}

/** Rays through the border of the frame: four corners, or many points where distortion bends the sides. */
function borderRays(camera: Camera): { x: Float64Array; y: Float64Array } {
  const { widthPx, heightPx } = camera;
  const perSide = camera.distortion ? POINTS_PER_SIDE : 1;
  const corners = [
    [-0.5, -0.5],
    [widthPx - 0.5, -0.5],
    [widthPx - 0.5, heightPx - 0.5],
    [-0.5, heightPx - 0.5],
  ];
  const xPx = new Float64Array(4 * perSide);
  const yPx = new Float64Array(4 * perSide);
  for (let side = 0; side < 4; side++) {
    const from = corners[side];
    const to = corners[(side + 1) % 4];
    for (let k = 0; k < perSide; k++) {
      xPx[side * perSide + k] = from[0] + ((to[0] - from[0]) * k) / perSide;
      yPx[side * perSide + k] = from[1] + ((to[1] - from[1]) * k) / perSide;
    }
  }
  return normalisePoints(camera, xPx, yPx);
}

/** Writes the turned border, in pixels from the middle of the frame, into x and y; false when part of it is behind the camera. */
function turnBorder(
  border: { readonly x: Float64Array; readonly y: Float64Array },
  r: Float64Array,
  camera: Camera,
  offsetX: number,
  offsetY: number,
  x: Float64Array,
  y: Float64Array,
): boolean {
  for (let i = 0; i < border.x.length; i++) {
    const bx = border.x[i];
    const by = border.y[i];
    const depth = r[6] * bx + r[7] * by + r[8];
    if (!(depth > 1e-6)) return false;
    const u = (r[0] * bx + r[1] * by + r[2]) / depth;
    const v = (r[3] * bx + r[4] * by + r[5]) / depth;
    const seen = camera.distortion ? distort(camera.distortion, u, v) : { x: u, y: v };
    x[i] = offsetX + camera.focalPx * seen.x;
    y[i] = offsetY + camera.focalPx * seen.y;
  }
  return true;
}
