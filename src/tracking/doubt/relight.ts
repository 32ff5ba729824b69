/**
 * How the light of a whole picture changed from one frame to the next, from means of blocks, grey levels 0..255.
 *
 * Lucas-Kanade takes grey levels for constant. Own trials on a made-up pass: a jump by one stop moved the lateral RMS by a
 * third when points were followed across it as they were, and lost all of them when it went dark.
 */
import { median } from '../../numerics/index.js';
import type { Relight } from '../protocol.js';

/** Below this many grey levels the light is taken to have held: the camera's travel changes blocks by as much. */
const LEAST_CHANGE_GREY = 0.75;
/** Blocks outside of these may be cut off at black or white. */
const USABLE_GREY = [8, 240] as const;
/** Fewer blocks tell nothing. */
const LEAST_BLOCKS = 24;

/**
 * The change of the light between two thumbnails of the same layout; null where it held or cannot be told.
 *
 * Medians over the blocks: things that come into view or move do not count as light. A display curve turns a change of
 * the exposure into a factor, a log curve into an offset; the one that leaves the blocks more alike is taken.
 */
export function relightBetween(before: Float64Array, after: Float64Array): Relight | null {
  const usable: number[] = [];
  for (let i = 0; i < before.length; i++) if (isUsable(before[i]) && isUsable(after[i])) usable.push(i);
  if (usable.length < LEAST_BLOCKS) return null;
  const offset = median(usable.map((i) => after[i] - before[i]));
  if (Math.abs(offset) < LEAST_CHANGE_GREY) return null;
  const gain = median(usable.map((i) => after[i] / before[i]));
  const left = (of: (i: number) => number): number => median(usable.map((i) => Math.abs(of(i))));
  const byGain = left((i) => after[i] - gain * before[i]);
  const byOffset = left((i) => after[i] - before[i] - offset);
  return byGain <= byOffset ? { gain, offset: 0 } : { gain: 1, offset };
}

function isUsable(level: number): boolean {
  return level >= USABLE_GREY[0] && level <= USABLE_GREY[1];
}
