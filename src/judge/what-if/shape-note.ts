/** Why a picture of another shape than the clip may cost less crop, in a plain sentence; sizes in pixels. */
import type { PictureSize } from '../../optics/index.js';

/** Shapes that differ by a smaller share are one shape: sizes are whole numbers of pixels. */
const SAME_SHAPE = 0.01;

/** @returns null where every picture has the shape of the clip */
export function shapeNote(clip: PictureSize, pictures: readonly PictureSize[]): string | null {
  const shapes = pictures.map((picture) => shape(picture) / shape(clip));
  const notes = [
    ...(shapes.some((ratio) => ratio > 1 + SAME_SHAPE)
      ? [
          'A picture wider than the clip leaves room above and below, so shake up and down costs it less crop.',
        ]
      : []),
    ...(shapes.some((ratio) => ratio < 1 / (1 + SAME_SHAPE))
      ? [
          'A picture narrower than the clip leaves room at both sides, so shake left and right costs it less crop.',
        ]
      : []),
  ];
  return notes.length === 0 ? null : notes.join(' ');
}

function shape({ widthPx, heightPx }: PictureSize): number {
  return widthPx / heightPx;
}
