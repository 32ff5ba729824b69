/** Why a picture of another shape than the clip may cost less crop, in a plain sentence; sizes in pixels. */
import type { PictureSize } from '../../optics/index.js';
import { whatIfAnswerTexts } from '../../texts/index.js';

/** Shapes that differ by a smaller share are one shape: sizes are whole numbers of pixels. */
const SAME_SHAPE = 0.01;

/** @returns null where every picture has the shape of the clip */
export function shapeNote(clip: PictureSize, pictures: readonly PictureSize[]): string | null {
  const shapes = pictures.map((picture) => shape(picture) / shape(clip));
  const notes = [
    ...(shapes.some((ratio) => ratio > 1 + SAME_SHAPE) ? [whatIfAnswerTexts.widerPicture] : []),
    ...(shapes.some((ratio) => ratio < 1 / (1 + SAME_SHAPE)) ? [whatIfAnswerTexts.narrowerPicture] : []),
  ];
  return notes.length === 0 ? null : notes.join(' ');
}

function shape({ widthPx, heightPx }: PictureSize): number {
  return widthPx / heightPx;
}
