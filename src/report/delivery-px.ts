/** Lengths in the picture as every page and summary tells them: px of the delivery, from the px of the clip that the spectra are kept in. */
import type { RunDocument } from '../run/index.js';

/** Px of the delivery that one px of the clip fills, both counted over the width of the frame. */
export function deliveryPxPerClipPx({ clip, delivery }: Pick<RunDocument, 'clip' | 'delivery'>): number {
  return delivery.widthPx / clip.widthPx;
}
