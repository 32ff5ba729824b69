/**
 * Rotations in columns of 3x3 matrices: the rotation vector between two orientations and small turns, radians.
 * World to camera, R <- exp([w]) R; w = (-tilt, -pan, -roll) for small angles.
 */
import { rotationFromVector } from '../optics/index.js';
import type { Scene } from './scene.js';

/**
 * Rotation vector w of a rotation matrix R = exp([w]), |w| < pi (at pi the axis is lost and w is 0).
 *
 * @param matrix 3x3 row-major
 */
export function rotationVector(matrix: ArrayLike<number>): [number, number, number] {
  const m = matrix;
  const vx = (m[7] - m[5]) / 2;
  const vy = (m[2] - m[6]) / 2;
  const vz = (m[3] - m[1]) / 2;
  const sine = Math.hypot(vx, vy, vz);
  const angle = Math.atan2(sine, (m[0] + m[4] + m[8] - 1) / 2);
  const factor = sine > 1e-9 ? angle / sine : 1;
  return [vx * factor, vy * factor, vz * factor];
}

/** R_to R_from^T of two frames in a column of rotations (9 per frame), as a new matrix. */
export function rotationBetween(rotations: Float64Array, from: number, to: number): Float64Array {
  const out = new Float64Array(9);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      let sum = 0;
      for (let k = 0; k < 3; k++) sum += rotations[9 * to + 3 * i + k] * rotations[9 * from + 3 * j + k];
      out[3 * i + j] = sum;
    }
  }
  return out;
}

/** R_t <- exp([w]) R_t in place; w is the turn in the camera's own axes. */
export function turn(rotations: Float64Array, t: number, wx: number, wy: number, wz: number): void {
  const e = rotationFromVector(wx, wy, wz);
  const o = 9 * t;
  for (let j = 0; j < 3; j++) {
    const r0 = rotations[o + j];
    const r1 = rotations[o + 3 + j];
    const r2 = rotations[o + 6 + j];
    for (let i = 0; i < 3; i++)
      rotations[o + 3 * i + j] = e[3 * i] * r0 + e[3 * i + 1] * r1 + e[3 * i + 2] * r2;
  }
}

/** C_t <- C_t + R_t^T d in place: moves the camera by d along its own axes (right, down, forward). */
export function moveCentre(
  rotations: Float64Array,
  centres: Float64Array,
  t: number,
  dx: number,
  dy: number,
  dz: number,
): void {
  for (let j = 0; j < 3; j++) {
    centres[3 * t + j] +=
      rotations[9 * t + j] * dx + rotations[9 * t + 3 + j] * dy + rotations[9 * t + 6 + j] * dz;
  }
}

/**
 * Moves all poses in place.
 *
 * @param steps 6 per frame: turn w (rad), then displacement d along the camera's axes as they were before the turn
 */
export function movePoses(
  { rotations, centres }: Pick<Scene, 'rotations' | 'centres'>,
  steps: Float64Array,
): void {
  for (let t = 0; 6 * t < steps.length; t++) {
    const s = 6 * t;
    moveCentre(rotations, centres, t, steps[s + 3], steps[s + 4], steps[s + 5]);
    turn(rotations, t, steps[s], steps[s + 1], steps[s + 2]);
  }
}
