/**
 * The border of a recorded frame and where a correction puts it, pixels from the middle of the frame.
 *
 * The outermost half pixel counts as picture: a frame of width W reaches from -0.5 to W - 0.5. Four corners tell the whole
 * border when its sides stay straight; lens distortion and turning rows bend them, and many points are taken then.
 */
import { normalisePoints, type Camera } from '../../optics/index.js';
import type { FrameTurn } from '../turn/frame-turn.js';
import { rotationAtRow, rowRotations } from '../turn/row-rotations.js';
import { placeOfTurnedRay } from '../turn/turned-ray.js';

/** Points per side of a bent border; the chord error is then below 0.02 px. */
const POINTS_PER_SIDE = 64;

/** The border of a camera's frames, in order around the picture from its upper left corner; columns of one length. */
export interface FrameBorder {
  readonly camera: Camera;
  /** Ideal normalised rays. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Row of each point, 0 at the top edge and 1 at the bottom edge. */
  readonly rowShare: Float64Array;
}

/**
 * The border of a camera's frames.
 *
 * @param rowKnots knots of the row changes, or null when frames turn as one; the bends at the knots are points of the border
 */
export function frameBorder(camera: Camera, rowKnots: number | null): FrameBorder {
  const { widthPx, heightPx } = camera;
  const stretches = rowKnots === null ? 1 : rowKnots - 1;
  const bent = camera.distortion !== null || rowKnots !== null;
  const perSide = bent ? stretches * Math.ceil(POINTS_PER_SIDE / stretches) : 1;
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
  const rowShare = yPx.map((row) => (row + 0.5) / heightPx);
  return { camera, ...normalisePoints(camera, xPx, yPx), rowShare };
}

/**
 * Writes where the correction of a turn puts the border, in pixels from the middle of the frame, into x and y.
 *
 * @param x length of the border
 * @returns false when part of the border lands behind the camera: no window can be cut from such a frame
 */
export function placeBorder(border: FrameBorder, turn: FrameTurn, x: Float64Array, y: Float64Array): boolean {
  const { camera } = border;
  const middleX = (camera.widthPx - 1) / 2;
  const middleY = (camera.heightPx - 1) / 2;
  const rotations = rowRotations(turn, -1);
  const r = new Float64Array(9);
  const place = new Float64Array(2);
  for (let i = 0; i < border.x.length; i++) {
    rotationAtRow(rotations, border.rowShare[i], r);
    if (!placeOfTurnedRay(camera, r, border.x[i], border.y[i], place)) return false;
    x[i] = place[0] - middleX;
    y[i] = place[1] - middleY;
  }
  return true;
}
