/**
 * The turn of the camera between two frames, in radians, from points that were followed from one to the other and nothing else: what can
 * be told at once, while the clip is still being read.
 */
import { normalisePoints, type Camera } from '../optics/index.js';
import { fitPairRotation } from './frame-pair.js';
import { FEWEST_TRACKS } from './resection.js';
import { rotationVector } from './rotation-steps.js';

/** Points in px of the camera's frames, columns of one length. */
interface PointColumns {
  readonly xPx: ArrayLike<number>;
  readonly yPx: ArrayLike<number>;
}

/** A small turn: pan + right, tilt + up, roll + clockwise seen from behind. */
export interface RoughTurn {
  readonly panRad: number;
  readonly tiltRad: number;
  readonly rollRad: number;
}

/**
 * The rotation that best explains how the points moved, with Geman-McClure weights at the scale of what it leaves over, so that points
 * on something that moves by itself do not pull it along.
 *
 * It takes every point as far away: what the camera moved sideways or up passes for pan or tilt, by the move over the usual distance.
 * Sums of these turns over a clip are the sums of `poseSeries` but for that.
 *
 * @param before points in the earlier frame
 * @param after the same points in the later one
 * @returns null below six points, which tell no turn
 * @throws RangeError when the columns differ in length
 */
export function roughTurn(camera: Camera, before: PointColumns, after: PointColumns): RoughTurn | null {
  const from = normalisePoints(camera, before.xPx, before.yPx);
  const to = normalisePoints(camera, after.xPx, after.yPx);
  const count = from.x.length;
  if (to.x.length !== count)
    throw new RangeError(`before and after must hold the same points, got ${count} and ${to.x.length}`);
  if (count < FEWEST_TRACKS) return null;
  const pair = { track: new Int32Array(count), x1: from.x, y1: from.y, x2: to.x, y2: to.y };
  const [wx, wy, wz] = rotationVector(fitPairRotation(pair).rotation);
  return { panRad: -wy, tiltRad: -wx, rollRad: -wz };
}
