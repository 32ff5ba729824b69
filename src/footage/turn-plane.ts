/** Turns one plane of samples upright: clockwise by quarters, then mirrored left to right. */
import type { ClipFacts } from './types.js';

/** Samples of one plane, row by row. */
export type Samples = Uint8Array<ArrayBufferLike> | Uint16Array<ArrayBufferLike>;

/** Samples are moved in blocks of this side, so that neither rows nor columns leave the cache. */
const BLOCK = 32;

/**
 * The plane turned and mirrored; no sample changes.
 *
 * @param widthPx of the plane as it is
 * @returns a plane of the same kind and length, of its own
 */
export function turnPlane(
  samples: Samples,
  widthPx: number,
  { rotationDeg, mirrored }: Pick<ClipFacts, 'rotationDeg' | 'mirrored'>,
): Samples {
  const heightPx = samples.length / widthPx;
  const onItsSide = rotationDeg % 180 !== 0;
  const newWidth = onItsSide ? heightPx : widthPx;
  // Where the stored sample (0, 0) goes, and how far apart neighbours along a stored row and column come to lie.
  const [x0, y0, xAlong, yAlong, xDown, yDown] = {
    0: [0, 0, 1, 0, 0, 1],
    90: [newWidth - 1, 0, 0, 1, -1, 0],
    180: [widthPx - 1, heightPx - 1, -1, 0, 0, -1],
    270: [0, widthPx - 1, 0, -1, 1, 0],
  }[rotationDeg];
  const [firstX, sign] = mirrored ? [newWidth - 1 - x0, -1] : [x0, 1];
  const first = y0 * newWidth + firstX;
  const along = yAlong * newWidth + sign * xAlong;
  const down = yDown * newWidth + sign * xDown;
  const turned =
    samples instanceof Uint8Array ? new Uint8Array(samples.length) : new Uint16Array(samples.length);
  for (let top = 0; top < heightPx; top += BLOCK) {
    const bottom = Math.min(heightPx, top + BLOCK);
    for (let left = 0; left < widthPx; left += BLOCK) {
      const right = Math.min(widthPx, left + BLOCK);
      for (let y = top; y < bottom; y++) {
        let to = first + y * down + left * along;
        const row = y * widthPx;
        for (let x = left; x < right; x++, to += along) turned[to] = samples[row + x];
      }
    }
  }
  return turned;
}
