/**
 * Covariance of the six axes (pan, tilt, roll in rad; lateral, vertical, axial in scene units), from the covariances
 * of the frames.
 */
import { AXES } from '../run/index.js';

/** Which number of (w, d) each axis is, and its sign: pan = -w[1], tilt = -w[0], roll = -w[2], vertical = -d[1]. */
export const AXIS_SOURCE = [1, 0, 2, 3, 4, 5] as const;
export const AXIS_SIGN = [-1, -1, -1, 1, -1, 1] as const;

/** Mean covariances over some frames, 6x6 row-major in the order of AXES. */
export interface AxisCovariance {
  /** From noise independent between tracks. */
  readonly plain: Float64Array;
  /** With the error shared by regions of the picture. */
  readonly wide: Float64Array;
}

/**
 * Mean over the frames `counted`.
 *
 * @param white 36 per frame
 * @param coherent 36 per frame for a unit shift
 * @param shiftVariance variance of the shared shift, normalised
 * @param lengthScale factor from scene units to the unit wanted
 */
export function meanAxisCovariance(
  white: Float64Array,
  coherent: Float64Array,
  counted: readonly number[],
  shiftVariance: number,
  lengthScale: number,
): AxisCovariance {
  const plain = new Float64Array(36);
  const wide = new Float64Array(36);
  for (let r = 0; r < 6; r++) {
    for (let c = 0; c < 6; c++) {
      const at = 6 * AXIS_SOURCE[r] + AXIS_SOURCE[c];
      const factor = AXIS_SIGN[r] * AXIS_SIGN[c] * (r >= 3 ? lengthScale : 1) * (c >= 3 ? lengthScale : 1);
      let sum = 0;
      let shared = 0;
      for (const t of counted) {
        sum += white[36 * t + at];
        shared += coherent[36 * t + at];
      }
      const mean = factor / Math.max(counted.length, 1);
      plain[6 * r + c] = mean * sum;
      wide[6 * r + c] = mean * (sum + shiftVariance * shared);
    }
  }
  return { plain, wide };
}

/** Standard deviation of each axis in each frame, from the white covariances; columns in the order of AXES. */
export function axisDeviations(white: Float64Array, lengthScale: number): Float64Array[] {
  const frames = white.length / 36;
  return AXES.map((_, a) =>
    Float64Array.from(
      { length: frames },
      (_unused, t) => Math.sqrt(Math.max(0, white[36 * t + 7 * AXIS_SOURCE[a]])) * (a >= 3 ? lengthScale : 1),
    ),
  );
}
