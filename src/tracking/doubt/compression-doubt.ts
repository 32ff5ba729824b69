/**
 * What people are told when the file has too few bits for fine shake.
 *
 * Own trials: a made-up lateral pass (1280x720, 4 s, shake of 0.02 deg and 0.3 mm RMS) and a push-in, coded anew. Likeness to the
 * coder's steps, times tracking noise in px; then how many of their stated floors the series of translations erred by:
 * H.264 crf 16: 0.0025, 1.0; crf 23: 0.007, 1.3; crf 28: 0.010, 1.6; crf 32: 0.013, 1.9; crf 40: 0.019, 4; the same coded once more
 * with many bits: 0.019, 4; HEVC crf 30: 0.005, 1.7; crf 42: 0.013, 2.7; MPEG-4 at q 8: 0.014, 2.8; q 31: 0.032, 2.4. From 0.013 on
 * RMS fell out of their ranges. Motion JPEG and all-intra H.264, however coarse: below 0.002, 1.2; ProRes: 0.
 */
import type { Warning } from '../../run/index.js';
import { compressionDoubtTexts } from '../../texts/index.js';
import type { Tracking } from '../types.js';

/**
 * Tracking noise that is the coder's, px at a width of 960, from which on figures are doubted. Ordinary files reach a likeness of
 * 0.04 to 0.21, with little noise; a noisy picture alone, such as wind in leaves, is no sign: the likeness has to be high as well.
 */
const CODED_NOISE = { px: 0.011, likeness: 0.2 } as const;
/**
 * Bits for a pixel below which they are doubted as soon as steps show at all: with still fewer bits noise hides the steps
 * (a push-in at crf 40, 0.009 bits: likeness 0.11, a lateral shake of 0.3 mm read as 0.75).
 */
const FEW_BITS = { perPx: 0.02, likeness: 0.08 } as const;

/**
 * The doubt 'heavy-compression'; empty where the motion knows no steps, or too little moves to tell.
 *
 * @param bitsPerPx as an older codec would need them; null when unknown
 */
export function compressionDoubts(
  { copied, noisePx, table }: Pick<Tracking, 'copied' | 'noisePx' | 'table'>,
  bitsPerPx: number | null,
): Warning[] {
  if (copied === null) return [];
  const codedNoisePx = (copied.likeness * (noisePx ?? 0) * 960) / table.widthPx;
  const comesInSteps = copied.likeness >= CODED_NOISE.likeness && codedNoisePx >= CODED_NOISE.px;
  const hasFewBits = (bitsPerPx ?? Infinity) < FEW_BITS.perPx && copied.likeness >= FEW_BITS.likeness;
  if (!comesInSteps && !hasFewBits) return [];
  return [{ code: 'heavy-compression', text: compressionDoubtTexts.copied(copied.perPx), atS: null }];
}
