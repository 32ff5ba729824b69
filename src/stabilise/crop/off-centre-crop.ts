/**
 * The largest crop window that may lie off the middle of the frame, the same for all frames, in pixels of the camera:
 * from the corrections (radians) and the shape of the delivery.
 *
 * For straight borders this is a linear programme in the middle and the half width of the window; turning rows and lens
 * distortion bend them, and then a window may be best in one of several places. The search of `largestWindow` covers both.
 */
import type { Camera } from '../../optics/index.js';
import type { Borders } from './border-envelope.js';
import { horizontalCropPercent, LEAST_SHARE, MOST_CROP_PERCENT, wholeHalfWidth } from './exact-crop.js';
import { frameBorder, placeBorder } from './frame-border.js';
import { turnOfFrame } from '../turn/frame-turn.js';
import { largestWindow } from './largest-window.js';
import type { Corrections, OffCentreCrop } from '../types.js';

/** Half width that may be given up to end the search, and to have the window near the middle, px. */
const GIVEN_UP_PX = 0.01;

/**
 * The largest window of the delivery's shape, anywhere in the frame and the same for all frames, that shows no border.
 *
 * Borders as in `exactCrop`; no window is wider by more than 0.02 px. Never smaller than the centred one, which is given
 * itself unless another is larger by 0.005 px; where the window is free to move it lies near the middle. Without a frame the
 * whole picture is given; without a window that fits, the limit of the zoom (20) in the middle.
 *
 * @param shape height per width of the delivery; that of the frame unless given
 * @example offCentreCrop({ vibration, rows: null }, camera).offsetXPx
 */
export function offCentreCrop(
  corrections: Corrections,
  camera: Camera,
  shape: number = camera.heightPx / camera.widthPx,
): OffCentreCrop {
  const whole = wholeHalfWidth(camera, shape);
  const borders = placedBorders(corrections, camera, shape);
  const best = borders === null ? { x: 0, y: 0, halfWidth: 0 } : largestWindow(borders, whole, GIVEN_UP_PX);
  const share = Math.min(1, Math.max(LEAST_SHARE, best.halfWidth / whole));
  const cropPercent = horizontalCropPercent(1 / share);
  return {
    offsetXPx: best.x,
    offsetYPx: best.y * shape,
    zoom: 1 / share,
    cropPercent,
    coverable: cropPercent <= MOST_CROP_PERCENT,
  };
}

/** Borders of all frames with heights over `shape`; null when a frame lands behind the camera. */
function placedBorders(corrections: Corrections, camera: Camera, shape: number): Borders | null {
  const frames = corrections.vibration.pan.length;
  const border = frameBorder(camera, corrections.rows?.knots ?? null);
  const points = border.x.length;
  const x = new Float64Array(frames * points);
  const y = new Float64Array(frames * points);
  for (let t = 0; t < frames; t++) {
    const ofFrame = (column: Float64Array): Float64Array => column.subarray(t * points, (t + 1) * points);
    if (!placeBorder(border, turnOfFrame(corrections, t), ofFrame(x), ofFrame(y))) return null;
  }
  for (let i = 0; i < y.length; i++) y[i] /= shape;
  return { count: frames, points, x, y };
}
