/**
 * Observations moved to the time of the middle row of their frame: where each point would have been seen by a shutter
 * that opens all rows at once. Normalised image units.
 */
import type { Observations } from '../observations.js';
import { linearise, makeLinearisation } from '../projection.js';
import { ROW_BANDS, ROW_NUMBERS } from './row-motion.js';
import type { Scene } from '../scene.js';

/**
 * Moves every observation to mid-row time.
 *
 * The model says where the point stands at mid-row time, (px, py) at inverse depth q; from the pose of its own row, turned
 * by w and displaced by d, it stands at exp([w]) ((px, py, 1) - q d). The difference is taken off what was measured.
 *
 * @param measured observations as measured, each at the time of its own row; not changed
 * @param motion of the camera from the middle row to the edges of the row bands, see row-motion.ts
 * @returns the same observations with new x and y; all other columns are shared
 */
export function moveToMidRow(measured: Observations, scene: Scene, motion: Float64Array): Observations {
  const { count, frame, rowShare } = measured;
  const lin = makeLinearisation(count);
  linearise(measured, scene, lin);
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const m = new Float64Array(6);
  for (let o = 0; o < count; o++) {
    motionAtRow(motion, frame[o], rowShare[o], m);
    const px = lin.projectedX[o];
    const py = lin.projectedY[o];
    const q = lin.inverseDepth[o];
    // v = point seen from the displaced centre, then exp([w]) v to second order.
    const v0 = px - q * m[3];
    const v1 = py - q * m[4];
    const v2 = 1 - q * m[5];
    const c0 = m[1] * v2 - m[2] * v1;
    const c1 = m[2] * v0 - m[0] * v2;
    const c2 = m[0] * v1 - m[1] * v0;
    const y0 = v0 + c0 + 0.5 * (m[1] * c2 - m[2] * c1);
    const y1 = v1 + c1 + 0.5 * (m[2] * c0 - m[0] * c2);
    const y2 = Math.max(v2 + c2 + 0.5 * (m[0] * c1 - m[1] * c0), 0.1);
    x[o] = measured.x[o] - (y0 / y2 - px);
    y[o] = measured.y[o] - (y1 / y2 - py);
  }
  return { ...measured, x, y };
}

/** Writes (w, d) of a row of frame t, linear between the edges of its band; rows outside the picture count as its edge. */
function motionAtRow(motion: Float64Array, t: number, rowShare: number, out: Float64Array): void {
  const place = Math.max(0, Math.min(1, rowShare)) * ROW_BANDS;
  const band = Math.min(ROW_BANDS - 1, Math.floor(place));
  const share = place - band;
  const at = ROW_NUMBERS * t + 6 * band;
  for (let k = 0; k < 6; k++) out[k] = motion[at + k] + share * (motion[at + 6 + k] - motion[at + k]);
}
