/**
 * The six axes as series: from a path of poses to pan, tilt, roll (rad) and lateral, vertical, axial (unit of the
 * centres), and their split into intended move and vibration.
 *
 * Nothing here depends on where the world's axes lie: each step between frames is measured in the camera's own axes,
 * half-way through the turn, and the steps are summed. For small angles pan = -w[1], tilt = -w[0], roll = -w[2],
 * lateral = d[0], vertical = -d[1], axial = d[2].
 */
import { fourthDifferenceSmooth } from '../numerics/index.js';
import { rotationFromVector } from '../optics/index.js';
import { sixAxes, type SixAxes } from '../run/index.js';
import { rotationBetween, rotationVector } from './rotation-steps.js';

/**
 * The cumulative series of a path of poses, used for measured and for true paths alike.
 *
 *   dtheta_t = log(R_t+1 R_t^T),   dd_t = exp(dtheta_t / 2) R_t (C_t+1 - C_t),   summed from 0 at frame 0
 *
 * @param rotations world-to-camera, 9 per frame, row-major
 * @param centres camera centres, 3 per frame, any unit of length
 * @returns one column per axis, length n, 0 at frame 0; a single frame gives zeros
 * @throws RangeError when the two do not hold the same number of frames
 */
export function poseSeries(rotations: Float64Array, centres: Float64Array): SixAxes {
  const n = rotations.length / 9;
  if (centres.length !== 3 * n) {
    throw new RangeError(`${n} rotations need ${3 * n} centre coordinates, got ${centres.length}`);
  }
  const series = sixAxes(() => new Float64Array(n));
  const { pan, tilt, roll, lateral, vertical, axial } = series;
  for (let t = 0; t + 1 < n; t++) {
    const [wx, wy, wz] = rotationVector(rotationBetween(rotations, t, t + 1));
    const half = rotationFromVector(wx / 2, wy / 2, wz / 2);
    const seen = [0, 0, 0];
    for (let r = 0; r < 3; r++) {
      for (let j = 0; j < 3; j++) {
        seen[r] += rotations[9 * t + 3 * r + j] * (centres[3 * t + 3 + j] - centres[3 * t + j]);
      }
    }
    const step = (r: number): number =>
      half[3 * r] * seen[0] + half[3 * r + 1] * seen[1] + half[3 * r + 2] * seen[2];
    pan[t + 1] = pan[t] - wy;
    tilt[t + 1] = tilt[t] - wx;
    roll[t + 1] = roll[t] - wz;
    lateral[t + 1] = lateral[t] + step(0);
    vertical[t + 1] = vertical[t] - step(1);
    axial[t + 1] = axial[t] + step(2);
  }
  return series;
}

/** A path and its two parts: path = intended + vibration on every axis. */
export interface SplitSeries {
  readonly intended: SixAxes;
  readonly vibration: SixAxes;
}

/**
 * Splits cumulative series at one frequency, the same for all axes, without phase shift.
 *
 * @param path evenly spaced at rateHz, units kept
 * @param cutoffHz half-power frequency between intended move and vibration, below rateHz / 2
 */
export function vibrationOf(path: SixAxes, rateHz: number, cutoffHz: number): SplitSeries {
  const intended = sixAxes((axis) => fourthDifferenceSmooth(path[axis], rateHz, cutoffHz));
  const vibration = sixAxes((axis) => path[axis].map((value, t) => value - intended[axis][t]));
  return { intended, vibration };
}
