/** How many bits a clip spends on each pixel, from the size of its file. */
import { stat } from 'node:fs/promises';
import type { ClipFacts } from './types.js';

/** Codecs that say the same in about half the bits. */
const DENSE_CODECS = /^(hevc|vp9|av1|vvc)$/;

/**
 * Bits for a pixel of a frame, as an older codec would need them: those of HEVC and its like count twice.
 *
 * Sound and wrapping are counted in, so a small clip may have fewer. Common practice, no source: camera originals have 0.1 to 2.
 *
 * @returns null when the file or its number of frames does not tell
 */
export async function bitsPerPixel(facts: ClipFacts): Promise<number | null> {
  const { frameCount, storedWidthPx, storedHeightPx, codec, file } = facts;
  const found = await stat(file).catch(() => null);
  if (found === null || !(frameCount > 0)) return null;
  const bits = (8 * found.size) / (frameCount * storedWidthPx * storedHeightPx);
  return DENSE_CODECS.test(codec) ? 2 * bits : bits;
}
