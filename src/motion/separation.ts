/**
 * How well a clip tells translation from rotation, frame by frame: Fisher information of each pose, and how strongly the
 * errors of pan and lateral, of tilt and vertical go together. Angles in rad, lengths in the unit of the motion.
 */
import { invert3, invert6 } from '../numerics/index.js';
import { AXIS_SIGN, AXIS_SOURCE } from './axis-noise.js';

/** Positions in the order of AXES. */
const PAN = 0;
const TILT = 1;
const LATERAL = 3;
const VERTICAL = 4;

/** Correlations of errors, -1..1: near 1 in size, the two axes cannot be told apart. */
export interface SplitCorrelation {
  readonly panLateral: number;
  readonly tiltVertical: number;
}

/** Correlations in a mean covariance of the axes (6x6, order of AXES). */
export function splitCorrelation(covariance: Float64Array): SplitCorrelation {
  const of = (a: number, b: number): number =>
    covariance[6 * a + b] / Math.sqrt(covariance[7 * a] * covariance[7 * b]);
  return { panLateral: of(PAN, LATERAL), tiltVertical: of(TILT, VERTICAL) };
}

/**
 * Fisher information of the pose of some frames: 36 numbers a frame, row-major, in the order of AXES; the inverse of the
 * covariance that the floors are made from.
 *
 * @param white covariances of all frames, 36 each, turn and displacement in camera axes, scene units
 * @param frames the frames wanted
 * @param lengthScale factor from scene units to the unit of the motion
 * @param rotationOnly true where only the three turns were measured: the rest of the information is zero
 */
export function poseInformation(
  white: Float64Array,
  frames: readonly number[],
  lengthScale: number,
  rotationOnly: boolean,
): Float64Array {
  const size = rotationOnly ? 3 : 6;
  const out = new Float64Array(36 * frames.length);
  const covariance = new Float64Array(36);
  const inverse = new Float64Array(36);
  const unit = (axis: number): number => AXIS_SIGN[axis] * (axis >= LATERAL ? lengthScale : 1);
  frames.forEach((t, k) => {
    for (let r = 0; r < size; r++) {
      for (let c = 0; c < size; c++) {
        covariance[size * r + c] = unit(r) * unit(c) * white[36 * t + 6 * AXIS_SOURCE[r] + AXIS_SOURCE[c]];
      }
    }
    const inverted = rotationOnly ? invert3(covariance, 0, inverse, 0) : invert6(covariance, 0, inverse, 0);
    if (!inverted) return;
    for (let r = 0; r < size; r++) {
      for (let c = 0; c < size; c++) out[36 * k + 6 * r + c] = inverse[size * r + c];
    }
  });
  return out;
}
