/** How far a shake bends one frame of a sensor that is read row by row, in pixels, from its amplitude on one axis and its true frequency. */
import { readoutSkewPx } from '../../optics/index.js';
import type { Axis } from '../../run/index.js';

/** The picture and the time it takes to be read. */
export interface ReadPicture {
  /** Focal length in pixels of the picture. */
  readonly focalPx: number;
  readonly widthPx: number;
  /** From the first row to one past the last, s. */
  readonly readoutS: number;
}

/**
 * Largest difference of displacement along an upright line within one frame, px, at the worst moment of a shake.
 *
 * A sine of amplitude A in px moves the row at time t by A sin(2 pi f t + p). Over a readout R the largest difference of two rows
 * is 2 A sin(pi f R), reached where the middle row passes through zero, and 2 A as soon as half a period fits into the readout.
 * A in px by axis, at small angles:
 * - pan, lateral: focal length times angle (shift over distance); sideways: upright lines lean and bend;
 * - tilt, vertical: the same upwards: the picture is stretched and squeezed;
 * - roll: half the width times angle, at the left or right edge, where level lines turn against each other from top to bottom;
 * - axial: half the width times shift over distance, at the left or right edge, where upright lines lean.
 *
 * @param axis the axis that shakes
 * @param amplitude of one row, as its exposure shows it: radians for angles, shift over distance of what is looked at (no unit) for
 *   translation. Frames whose tracks are averaged over all rows show f R > 0.3 smaller than each row by |sinc(f R)|.
 * @param trueHz of the motion itself: may lie beyond half the frame rate
 * @returns px of the picture, >= 0; 0 without a readout
 * @remarks Source: row r is exposed at t0 + r R / rows; own derivation from it.
 * @example wobblePx('pan', 0.0025, 8, { focalPx: 2000, widthPx: 1920, readoutS: 0.015 }) // 3.681
 */
export function wobblePx(axis: Axis, amplitude: number, trueHz: number, picture: ReadPicture): number {
  return readoutSkewPx(amplitude * reachPx(axis, picture), trueHz, picture.readoutS);
}

/** Displacement in px for each radian, or each part of the distance, where it counts most. */
function reachPx(axis: Axis, { focalPx, widthPx }: ReadPicture): number {
  return axis === 'roll' || axis === 'axial' ? widthPx / 2 : focalPx;
}
