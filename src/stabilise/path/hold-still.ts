/**
 * The locked-off intent: the one orientation of which every frame of a clip is a view at the least crop, from the measured
 * angles in radians.
 */
import { emptyRows, leastAbsolute } from '../../numerics/index.js';
import type { Camera } from '../../optics/index.js';
import { ANGULAR_AXES } from '../../run/index.js';
import { exactCrop, LEAST_SHARE, wholeHalfWidth } from '../crop/exact-crop.js';
import type { AngularVibration, ExactCrop, RowChanges } from '../types.js';
import { emptyRoom, pxPerRad, roomAt, windowOutline, windowRoom } from './window-limits.js';
import { turnOfFrame } from '../turn/frame-turn.js';

/** Frames that are taken up at once: those that allow the least. */
const FRAMES_AT_ONCE = 48;
/** Points that stand for a bent side of the window: what lies between two is off by less than 0.01 px. */
const POINTS_PER_BENT_SIDE = 17;
const MOST_ROUNDS = 20;
/** Gain in half width, as a share, that is not worth another round. */
const LEAST_GAIN = 1e-9;
const HALVINGS = 4;

/**
 * Measured path minus the constant orientation that needs the least crop.
 *
 * Every frame counts, first and last included. The search starts at the middle of the range of each axis and is never worse
 * than that: the largest window that the frames which allow the least have in common is a linear programme in the
 * orientation and the width of the window, solved again about each solution and with the frames that then allow the least.
 * A clip that turns too far to share any picture keeps the middle of the range; its crop is at the limit of `exactCrop`.
 *
 * @param path pan, tilt and roll in radians, columns of one length n, not changed
 * @param rows turns within the frames, or null; they stay as they are
 * @param shape height per width of the delivery
 * @returns columns of length n; empty for an empty path
 * @throws RangeError when the columns differ in length or the shape is not positive
 * @remarks Own derivation.
 */
export function holdStill(
  path: AngularVibration,
  rows: RowChanges | null,
  camera: Camera,
  shape: number,
): AngularVibration {
  checkPath(path, shape);
  let target = ANGULAR_AXES.map((axis) => middleOfRange(path[axis]));
  let vibration = minus(path, target);
  let crop = exactCrop({ vibration, rows }, camera, shape);
  const frames = new Set<number>();
  for (let round = 0; round < MOST_ROUNDS; round++) {
    if (crop.worstFrame < 0 || 1 / crop.zoom <= LEAST_SHARE) break;
    const known = frames.size;
    addLeast(frames, crop);
    const step = stepTowardsLeast(vibration, rows, camera, shape, crop, [...frames]);
    if (step === null) break;
    let share = 1;
    let better = null;
    for (let halving = 0; halving <= HALVINGS && better === null; halving++, share /= 2) {
      const tried = target.map((value, a) => value + share * step[a]);
      const left = minus(path, tried);
      const itsCrop = exactCrop({ vibration: left, rows }, camera, shape);
      if (itsCrop.zoom < crop.zoom) better = { target: tried, vibration: left, crop: itsCrop };
      else addLeast(frames, itsCrop);
    }
    if (better === null) {
      if (frames.size === known) break;
      continue;
    }
    const gain = 1 - better.crop.zoom / crop.zoom;
    ({ target, vibration, crop } = better);
    if (gain < LEAST_GAIN) break;
  }
  return vibration;
}

/** @throws RangeError on columns of different lengths, or a shape that is none */
export function checkPath(path: AngularVibration, shape: number): void {
  const { pan, tilt, roll } = path;
  if (tilt.length !== pan.length || roll.length !== pan.length)
    throw new RangeError(
      `pan, tilt and roll must be of one length, got ${pan.length}, ${tilt.length}, ${roll.length}`,
    );
  if (!(shape > 0 && Number.isFinite(shape))) throw new RangeError(`shape must be positive, got ${shape}`);
}

function middleOfRange(values: Readonly<Float64Array>): number {
  let least = Infinity;
  let most = -Infinity;
  for (const value of values) {
    least = Math.min(least, value);
    most = Math.max(most, value);
  }
  return values.length > 0 ? (least + most) / 2 : 0;
}

function minus(path: AngularVibration, target: readonly number[]): AngularVibration {
  const [pan, tilt, roll] = ANGULAR_AXES.map((axis, a) => path[axis].map((value) => value - target[a]));
  return { pan, tilt, roll };
}

/** Takes up the frames that allow the least. */
function addLeast(frames: Set<number>, { halfWidthShare }: ExactCrop): void {
  const order = Array.from(halfWidthShare.keys()).sort((a, b) => halfWidthShare[a] - halfWidthShare[b]);
  for (const t of order.slice(0, FRAMES_AT_ONCE)) frames.add(t);
}

/**
 * Change of the target (pan, tilt, roll, radians) to the largest window that the given frames have in common when all
 * changes are taken as linear; null when an outline has no place in its frame.
 */
function stepTowardsLeast(
  vibration: AngularVibration,
  rows: RowChanges | null,
  camera: Camera,
  shape: number,
  crop: ExactCrop,
  frames: readonly number[],
): number[] | null {
  const perSide = rows !== null || camera.distortion !== null ? POINTS_PER_BENT_SIDE : 2;
  const halfWidth = wholeHalfWidth(camera, shape) / crop.zoom;
  const outline = windowOutline(camera, halfWidth, shape, perSide);
  const wider = windowOutline(camera, halfWidth + 1, shape, perSide);
  const checks = outline.checks.length;
  const room = emptyRoom(outline);
  const roomOfWider = new Float64Array(checks);
  // Unknowns: the change of the target on three axes and of the half width, px.
  const limits = emptyRows(frames.length * checks, 4);
  let row = 0;
  for (const t of frames) {
    const corrections = { vibration, rows };
    if (!windowRoom(outline, corrections, t, room)) return null;
    if (!roomAt(wider, turnOfFrame(corrections, t), roomOfWider)) return null;
    for (let i = 0; i < checks; i++, row++) {
      for (let k = 0; k < 4; k++) limits.columns[4 * row + k] = k;
      // The target moves against the correction.
      for (let a = 0; a < 3; a++) limits.coefficients[4 * row + a] = room.slopes[3 * i + a];
      limits.coefficients[4 * row + 3] = room.roomPx[i] - roomOfWider[i];
      limits.right[row] = room.roomPx[i];
    }
  }
  const terms = emptyRows(1, 1);
  terms.columns[0] = 3;
  terms.coefficients[0] = 1;
  terms.right[0] = wholeHalfWidth(camera, shape) - halfWidth;
  const { x } = leastAbsolute(terms, limits, new Float64Array(4), { gap: 1e-10 });
  return pxPerRad(camera).map((scale, a) => x[a] / scale);
}
