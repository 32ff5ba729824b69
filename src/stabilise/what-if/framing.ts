/**
 * How much wider to frame so that, after the crop, exactly the wanted picture is left: from corrections in radians and the
 * camera in pixels, by the exact crop code.
 *
 * The wanted picture is what a lens of the focal length used, drawing straight lines, shows without crop. A window of
 * 1 / zoom of the frame of a lens k times as long shows it when 1 / zoom = k. A wider frame holds a larger part of every
 * turned frame, so share / k falls with k and there is one such k. Own derivation.
 */
import type { Camera, PictureSize } from '../../optics/index.js';
import { otherConditionsTexts } from '../../texts/index.js';
import type { Motion } from '../../motion/index.js';
import { cropReserve, type CropReserve } from './crop-reserve.js';
import { heightPerWidth, horizontalCropPercent, MOST_CROP_PERCENT } from '../crop/exact-crop.js';
import { fallingRoot } from './falling-root.js';
import type { Corrections } from '../types.js';
import { cropAtFocal } from './what-if-focal.js';

/**
 * What a repeat of the same stretch at the same length may need: 19 of 20 stay below this multiple of the crop (own
 * trials on made-up floors: 0.74 to 1.35).
 */
export const REPEAT_CROP_FACTOR = 1.35;
/** A billionth of the focal length, as fine as the crop itself is computed. */
const FACTOR_TOLERANCE = 1e-10;
/** What the figures of a framing rest on. */
export const FRAMING_ASSUMES = otherConditionsTexts.widerLens;

/** One way to frame. */
export interface Framing {
  /** Focal length to use, as a factor of the one whose picture is wanted; the longest that still delivers it. */
  readonly focalFactor: number;
  /** The same in millimetres; null when the focal length used is not known. */
  readonly focalLengthMm: number | null;
  /** How much wider than the wanted picture the frame is, per cent of the width of the picture. */
  readonly overscanPercent: number;
  /** The same in columns of the delivery, left and right together. */
  readonly overscanPx: number;
  /** What the crop then takes of the wider frame, per cent of its width, reserve included. */
  readonly cropPercent: number;
}

/** How to frame for a wanted picture; each is null when more than half of the frame would have to go. */
export interface FramingPlan {
  /** For this very take, to the last pixel. */
  readonly bare: Framing | null;
  /** For this very take, with the reserve for resampling and measuring error. */
  readonly reserved: Framing | null;
  /** The figure to use on the day: for a repeat of the move on the same floor, with the reserve. */
  readonly forRepeat: Framing | null;
  /** The reserve at the focal length used. */
  readonly reserve: CropReserve;
  readonly assumes: string;
}

/** What a framing is computed from. */
export interface FramingInput {
  readonly motion: Motion;
  readonly corrections: Corrections;
  /** Camera of the analysis frames. */
  readonly camera: Camera;
  readonly delivery: PictureSize;
  /** Size of the clip; that of the analysis frames unless given. */
  readonly source?: PictureSize;
  /** Focal length that was used; null when it is not known in millimetres. */
  readonly focalLengthMm: number | null;
}

/**
 * The focal lengths that leave the wanted picture after the crop.
 *
 * @example framingForPicture(input).forRepeat?.overscanPercent // frame that much wider
 */
export function framingForPicture(input: FramingInput): FramingPlan {
  const { motion, corrections, delivery, focalLengthMm, source = input.camera } = input;
  const camera: Camera = { ...input.camera, distortion: null };
  const shape = heightPerWidth(delivery);
  const reserveAt = (factor: number): CropReserve =>
    cropReserve(motion, corrections, { ...camera, focalPx: factor * camera.focalPx }, shape, source);
  const framing = (headroom: number, withReserve: boolean): Framing | null => {
    const share = (factor: number): number => {
      const { zoom } = cropAtFocal(corrections, camera, shape, factor);
      return 1 - headroom * (1 - 1 / zoom) - (withReserve ? reserveAt(factor).share : 0);
    };
    const focalFactor = whereShareIsFactor(share);
    if (focalFactor === null) return null;
    const overscanPercent = 100 * (1 / focalFactor - 1);
    return {
      focalFactor,
      focalLengthMm: focalLengthMm === null ? null : focalFactor * focalLengthMm,
      overscanPercent,
      overscanPx: (delivery.widthPx * overscanPercent) / 100,
      cropPercent: horizontalCropPercent(1 / focalFactor),
    };
  };
  return {
    bare: framing(1, false),
    reserved: framing(1, true),
    forRepeat: framing(REPEAT_CROP_FACTOR, true),
    reserve: reserveAt(1),
    assumes: FRAMING_ASSUMES,
  };
}

/** The k at which k of the width is left; null when that is less than half. */
function whereShareIsFactor(share: (factor: number) => number): number | null {
  const least = 1 - MOST_CROP_PERCENT / 100;
  const over = (factor: number): number => share(factor) - factor;
  return over(least) < 0 ? null : fallingRoot(over, least, 1, FACTOR_TOLERANCE);
}

/**
 * The focal length whose uncropped picture looks like the cropped one: f zoom.
 *
 * @example tighterFocalLengthMm(35, 1.04) // 36.4
 */
export function tighterFocalLengthMm(focalLengthMm: number, zoom: number): number {
  return focalLengthMm * zoom;
}
