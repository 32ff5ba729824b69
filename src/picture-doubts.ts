/** What the pictures of a clip leave in doubt: an exposure that changed, coding that left fine shake out. */
import { bitsPerPixel, type ClipFacts } from './footage/index.js';
import type { Warning } from './run/index.js';
import { compressionDoubts, exposureDoubts, greyCurveOf, type Tracking } from './tracking/index.js';

/**
 * The doubts about pictures that were followed.
 *
 * @param contrastGain factor by which the decoder raised differences of grey
 */
export async function pictureDoubts(
  tracking: Tracking,
  facts: ClipFacts,
  contrastGain: number,
): Promise<Warning[]> {
  return [
    ...exposureDoubts(tracking.light, greyCurveOf(facts.colourTransfer, contrastGain)),
    ...compressionDoubts(tracking, await bitsPerPixel(facts)),
  ];
}
