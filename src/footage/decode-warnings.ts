/** What is worth telling about a clip while it is decoded; times in seconds from its first frame. */
import type { Warning } from '../run/index.js';
import { quoted } from './clip-path.js';
import { secondsText, type ClipRange } from './clip-range.js';
import type { DecodeEnd } from './stamped-frames.js';
import type { ClipFacts } from './types.js';

/** Fewer frames than this short of the stated length is rounding, not loss. */
const FRAMES_SHORT = 4;

/** The picture was flat and has been stretched. */
export function lowContrast(contrastGain: number): Warning {
  const text = `The picture is flat (a log curve, haze or dim light); its contrast was raised ${contrastGain.toFixed(1)} times for tracking, the same for every frame.`;
  return { code: 'low-contrast', text, atS: null };
}

/** A time stamp was not later than the one before; said of the first such frame. */
export function repeatedStamp(atS: number): Warning {
  const text = `Time stamps of the clip repeat or run backwards, first at ${secondsText(atS)}; such frames were set one frame after the one before.`;
  return { code: 'time-stamps-repeat', text, atS };
}

/**
 * What was lost when the clip ended by itself: 'clip-truncated' when it ended earlier than it states, 'clip-damaged'
 * when FFmpeg met faults on the way, null when all is well.
 *
 * @param count frames taken in the range
 * @param lastS time of the last of them
 */
export function lossWarning(
  file: string,
  facts: ClipFacts,
  range: ClipRange,
  end: DecodeEnd,
  count: number,
  lastS: number,
): Warning | null {
  const shortS = range.endS - (lastS + 1 / facts.fps);
  const missing = Math.round(shortS * facts.fps);
  // A clip of variable rate may rightly hold its last frame for long: then the count decides.
  const hasAll = range.isWhole && count > facts.frameCount - FRAMES_SHORT;
  if (Number.isFinite(shortS) && missing >= FRAMES_SHORT && !hasAll) {
    const text = `The clip ${quoted(file)} ends ${secondsText(shortS)} (about ${missing} frames) early: it is cut short or damaged; what there is was measured. Copy it again from the card if you can.`;
    return { code: 'clip-truncated', text, atS: lastS };
  }
  if (end.failure === null && end.faults.length === 0) return null;
  const said = end.faults[0] ?? end.failure ?? '';
  const text = `Parts of the clip ${quoted(file)} are damaged (FFmpeg: ${said}); frames there may be wrong.`;
  return { code: 'clip-damaged', text, atS: null };
}
