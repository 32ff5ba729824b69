/**
 * What the picture has to satisfy: delivery size in px, most crop in per cent of the frame width, most shake left after
 * stabilising in px RMS of the delivery, viewing distance in heights of the screen; and what is taken when the crew names less.
 */
import type { Assumption, Delivery, ResolvedDelivery } from '../run/index.js';
import { deliveryTexts } from '../texts/index.js';
import { screenLines, viewingDistanceHeights, type ViewedPicture } from '../stabilise/index.js';
import { DELIVERY_PRESETS, presetName, type DeliveryPresets } from './presets.js';

/** A delivery with every limit filled in, as the run document carries it. */
export type DeliveryLimits = ResolvedDelivery;

/** How large a residual shake may be, as guidance: all in px of the delivery. */
export interface ShakeGuidance {
  /** Peak amplitude below which shake is not seen. */
  readonly notVisiblePeakPx: number;
  /** Peak amplitude up to which shake is seen but usable. */
  readonly usablePeakPx: number;
  /** RMS taken as the limit when the crew names none. */
  readonly limitRmsPx: number;
}

/** Where the rows behind the guidance were read: a screen of 1920 x 1080 at its design distance. */
const READ_AT = { lines: 1080, heights: 3.1, notVisiblePeakPx: 0.3, usablePeakPx: 0.0024 * 1920 } as const;

/**
 * Guidance for visible shake. It is guidance built from published rows, no standard; both rows are angles at the eye, so in px they
 * grow in step with the lines of the screen and with the distance it is watched from:
 *
 * - not visible: 20 arcsec peak, which is 0.3 px at 1080 lines and 3.1 heights of the screen, the distance where one pixel is one
 *   minute of arc (design viewing distance of ITU-R BT.500 and BT.2022);
 * - visible but usable: 0.24 % of the picture width at that distance (Frielinghaus: unsteadiness up to there did not harm
 *   legibility), 4.6 px, 4.7 minutes of arc;
 * - default limit: the geometric middle of the two, because sizes are judged by ratio, divided by sqrt 2 (peak to RMS of
 *   a sine) and rounded to one digit below the leading one.
 *
 * @example shakeGuidance({ widthPx: 1920, heightPx: 1080, viewingDistanceHeights: 3.1 }).limitRmsPx // 0.83
 */
export function shakeGuidance(delivery: ViewedPicture): ShakeGuidance {
  const pxPerAngle =
    (screenLines(delivery) * delivery.viewingDistanceHeights) / (READ_AT.lines * READ_AT.heights);
  const notVisiblePeakPx = READ_AT.notVisiblePeakPx * pxPerAngle;
  const usablePeakPx = READ_AT.usablePeakPx * pxPerAngle;
  const limitRmsPx = Number(Math.sqrt((notVisiblePeakPx * usablePeakPx) / 2).toPrecision(2));
  return { notVisiblePeakPx, usablePeakPx, limitRmsPx };
}

/**
 * The delivery when the crew names nothing.
 *
 * - 1920 x 1080: the commonest size of a finished picture (common practice, no source).
 * - Most crop 5 %: a 0.95 window, 48 px of play to each side of 1920; a 4096 px recording delivered at 3840 px has 6.25 %
 *   to give, so 5 % fits it and leaves a little for reframing.
 * - Viewing distance: the design distance of 1080 lines.
 * - Most residual: see {@link shakeGuidance}.
 */
export const DEFAULT_DELIVERY: DeliveryLimits = Object.freeze(
  withLimits({ name: null, widthPx: 1920, heightPx: 1080, maxCropPercent: 5 }),
);

/**
 * Fills in what the crew left open.
 *
 * A name of the table fills in what is not given beside it; any other name is the crew's own and fills in nothing. One side of the
 * size alone is completed to 16:9 (whole, even px); a missing viewing distance is the design distance of that size; a missing residual
 * limit follows size and distance.
 *
 * @param presets what names stand for; the built-in ones unless the crew has a file
 * @example resolveDelivery({ name: 'big screen' }) // 3996 x 2160, 3 %, 1 px RMS, 1.85 heights
 */
