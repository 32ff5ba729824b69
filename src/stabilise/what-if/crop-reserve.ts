/**
 * What to keep in reserve beyond the exact crop, as a share of the picture width: for the resampling at the border and for
 * the error of the measured angles (radians).
 *
 * Own derivation. The outermost half pixel of a picture has neighbours on one side only, so an interpolated value
 * there is a guess. The angles err frame by frame, and where coding took motion away they err in proportion to it.
 */
import { TWO_SIDED_95 } from '../../numerics/index.js';
import type { Camera, PictureSize } from '../../optics/index.js';
import { ANGULAR_AXES, type AngularAxis } from '../../run/index.js';
import type { Motion } from '../../motion/index.js';
import { exactZoomForPath, wholeHalfWidth } from '../crop/exact-crop.js';
import type { AngularVibration, Corrections } from '../types.js';

/** Source pixels at each side of the picture that have neighbours on one side only. */
const RESAMPLING_PX = 0.5;

/** Shares of the width of the uncropped window, both sides together. */
export interface CropReserve {
  readonly resamplingShare: number;
  readonly measuringShare: number;
  /** The sum of both. */
  readonly share: number;
}

/**
 * The reserve of one set of corrections on one camera.
 *
 * Half a source pixel at the side where it costs most, plus the crop that one more turn by the 95 % error of the angles
 * would cost: pan and tilt eat from different sides, so the larger counts, and roll adds to it in squares.
 *
 * @param shape height per width of the delivery
 * @param source size of the pictures that will be resampled; those of the analysis unless given
 * @example cropReserve(motion, corrections, camera, 9 / 16, { widthPx: 3840, heightPx: 2160 }).share // about 0.001
 */
export function cropReserve(
  motion: Motion,
  corrections: Corrections,
  camera: Camera,
  shape: number,
  source: PictureSize = camera,
): CropReserve {
  const halfWidthPx = wholeHalfWidth(source, shape);
  const resamplingShare = RESAMPLING_PX / Math.min(halfWidthPx, halfWidthPx * shape);
  const error = angleErrors95(motion, corrections.vibration);
  const costOf = (axis: AngularAxis): number => {
    const one: AngularVibration = {
      pan: Float64Array.of(0),
      tilt: Float64Array.of(0),
      roll: Float64Array.of(0),
      [axis]: Float64Array.of(error[axis]),
    };
    return 1 - 1 / exactZoomForPath(one, camera, shape).zoom;
  };
  const measuringShare = Math.hypot(Math.max(costOf('pan'), costOf('tilt')), costOf('roll'));
  return { resamplingShare, measuringShare, share: resamplingShare + measuringShare };
}

/**
 * 95 % error of the angle of a frame that decides a crop, radians per axis.
 *
 * Its own noise, and the largest correction times what the interval of the axis leaves open above its RMS. An axis
 * without an interval of its own stands by its noise floor alone.
 */
export function angleErrors95(
  motion: Motion,
  vibration: AngularVibration,
): Readonly<Record<AngularAxis, number>> {
  const out: Record<AngularAxis, number> = { pan: 0, tilt: 0, roll: 0 };
  for (const axis of ANGULAR_AXES) {
    const { status, rms, ci95, floor, plainFloor } = motion.axes[axis];
    const stands = (status === 'value' || status === 'wide') && rms !== null && rms > 0 && ci95 !== null;
    if (!stands) {
      out[axis] = TWO_SIDED_95 * floor;
      continue;
    }
    let largest = 0;
    for (const angle of vibration[axis]) largest = Math.max(largest, Math.abs(angle));
    out[axis] = Math.hypot(TWO_SIDED_95 * plainFloor, largest * Math.max(0, ci95[1] / rms - 1));
  }
  return out;
}
