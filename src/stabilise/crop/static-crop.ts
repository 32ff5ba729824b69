/**
 * The one zoom that shows no border in any frame, without the crop of each frame by itself: the same figure as that of `exactCrop`, found by
 * looking at those frames only that may decide it. Angles in radians, camera in pixels.
 */
import type { Camera } from '../../optics/index.js';
import type { LensDistortion } from '../../run/index.js';
import { turnOfFrame, type FrameTurn } from '../turn/frame-turn.js';
import type { Corrections, StaticCrop } from '../types.js';
import { largestCentredHalfWidth } from './crop-geometry.js';
import { horizontalCropPercent, LEAST_SHARE, MOST_CROP_PERCENT, wholeHalfWidth } from './exact-crop.js';
import { frameBorder, placeBorder, type FrameBorder } from './frame-border.js';

/** Keeps rounding from leaving out a frame that decides, as a share of the width. */
const ROUNDING = 1e-9;
/** Room that a point is given to move in, over what it moves at its own place; a turn that needs more gets no bound. */
const ROOM = 2;
/** Radii at which the lens model is looked at, and what may lie between two of them. */
const RADII = 64;
const BETWEEN_RADII = 1.02;

/**
 * As `exactCrop`: bit for bit its zoom, per cent and deciding frame.
 *
 * @param shape height per width of the delivery
 */
export function staticCrop(corrections: Corrections, camera: Camera, shape: number): StaticCrop {
  const n = corrections.vibration.pan.length;
  const border = frameBorder(camera, corrections.rows?.knots ?? null);
  const whole = wholeHalfWidth(camera, shape);
  const leastOf = leastShare(border, shape, whole);
  const turns = Array.from({ length: n }, (_, t) => turnOfFrame(corrections, t));
  const bounds = Float64Array.from(turns, leastOf);
  const order = Uint32Array.from(bounds.keys()).sort((a, b) => bounds[a] - bounds[b]);
  const x = new Float64Array(border.x.length);
  const y = new Float64Array(border.x.length);
  let worst = Infinity;
  let worstFrame = -1;
  for (const t of order) {
    if (bounds[t] > worst) break;
    const inFront = placeBorder(border, turns[t], x, y);
    const found = inFront ? largestCentredHalfWidth(x, y, shape) / whole : 0;
    const share = Math.min(1, Math.max(LEAST_SHARE, found));
    // Of frames that need the same the first one is named.
    if (share < worst || (share === worst && t < worstFrame)) [worst, worstFrame] = [share, t];
  }
  const zoom = n > 0 ? 1 / worst : 1;
  const cropPercent = horizontalCropPercent(zoom);
  return {
    leastShare: n > 0 ? worst : 1,
    zoom,
    cropPercent,
    worstFrame,
    coverable: cropPercent <= MOST_CROP_PERCENT,
  };
}

/**
 * A share of the width that a turn surely leaves.
 *
 * A point of the picture runs along the field of a turning camera, across (1 + x^2) pan + x y tilt + y roll, and likewise down; what it
 * meets on the way is no more than that at the far corner of where it may be. Points between two rows lie between where each would put
 * them. Own derivation.
 */
function leastShare(border: FrameBorder, shape: number, whole: number): (turn: FrameTurn) => number {
  const { camera } = border;
  const [farX, farY] = [mostOf(border.x), mostOf(border.y)];
  return (turn) => {
    const [pan, tilt, roll] = [most(turn, 'pan'), most(turn, 'tilt'), most(turn, 'roll')];
    const across = (x: number, y: number): number => (1 + x * x) * pan + x * y * tilt + y * roll;
    const down = (x: number, y: number): number => (1 + y * y) * tilt + x * y * pan + x * roll;
    const x = farX + ROOM * across(farX, farY);
    const y = farY + ROOM * down(farX, farY);
    const [dx, dy] = [across(x, y), down(x, y)];
    if (!(farX + dx <= x && farY + dy <= y)) return -Infinity;
    const { distortion, focalPx } = camera;
    const lost =
      distortion === null
        ? Math.max(dx, dy / shape)
        : stretch(distortion, Math.hypot(x, y)) * Math.hypot(dx, dy) * Math.max(1, 1 / shape);
    return Math.min(1, Math.max(LEAST_SHARE, 1 - (focalPx * lost) / whole)) - ROUNDING;
  };
}

/** How far apart the lens puts two near points at most, over how far apart they are; endless where its model folds over. */
function stretch({ k1, k2, k3, p1, p2 }: LensDistortion, farthest: number): number {
  let found = 1;
  for (let i = 0; i <= RADII; i++) {
    const r2 = ((farthest * i) / RADII) ** 2;
    const along = 1 + r2 * (3 * k1 + r2 * (5 * k2 + r2 * 7 * k3));
    if (!(along > 0)) return Infinity;
    found = Math.max(found, along, Math.abs(1 + r2 * (k1 + r2 * (k2 + r2 * k3))));
  }
  return BETWEEN_RADII * found + 6 * (Math.abs(p1) + Math.abs(p2)) * farthest;
}

/** The largest angle of the rows of a frame, radians. */
function most(turn: FrameTurn, axis: 'pan' | 'tilt' | 'roll'): number {
  const middle = turn[axis];
  const rows = turn.rows?.[axis];
  if (rows === undefined) return Math.abs(middle);
  let found = 0;
  for (const change of rows) found = Math.max(found, Math.abs(middle + change));
  return found;
}

function mostOf(values: Float64Array): number {
  return values.reduce((found, value) => Math.max(found, Math.abs(value)), 0);
}
