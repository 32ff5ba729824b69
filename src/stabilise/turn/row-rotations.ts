/**
 * The rotation of every row of a frame as 3x3 matrices (row-major), from the turn of the frame in radians.
 *
 * A turn (pan, tilt, roll) means R_measured = exp([w]) R_intended with w = (-tilt, -pan, -roll). A row that is read while
 * the camera turns on has w + change. Matrices are kept at the knots of the rows and are straight between them: against
 * the exponential of the angle between them this errs by an eighth of the square of the angle from knot to knot, below
 * 0.002 px for a turn of one degree during the readout at 3000 px of focal length.
 */
import { rotationFromAngles } from '../../optics/index.js';
import type { FrameTurn } from './frame-turn.js';

/** Rotations at rows evenly spaced from the top edge of the picture to its bottom edge; one for all rows when knots is 1. */
export interface RowRotations {
  readonly knots: number;
  /** Length 9 * knots. */
  readonly matrices: Float64Array;
}

/**
 * The rotations of a turn.
 *
 * @param direction 1: from the intended camera to the one that shook, exp([w]); -1: back, exp(-[w])
 */
export function rowRotations(turn: FrameTurn, direction: 1 | -1): RowRotations {
  const { pan, tilt, roll, rows } = turn;
  const knots = rows?.knots ?? 1;
  const matrices = new Float64Array(9 * knots);
  for (let k = 0; k < knots; k++) {
    const rotation = rotationFromAngles(
      direction * (pan + (rows?.pan[k] ?? 0)),
      direction * (tilt + (rows?.tilt[k] ?? 0)),
      direction * (roll + (rows?.roll[k] ?? 0)),
    );
    matrices.set(rotation, 9 * k);
  }
  return { knots, matrices };
}

/**
 * Writes the rotation of a row into `out` (length 9).
 *
 * @param rowShare place of the row in the height of the picture, 0 at the top edge and 1 at the bottom edge; beyond
 *   them counts as the edge
 */
export function rotationAtRow({ knots, matrices }: RowRotations, rowShare: number, out: Float64Array): void {
  if (knots === 1) {
    for (let i = 0; i < 9; i++) out[i] = matrices[i];
    return;
  }
  const place = Math.max(0, Math.min(1, rowShare)) * (knots - 1);
  const knot = Math.min(knots - 2, Math.floor(place));
  const share = place - knot;
  const at = 9 * knot;
  for (let i = 0; i < 9; i++) {
    const a = matrices[at + i];
    out[i] = a + share * (matrices[at + 9 + i] - a);
  }
}
