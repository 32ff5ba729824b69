/**
 * Where the points of a stabilised picture come from in the recorded frame, pixels of one camera, before the zoom.
 *
 * The way back of the correction: lens distortion out, turned by exp([w]), distortion in again. On a sensor read row by
 * row w is that of the row from which the point comes, which is found by repeated substitution.
 */
import { normalisePoints, type Camera } from '../../optics/index.js';
import type { FrameTurn } from './frame-turn.js';
import { rotationAtRow, rowRotations } from './row-rotations.js';
import { placeOfTurnedRay } from './turned-ray.js';

/** The row of a point is settled when it moves by less than this, px. */
const ROW_SETTLED_PX = 2e-4;
/** Each round takes off the share of the picture height by which the rows are stretched: 10 % would be a wild shake. */
const MOST_ROUNDS = 8;

/**
 * Where points of the stabilised picture come from in the recorded frame.
 *
 * The lens distortion of the points is taken out anew with every call; for one grid and many frames use
 * `sourcePlacesOfRays`.
 *
 * @param turn what is taken out of this frame
 * @param camera of the recorded frame; the stabilised picture keeps its lens, distortion included
 * @param xPx columns in the stabilised picture before the zoom, length n, any place inside or outside the picture
 * @param yPx rows, length n
 * @param outX columns in the recorded frame, length n; NaN where nothing lies behind a point because it was behind the
 *   camera or beyond what the lens model describes. Places outside the frame are given as they are.
 * @param outY rows, as outX
 * @throws RangeError when the columns differ in length
 */
export function sourcePlaces(
  turn: FrameTurn,
  camera: Camera,
  xPx: Float64Array,
  yPx: Float64Array,
  outX: Float64Array,
  outY: Float64Array,
): void {
  sourcePlacesOfRays(turn, camera, normalisePoints(camera, xPx, yPx), outX, outY);
}

/**
 * As `sourcePlaces`, for points whose distortion has been taken out already by `normalisePoints`.
 *
 * @param rays ideal normalised points of the stabilised picture, length n
 * @throws RangeError when the columns differ in length
 * @example
 * const rays = normalisePoints(camera, gridX, gridY); // once for a clip
 * sourcePlacesOfRays(turnOfFrame(corrections, t), camera, rays, outX, outY); // each frame
 */
export function sourcePlacesOfRays(
  turn: FrameTurn,
  camera: Camera,
  rays: { readonly x: Float64Array; readonly y: Float64Array },
  outX: Float64Array,
  outY: Float64Array,
): void {
  const n = rays.x.length;
  if (rays.y.length !== n || outX.length !== n || outY.length !== n)
    throw new RangeError(
      `columns must be of one length, got ${n}, ${rays.y.length}, ${outX.length}, ${outY.length}`,
    );
  const rotations = rowRotations(turn, 1);
  const rounds = rotations.knots === 1 ? 1 : MOST_ROUNDS;
  const r = new Float64Array(9);
  const place = new Float64Array(2);
  rotationAtRow(rotations, 0.5, r);
  for (let i = 0; i < n; i++) {
    let share = 0.5;
    let before = NaN;
    place.fill(NaN);
    for (let round = 0; round < rounds; round++) {
      if (rounds > 1) rotationAtRow(rotations, share, r);
      if (!placeOfTurnedRay(camera, r, rays.x[i], rays.y[i], place)) {
        place.fill(NaN);
        break;
      }
      const y = place[1];
      if (Math.abs(y - before) < ROW_SETTLED_PX) break;
      before = y;
      share = (y + 0.5) / camera.heightPx;
    }
    outX[i] = place[0];
    outY[i] = place[1];
  }
}
