/**
 * The largest crop window that may lie off the middle of the frame, the same for all frames, in pixels of the camera:
 * from the corrections (radians) and the shape of the delivery.
 *
 * For straight borders a linear programme in the middle and the half width of the window; bent borders are replaced by
 * their lines near the window, again and again until these stay. What is given was measured against the borders themselves.
 */
import type { Camera } from '../optics/index.js';
import { largestCentredHalfWidth } from './crop-geometry.js';
import { horizontalCropPercent, LEAST_SHARE, MOST_CROP_PERCENT, wholeHalfWidth } from './exact-crop.js';
import { frameBorder, placeBorder } from './frame-border.js';
import { turnOfFrame } from './frame-turn.js';
import { highestPoint, LIMIT_NUMBERS } from './highest-point.js';
import type { Corrections, OffCentreCrop } from './types.js';
import { borderLimits, type Borders, type SquareWindow } from './border-limits.js';

const MOST_ROUNDS = 15;
/** A window that comes this close to what its own limits allow is the best one there, px. */
const SETTLED_PX = 1e-3;
/** Half width given up to have the window nearer to the middle, px. */
const GIVEN_UP_PX = 2e-3;

/**
 * The largest window of the delivery's shape, anywhere in the frame and the same for all frames, that shows no border.
 *
 * Never smaller than the centred window; of windows that are equally large the one nearest to the middle, across first.
 * Borders as in `exactCrop`: the result is within 0.02 px of the largest window there is, as far as the borders bend
 * smoothly. Without a frame the whole picture is given.
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
  const best = borders === null ? { x: 0, y: 0, halfWidth: 0 } : largestWindow(borders, whole);
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
  return { frames, points, x, y };
}

function largestWindow(borders: Borders, whole: number): SquareWindow {
  const room = roomFinder(borders, whole);
  let best: SquareWindow = { x: 0, y: 0, halfWidth: room(0, 0) };
  let near: SquareWindow = { x: 0, y: 0, halfWidth: best.halfWidth > 0 ? best.halfWidth : whole };
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const limits = borderLimits(borders, near);
    const { x, y, height } = highestPoint(limits, 4 * whole, whole);
    if (!(height > 0)) break;
    near = nearestToMiddle(limits, { x, y, halfWidth: height });
    const halfWidth = room(near.x, near.y);
    if (halfWidth > best.halfWidth + GIVEN_UP_PX) best = { ...near, halfWidth };
    if (near.halfWidth - halfWidth < SETTLED_PX) break;
  }
  return best;
}

/** Gives the half width of the largest window around a place, at most `whole`. */
function roomFinder({ frames, points, x, y }: Borders, whole: number): (atX: number, atY: number) => number {
  const fromX = new Float64Array(points);
  const fromY = new Float64Array(points);
  return (atX, atY) => {
    let least = whole;
    for (let t = 0; t < frames && least > 0; t++) {
      for (let i = 0; i < points; i++) {
        fromX[i] = x[t * points + i] - atX;
        fromY[i] = y[t * points + i] - atY;
      }
      least = Math.min(least, largestCentredHalfWidth(fromX, fromY, 1));
    }
    return least;
  };
}

/** A window that is smaller by a hair and as near to the middle as the limits let it be, along one axis after the other. */
function nearestToMiddle(limits: Float64Array, { x, y, halfWidth }: SquareWindow): SquareWindow {
  const smaller = halfWidth - GIVEN_UP_PX;
  const nearY = nearestToZero(limits, 1, 0, x, smaller, y);
  const nearX = nearestToZero(limits, 0, 1, nearY, smaller, x);
  return { x: nearX, y: nearY, halfWidth: smaller };
}

/** The value nearest to zero that one coordinate may take while the other and the half width are held. */
function nearestToZero(
  limits: Float64Array,
  free: number,
  held: number,
  heldAt: number,
  halfWidth: number,
  otherwise: number,
): number {
  let low = -Infinity;
  let high = Infinity;
  for (let i = 0; i < limits.length; i += LIMIT_NUMBERS) {
    const factor = limits[i + free];
    const left = limits[i + 3] - limits[i + held] * heldAt - limits[i + 2] * halfWidth;
    if (factor > 0) high = Math.min(high, left / factor);
    else if (factor < 0) low = Math.max(low, left / factor);
  }
  return low <= high ? Math.max(low, Math.min(high, 0)) : otherwise;
}
