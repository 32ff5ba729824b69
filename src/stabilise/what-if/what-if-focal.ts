/**
 * Crop and residue of the same shake on another lens: from the angles of a clip in radians and a camera in pixels, by the
 * exact crop code.
 *
 * Angles do not depend on the lens, so another focal length is the same corrections with another K.
 */
import type { Camera } from '../../optics/index.js';
import { exactCrop } from '../crop/exact-crop.js';
import { fallingRoot } from './falling-root.js';
import { otherConditionsTexts } from '../../texts/index.js';
import type { Corrections, ExactCrop } from '../types.js';

/** Lenses that a crew is likely to have with it, millimetres. */
export const USUAL_FOCAL_LENGTHS_MM = [18, 25, 35, 50, 75, 100] as const;
/** Taken when the focal length in millimetres is not known. */
export const FOCAL_FACTORS = [0.5, 0.75, 1, 1.5, 2, 3] as const;
/** What every figure at another focal length rests on. */
export const FOCAL_ASSUMES = otherConditionsTexts.otherLens;

/** Focal factors between which the longest usable one is looked for, and how finely before the crossing is solved. */
const SHORTEST_FACTOR = 0.1;
const LONGEST_FACTOR = 10;
const FACTOR_STEP = 1.5;
const FACTOR_TOLERANCE = 1e-9;
/** Far enough past a solved limit to see which one is broken. */
const JUST_BEYOND = 1 + 1e-6;

/** Delivery pixels RMS that are left at a focal length and a zoom; null when it is not known. */
export type ResidualAtFocal = (camera: Camera, zoom: number) => number | null;

/** Crop and residue at one focal length. */
export interface FocalRow {
  /** Of the focal length that was used. */
  readonly focalFactor: number;
  /** Null when the focal length of the clip is not known in millimetres. */
  readonly focalLengthMm: number | null;
  readonly used: boolean;
  readonly cropPercent: number;
  readonly zoom: number;
  /** False when a frame needs more than half of the width. */
  readonly coverable: boolean;
  /** Delivery px RMS; null when unknown. */
  readonly residualPx: number | null;
}

/** What a table over focal lengths is made from. */
export interface FocalWhatIf {
  readonly corrections: Corrections;
  /** Camera of the analysis frames. */
  readonly camera: Camera;
  /** Height per width of the delivery. */
  readonly shape: number;
  /** Focal length that was used; null when it is not known in millimetres. */
  readonly focalLengthMm: number | null;
  readonly residualPx?: ResidualAtFocal;
}

/**
 * The camera with a lens `focalFactor` times as long.
 *
 * Exactly the camera given at 1. Any other lens has another distortion, which nobody knows: it is left out.
 *
 * @throws RangeError unless focalFactor is positive and finite
 */
export function cameraAtFocal(camera: Camera, focalFactor: number): Camera {
  if (!(focalFactor > 0 && Number.isFinite(focalFactor)))
    throw new RangeError(`focalFactor must be a positive number, got ${focalFactor}`);
  return focalFactor === 1 ? camera : { ...camera, focalPx: camera.focalPx * focalFactor, distortion: null };
}

/**
 * The exact crop that the same corrections cost on a lens `focalFactor` times as long.
 *
 * @param shape height per width of the delivery
 * @returns at 1 what the exact crop gives for the camera itself, bit for bit
 * @throws RangeError unless focalFactor is positive and finite
 */
export function cropAtFocal(
  corrections: Corrections,
  camera: Camera,
  shape: number,
  focalFactor: number,
): ExactCrop {
  return exactCrop(corrections, cameraAtFocal(camera, focalFactor), shape);
}

/**
 * Crop and residue over the usual focal lengths and the one used, from short to long; over factors of it when its
 * millimetres are not known.
 */
export function focalTable(input: FocalWhatIf): FocalRow[] {
  const { focalLengthMm } = input;
  if (focalLengthMm === null) return FOCAL_FACTORS.map((factor) => focalRow(input, factor));
  return [...new Set([...USUAL_FOCAL_LENGTHS_MM, focalLengthMm])]
    .sort((a, b) => a - b)
    .map((mm) => ({ ...focalRow(input, mm / focalLengthMm), focalLengthMm: mm }));
}

/** Crop and residue at one focal length, as a factor of the one used. */
export function focalRow(input: FocalWhatIf, focalFactor: number): FocalRow {
  const { corrections, camera, shape, focalLengthMm, residualPx } = input;
  const { zoom, cropPercent, coverable } = cropAtFocal(corrections, camera, shape, focalFactor);
  return {
    focalFactor,
    focalLengthMm: focalLengthMm === null ? null : focalLengthMm * focalFactor,
    used: focalFactor === 1,
    cropPercent,
    zoom,
    coverable,
    residualPx: residualPx?.(cameraAtFocal(camera, focalFactor), zoom) ?? null,
  };
}

/** Limits of a delivery that a lens has to keep. */
export interface FocalLimits {
  readonly maxCropPercent: number;
  readonly maxResidualPx: number;
}

/** The longest lens that keeps the limits of a delivery. */
export interface LongestFocal {
  readonly focalFactor: number;
  readonly focalLengthMm: number | null;
  readonly cropPercent: number;
  readonly residualPx: number | null;
  /** Which limit a longer lens would break; null when even ten times the focal length breaks none. */
  readonly limitedBy: 'crop' | 'residual' | null;
}

/**
 * The longest focal length at which crop and residue stay within their limits, to a billionth of it.
 *
 * Looked for from ten times the focal length used down to a tenth. A residue that is not known limits nothing. Crop grows
 * with the focal length while the lens sees less than 90 deg; a wider one may need more again.
 *
 * @returns null when no lens of that range keeps the limits: roll costs the same on every lens
 */
export function longestFocalWithinLimits(input: FocalWhatIf, limits: FocalLimits): LongestFocal | null {
  const roomAt = (factor: number): { crop: number; residual: number } => {
    const { cropPercent, residualPx } = focalRow(input, factor);
    return {
      crop: limits.maxCropPercent - cropPercent,
      residual: residualPx === null ? Infinity : limits.maxResidualPx - residualPx,
    };
  };
  const least = (factor: number): number => {
    const { crop, residual } = roomAt(factor);
    return Math.min(crop, residual);
  };
  let tooLong: number | null = null;
  for (let factor = LONGEST_FACTOR; factor >= SHORTEST_FACTOR; factor /= FACTOR_STEP) {
    if (least(factor) < 0) {
      tooLong = factor;
      continue;
    }
    const longest =
      tooLong === null ? factor : fallingRoot(least, factor, tooLong, FACTOR_TOLERANCE * factor);
    const { cropPercent, residualPx, focalLengthMm } = focalRow(input, longest);
    const limitedBy = roomAt(longest * JUST_BEYOND).crop < 0 ? 'crop' : 'residual';
    return {
      focalFactor: longest,
      focalLengthMm,
      cropPercent,
      residualPx,
      limitedBy: tooLong === null ? null : limitedBy,
    };
  }
  return null;
}
