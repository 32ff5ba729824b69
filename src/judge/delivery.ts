/**
 * What the picture has to satisfy: delivery size in px, most crop in per cent of the frame width, most shake left after
 * stabilising in px RMS of the delivery; and the defaults when the crew names no limit.
 */
import type { Assumption, Delivery, RunDocument } from '../run/index.js';
import { viewingDistanceHeights } from '../stabilise/index.js';

/** A delivery with every limit filled in, as the run document carries it. */
export type DeliveryLimits = RunDocument['delivery'];

/** How large a residual shake may be, as guidance: all in px of the delivery. */
export interface ShakeGuidance {
  /** Peak amplitude below which shake is not seen. */
  readonly notVisiblePeakPx: number;
  /** Peak amplitude up to which shake is seen but usable. */
  readonly usablePeakPx: number;
  /** RMS taken as the limit when the crew names none. */
  readonly limitRmsPx: number;
}

/**
 * Guidance for visible shake at a delivery size. It is guidance built from published rows, no standard:
 *
 * - not visible: 0.3 px peak at 1080 lines, about 20 arcsec at the distance where one pixel is one minute of arc
 *   (the design viewing distance of ITU-R BT.500 and BT.2022); it scales with the lines;
 * - visible but usable: 0.24 % of the picture width (Frielinghaus: unsteadiness up to there did not harm legibility);
 * - default limit: the geometric middle of the two, because sizes are judged by ratio, divided by sqrt 2 (peak to RMS of
 *   a sine) and rounded to one digit below the leading one.
 *
 * @example shakeGuidance(1920, 1080).limitRmsPx // 0.83
 */
export function shakeGuidance(widthPx: number, heightPx: number): ShakeGuidance {
  const notVisiblePeakPx = (0.3 * heightPx) / 1080;
  const usablePeakPx = 0.0024 * widthPx;
  const limitRmsPx = Number(Math.sqrt((notVisiblePeakPx * usablePeakPx) / 2).toPrecision(2));
  return { notVisiblePeakPx, usablePeakPx, limitRmsPx };
}

/**
 * The delivery when the crew names nothing.
 *
 * - 1920 x 1080: the commonest size of a finished picture (common practice, no source).
 * - Most crop 5 %: a 0.95 window, 48 px of play to each side of 1920; a 4096 px recording delivered at 3840 px has 6.25 %
 *   to give, so 5 % fits it and leaves a little for reframing.
 * - Most residual: see {@link shakeGuidance}.
 */
export const DEFAULT_DELIVERY: DeliveryLimits = Object.freeze({
  name: null,
  widthPx: 1920,
  heightPx: 1080,
  maxCropPercent: 5,
  maxResidualPx: shakeGuidance(1920, 1080).limitRmsPx,
  viewingDistanceHeights: viewingDistanceHeights({ widthPx: 1920, heightPx: 1080 }),
});

/**
 * Fills in what the crew left open. One side of the size alone is completed to 16:9 (whole, even px); a missing residual
 * limit follows the delivery size.
 *
 * @example resolveDelivery({ widthPx: 3840 }) // 3840 x 2160, 5 %, 1.7 px
 */
export function resolveDelivery(partial: Readonly<Delivery> = {}): DeliveryLimits {
  const widthPx =
    partial.widthPx ?? (partial.heightPx ? even((partial.heightPx * 16) / 9) : DEFAULT_DELIVERY.widthPx);
  const heightPx =
    partial.heightPx ?? (partial.widthPx ? even((partial.widthPx * 9) / 16) : DEFAULT_DELIVERY.heightPx);
  return {
    name: partial.name ?? null,
    widthPx,
    heightPx,
    maxCropPercent: partial.maxCropPercent ?? DEFAULT_DELIVERY.maxCropPercent,
    maxResidualPx: partial.maxResidualPx ?? shakeGuidance(widthPx, heightPx).limitRmsPx,
    viewingDistanceHeights: partial.viewingDistanceHeights ?? viewingDistanceHeights({ widthPx, heightPx }),
  };
}

/** Lists the limits of the delivery that were assumed rather than given, with how much each matters; empty when all were given. */
export function assumedDelivery(partial: Readonly<Delivery>): Assumption[] {
  const resolved = resolveDelivery(partial);
  const assumed: Assumption[] = [];
  if (partial.widthPx === undefined && partial.heightPx === undefined)
    assumed.push({
      name: 'delivery size',
      value: `${resolved.widthPx} x ${resolved.heightPx} px`,
      matters: 'The residual shake is counted in its pixels; the crop in per cent does not depend on it.',
    });
  if (partial.maxCropPercent === undefined)
    assumed.push({
      name: 'most crop',
      value: `${resolved.maxCropPercent} %`,
      matters: 'Decides the verdict: name what the framing can give.',
    });
  if (partial.maxResidualPx === undefined)
    assumed.push({
      name: 'most residual shake',
      value: `${resolved.maxResidualPx} px RMS`,
      matters: 'Decides the verdict: guidance between "not visible" and "visible but usable", no standard.',
    });
  return assumed;
}

function even(px: number): number {
  return 2 * Math.round(px / 2);
}
