/** The size, in pixels, that pictures are analysed at. */
import type { ClipFacts } from './types.js';

/**
 * Size of the grey frames: at most `analysisWidthPx` wide and never wider than the clip, even sides, the clip's
 * aspect to the nearest even height (at most one pixel off).
 *
 * @throws RangeError for a width below 16
 * @example analysisSize({ widthPx: 1920, heightPx: 1080 }, 960) // 960 x 540
 */
export function analysisSize(
  facts: Pick<ClipFacts, 'widthPx' | 'heightPx'>,
  analysisWidthPx: number,
): { widthPx: number; heightPx: number } {
  if (!(analysisWidthPx >= 16)) {
    throw new RangeError(`analysisWidthPx must be at least 16, got ${analysisWidthPx}`);
  }
  const widthPx = 2 * Math.max(1, Math.floor(Math.min(analysisWidthPx, facts.widthPx) / 2));
  const heightPx = 2 * Math.max(1, Math.round((widthPx * facts.heightPx) / facts.widthPx / 2));
  return { widthPx, heightPx };
}
