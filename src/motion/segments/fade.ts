/** How one path gives way to the next where both know the poses: in the middle of what they share. */
import { multiply3, rotationFromVector } from '../../optics/index.js';
import { rotationVector } from '../rotation-steps.js';
import { transposed } from './join.js';

/** The fade takes this share of an overlap, in its middle: at the ends of a piece tracks are cut off and poses weaker. */
const FADED_SHARE = 0.6;

/** A pose: world-to-camera rotation, 9, row-major, and camera centre. */
export interface Pose {
  readonly rotation: Float64Array;
  readonly centre: readonly number[];
}

/** How much the later of two paths counts in frame k of the `overlap` frames that they share, 0..1. */
export function shareOfLater(k: number, overlap: number): number {
  // A smooth step, flat at both ends, so that the fade itself adds nothing in the band.
  const u = ((k + 0.5) / overlap - 0.5) / FADED_SHARE + 0.5;
  const v = Math.max(0, Math.min(1, u));
  return v * v * v * (10 - 15 * v + 6 * v * v);
}

/** The pose that lies the share of the way from one to another. */
export function poseBetween(early: Pose, late: Pose, share: number): Pose {
  const w = rotationVector(multiply3(late.rotation, transposed(early.rotation)));
  const part = rotationFromVector(share * w[0], share * w[1], share * w[2]);
  return {
    rotation: multiply3(part, early.rotation),
    centre: early.centre.map((value, j) => (1 - share) * value + share * late.centre[j]),
  };
}
