/** A crop in the words of the set: pixels of the delivery that are left, and the lens whose whole picture looks like the cropped one, mm. */
import { tighterFocalLengthMm } from '../stabilise/index.js';

/** The same crop three ways; all three follow from the first. */
export interface CropOnSet {
  /** Of the frame width, both sides together. */
  readonly cropPercent: number;
  /** Columns that are left, whole px. */
  readonly leftPx: number;
  /** How many times tighter the picture is framed. */
  readonly tighter: number;
  /** Null where the lens is not known. */
  readonly focalLengthMm: number | null;
}

/**
 * The crop of a picture.
 *
 * @param cropPercent below 100
 * @example cropOnSet(6, 4096, 50) // { cropPercent: 6, leftPx: 3850, tighter: 1.0638, focalLengthMm: 53.19 }
 */
export function cropOnSet(cropPercent: number, widthPx: number, focalLengthMm?: number): CropOnSet {
  const left = 1 - cropPercent / 100;
  const tighter = 1 / left;
  return {
    cropPercent,
    leftPx: Math.round(widthPx * left),
    tighter,
    focalLengthMm: focalLengthMm === undefined ? null : tighterFocalLengthMm(focalLengthMm, tighter),
  };
}
