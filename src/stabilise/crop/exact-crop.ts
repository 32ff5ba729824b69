/**
 * The exact crop of a clip whose angular vibration is taken out by one warp per frame: from angles in radians and a
 * camera in pixels, with no small-angle formula.
 *
 * A vibration v = (pan, tilt, roll) means R_measured = exp([w]) R_intended with w = (-tilt, -pan, -roll); the picture is
 * corrected by exp(-[w]). Warps by a turning camera: Hartley & Zisserman, Multiple View Geometry, 2nd ed., chapter 8.
 */
import { rotationFromAngles, rotationHomography, type Camera } from '../../optics/index.js';
import { largestCentredHalfWidth } from './crop-geometry.js';
import { frameBorder, placeBorder } from './frame-border.js';
import { turnOfFrame } from '../turn/frame-turn.js';
import type { AngularVibration, Corrections, ExactCrop } from '../types.js';

/** More crop than this and the shot is not worth stabilising. */
export const MOST_CROP_PERCENT = 50;
/** Half widths below this share are raised to it, so that the zoom stays a number. */
export const LEAST_SHARE = 0.05;

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
 * The exact static zoom for given corrections: the smallest one, centred and of the delivery's shape, that shows no
 * border in any frame, first and last included.
 *
 * The outermost half pixel counts as picture: a frame of width W reaches from -0.5 to W - 0.5. The stabilised picture
 * keeps the look of the lens: distortion is taken out, the picture turned, and the distortion put back. Lens distortion
 * and turning rows bend the border; the chords that stand for it stay within 0.02 px of it.
 *
 * @param shape height per width of the delivery; that of the frame unless given
 * @example exactCrop({ vibration, rows: rowChanges(path, 25, 0.015) }, camera).cropPercent
 */
export function exactCrop(
  corrections: Corrections,
  camera: Camera,
  shape: number = camera.heightPx / camera.widthPx,
): ExactCrop {
  const n = corrections.vibration.pan.length;
  const border = frameBorder(camera, corrections.rows?.knots ?? null);
  const x = new Float64Array(border.x.length);
  const y = new Float64Array(border.x.length);
  const whole = wholeHalfWidth(camera, shape);
  const halfWidthShare = new Float64Array(n);
  let worstFrame = -1;
  let worst = Infinity;
  for (let t = 0; t < n; t++) {
    const inFront = placeBorder(border, turnOfFrame(corrections, t), x, y);
    const share = inFront ? largestCentredHalfWidth(x, y, shape) / whole : 0;
    halfWidthShare[t] = Math.min(1, Math.max(LEAST_SHARE, share));
    if (halfWidthShare[t] < worst) {
      worst = halfWidthShare[t];
      worstFrame = t;
    }
  }
  const zoom = n > 0 ? 1 / worst : 1;
  const cropPercent = horizontalCropPercent(zoom);
  return {
    halfWidthShare,
    leastShare: n > 0 ? worst : 1,
    zoom,
    cropPercent,
    worstFrame,
    coverable: cropPercent <= MOST_CROP_PERCENT,
  };
}

/**
 * As `exactCrop`, for an angular vibration in radians that is taken out of each frame as one.
 *
 * @param vibration measured or true, length n
 * @example exactZoomForPath({ pan, tilt, roll }, camera).cropPercent
 */
export function exactZoomForPath(vibration: AngularVibration, camera: Camera, shape?: number): ExactCrop {
  return exactCrop({ vibration, rows: null }, camera, shape);
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
