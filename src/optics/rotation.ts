/**
 * Rotations as 3x3 matrices (row-major, length 9) and as rotation vectors in radians, axes x right, y down, z forward.
 */

/** Below this angle the series of sin and cos are used, exact to double precision there. */
const SMALL_ANGLE_RAD = 1e-4;

/**
 * The rotation matrix exp([w]) of the rotation vector w = (wx, wy, wz) in radians (Rodrigues).
 *
 * @example rotationFromVector(0, 0, Math.PI / 2) // turns x into y
 */
export function rotationFromVector(wx: number, wy: number, wz: number): Float64Array {
  const angle = Math.hypot(wx, wy, wz);
  const a2 = angle * angle;
  const s = angle < SMALL_ANGLE_RAD ? 1 - a2 / 6 : Math.sin(angle) / angle;
  const c = angle < SMALL_ANGLE_RAD ? 0.5 - a2 / 24 : (1 - Math.cos(angle)) / a2;
  return Float64Array.of(
    1 - c * (wy * wy + wz * wz),
    c * wx * wy - s * wz,
    c * wx * wz + s * wy,
    c * wx * wy + s * wz,
    1 - c * (wx * wx + wz * wz),
    c * wy * wz - s * wx,
    c * wx * wz - s * wy,
    c * wy * wz + s * wx,
    1 - c * (wx * wx + wy * wy),
  );
}

/**
 * World-to-camera rotation of a camera that panned, tilted and rolled by small angles from its reference orientation.
 *
 * Signs as the operator names them (pan right, tilt up, roll clockwise seen from behind, radians), taken together as one
 * rotation vector, so that no order of the three has to be chosen: w = (-tilt, -pan, -roll).
 */
export function rotationFromAngles(panRad: number, tiltRad: number, rollRad: number): Float64Array {
  return rotationFromVector(-tiltRad, -panRad, -rollRad);
}

/** Product A B of two 3x3 matrices, row-major, as a new array. */
export function multiply3(a: ArrayLike<number>, b: ArrayLike<number>): Float64Array {
  const out = new Float64Array(9);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++)
      out[3 * i + j] = a[3 * i] * b[j] + a[3 * i + 1] * b[3 + j] + a[3 * i + 2] * b[6 + j];
  }
  return out;
}