export function resolveDelivery(
  partial: Readonly<Delivery> = {},
  presets: DeliveryPresets = DELIVERY_PRESETS,
): DeliveryLimits {
  const { name = null, ...given } = named(partial, presets);
  const { maxCropPercent = DEFAULT_DELIVERY.maxCropPercent } = given;
  const widthPx =
    given.widthPx ?? (given.heightPx ? even((given.heightPx * 16) / 9) : DEFAULT_DELIVERY.widthPx);
  const heightPx =
    given.heightPx ?? (given.widthPx ? even((given.widthPx * 9) / 16) : DEFAULT_DELIVERY.heightPx);
  return withLimits({ ...given, name, widthPx, heightPx, maxCropPercent });
}

/**
 * A delivery whose name stands in the table with everything filled in, so that nothing of it counts as assumed; any other as it is.
 *
 * @example deliveryByName({ name: 'Phone', maxCropPercent: 3 }, presets) // 1920 x 1080, 3 %, 1.3 px RMS, 5 heights
 */
export function deliveryByName(partial: Readonly<Delivery>, presets: DeliveryPresets): Delivery {
  if (partial.name === undefined || presetName(partial.name, presets) === null) return { ...partial };
  const { name, ...limits } = resolveDelivery(partial, presets);
  return { ...limits, name: name ?? partial.name };
}

/**
 * Lists the limits of the delivery that were assumed rather than given, with how much each matters; empty when all were given or a
 * delivery of the built-in table was named.
 */
export function assumedDelivery(partial: Readonly<Delivery>): Assumption[] {
  const given = deliveryByName(partial, DELIVERY_PRESETS);
  const resolved = resolveDelivery(partial);
  const { size, mostCrop, viewing, mostLeft } = deliveryTexts;
  const assumed: Assumption[] = [];
  if (given.widthPx === undefined && given.heightPx === undefined)
    assumed.push({
      name: size.name,
      value: size.value(resolved.widthPx, resolved.heightPx),
      matters: size.matters,
    });
  if (given.maxCropPercent === undefined)
    assumed.push({
      name: mostCrop.name,
      value: mostCrop.value(resolved.maxCropPercent),
      matters: mostCrop.matters,
    });
  if (given.viewingDistanceHeights === undefined)
    assumed.push({
      name: viewing.name,
      value: viewing.value(Number(resolved.viewingDistanceHeights.toPrecision(2))),
      matters: given.maxResidualPx === undefined ? viewing.mattersForLimit : viewing.mattersForAngle,
    });
  if (given.maxResidualPx === undefined)
    assumed.push({
      name: mostLeft.name,
      value: mostLeft.value(resolved.maxResidualPx),
      matters: mostLeft.matters,
    });
  return assumed;
}

/** What a name of the table stands for, under what was given beside it; the name as the table writes it. */
function named(partial: Readonly<Delivery>, presets: DeliveryPresets): Delivery {
  const name = partial.name === undefined ? null : presetName(partial.name, presets);
  if (name === null) return partial;
  // A size on the command line is meant as a whole: one side of it does not mix with the other side of the table.
  const { widthPx, heightPx, ...rest } = presets[name];
  const size = partial.widthPx === undefined && partial.heightPx === undefined ? { widthPx, heightPx } : {};
  return { ...rest, ...size, ...definedOf(partial), name };
}

function definedOf(partial: Readonly<Delivery>): Delivery {
  return Object.fromEntries(Object.entries(partial).filter(([, value]) => value !== undefined));
}

/** The limits that follow from the size, where they were not given. */
function withLimits(
  limits: Pick<DeliveryLimits, 'name' | 'widthPx' | 'heightPx' | 'maxCropPercent'> & Omit<Delivery, 'name'>,
): DeliveryLimits {
  const { name, widthPx, heightPx, maxCropPercent } = limits;
  const heights = limits.viewingDistanceHeights ?? viewingDistanceHeights({ widthPx, heightPx });
  const maxResidualPx =
    limits.maxResidualPx ?? shakeGuidance({ widthPx, heightPx, viewingDistanceHeights: heights }).limitRmsPx;
  return { name, widthPx, heightPx, maxCropPercent, maxResidualPx, viewingDistanceHeights: heights };
}

function even(px: number): number {
  return 2 * Math.round(px / 2);
}
