/**
 * Named deliveries in our own words: size in px, the most crop in per cent of the frame width, and from how far the picture is watched
 * in heights of the 16:9 screen. The most shake left follows from size and distance, see `shakeGuidance`.
 */
import type { Delivery } from '../run/index.js';
import { deliveryTexts } from '../texts/index.js';

/** What a name stands for; what an entry of the crew leaves open is taken as for a delivery without a name. */
export type DeliveryPreset = Omit<Delivery, 'name'>;

/** Deliveries by name, in the order in which they are listed. */
export type DeliveryPresets = Readonly<Record<string, DeliveryPreset>>;

const { presets } = deliveryTexts;

/**
 * The built-in deliveries. A crew's file may override each of them and add its own (`parseDeliveries`).
 *
 * - **phone**, held sideways. 1920 x 1080: the commonest size that is sent to phones (common practice, no source). 5 H: a picture
 *   6.6 cm high at 33 cm (our own tape measure, no source). Crop 10 %: it is recorded with twice the pixels or more, so that
 *   enlarging costs no sharpness there; what is left to lose is framing.
 * - **phone upright**. 1080 x 1920 (common practice, no source). 2.8 H: the same phone and arm, the picture 11.8 cm high. Crop 10 % as
 *   above.
 * - **web HD**. 1920 x 1080 at 3.1 H: the design distance of 1080 lines, where a pixel is a minute of arc (ITU-R BT.500 and BT.2022:
 *   3 to 3.2 H); a laptop with a picture 17.5 cm high at 55 cm is as far. Crop 5 %: the limit without a name, see
 *   `DEFAULT_DELIVERY`.
 * - **UHD stream**. 3840 x 2160 at 1.5 H: the design distance of 2160 lines (the same Recommendations). Crop 4 %: recorded as large
 *   as it is delivered, the crop is made up by enlarging, and 1.04 times is little softer to the eye (own judgement).
 * - **big screen**. 3996 x 2160: the flat picture of digital cinema at 4K (from memory). 1.85 H: a middle row, half of the 3.7 H at
 *   which the last row of the class of large pictures sits (SMPTE RP 105-2003). Crop 3 %: composed to the edge, enlarged for many
 *   eyes (own judgement).
 */
export const DELIVERY_PRESETS: DeliveryPresets = Object.freeze({
  [presets.phone]: { widthPx: 1920, heightPx: 1080, maxCropPercent: 10, viewingDistanceHeights: 5 },
  [presets.phoneUpright]: { widthPx: 1080, heightPx: 1920, maxCropPercent: 10, viewingDistanceHeights: 2.8 },
  [presets.webHd]: { widthPx: 1920, heightPx: 1080, maxCropPercent: 5, viewingDistanceHeights: 3.1 },
  [presets.uhdStream]: { widthPx: 3840, heightPx: 2160, maxCropPercent: 4, viewingDistanceHeights: 1.5 },
  [presets.bigScreen]: { widthPx: 3996, heightPx: 2160, maxCropPercent: 3, viewingDistanceHeights: 1.85 },
});

/**
 * The name of the table that is meant: case, spaces and signs count for nothing.
 *
 * @returns null when none is
 * @example presetName('web-hd') // "web HD"
 */
export function presetName(name: string, presets: DeliveryPresets = DELIVERY_PRESETS): string | null {
  const wanted = bare(name);
  if (wanted === '') return null; // signs alone are no name
  return Object.keys(presets).find((known) => bare(known) === wanted) ?? null;
}

/** Two names are one when their letters and figures are. */
function bare(name: string): string {
  return name.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
}
