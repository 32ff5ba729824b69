/** Whether the pixels of a clip still fill the delivery after a crop, from sizes in pixels. */
import type { PictureSize } from '../../optics/index.js';
import { heightPerWidth, horizontalCropPercent, wholeHalfWidth } from '../crop/exact-crop.js';

/** A window this much of a pixel short of a whole one counts as whole: rounding of the zoom. */
const ROUNDING_PX = 1e-6;

/** Source pixels inside a crop window against those of the delivery. */
export interface DeliveryPixels {
  /** True when no pixel of the delivery has to be made up. */
  readonly holds: boolean;
  /** Whole source pixels inside the window. */
  readonly leftWidthPx: number;
  readonly leftHeightPx: number;
  /** Delivery pixels per source pixel along one side: above 1 the picture is enlarged. */
  readonly upscale: number;
  /** Largest crop, per cent of the width, at which the delivery would hold; null when it does not even uncropped. */
  readonly largestCropPercent: number | null;
}

/**
 * What is left of a clip at a zoom, against its delivery.
 *
 * @param source size of the clip in square pixels
 * @param zoom of the static crop, >= 1
 * @throws RangeError when zoom is below 1 or not finite
 * @example deliveryPixels({ widthPx: 4096, heightPx: 2160 }, { widthPx: 4096, heightPx: 2160 }, 1 / 0.94).leftWidthPx // 3850
 */
export function deliveryPixels(source: PictureSize, delivery: PictureSize, zoom: number): DeliveryPixels {
  if (!(zoom >= 1 && Number.isFinite(zoom))) throw new RangeError(`zoom must be at least 1, got ${zoom}`);
  const shape = heightPerWidth(delivery);
  const wholePx = 2 * wholeHalfWidth(source, shape);
  const leftPx = wholePx / zoom;
  const spare = wholePx / delivery.widthPx;
  return {
    holds: leftPx + ROUNDING_PX >= delivery.widthPx,
    leftWidthPx: Math.floor(leftPx + ROUNDING_PX),
    leftHeightPx: Math.floor(leftPx * shape + ROUNDING_PX),
    upscale: delivery.widthPx / leftPx,
    largestCropPercent: spare >= 1 ? horizontalCropPercent(spare) : null,
  };
}
