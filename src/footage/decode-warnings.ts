/** What is worth telling about a clip while it is decoded; times in seconds from its first frame. */
import type { Warning } from '../run/index.js';
import { decodeTexts } from '../texts/index.js';
import { quoted } from './clip-path.js';
import { secondsText, type ClipRange } from './clip-range.js';
import type { DecodeEnd } from './stamped-frames.js';
import type { ClipFacts } from './types.js';

/** Fewer frames than this short of the stated length is rounding, not loss. */
const FRAMES_SHORT = 4;
/** A gap between two frames longer than this is no dropped frame: nobody knows what the camera did in it. */
export const TIME_JUMP_S = 1;

/** The picture was flat and has been stretched. */
export function lowContrast(contrastGain: number): Warning {
  const text = decodeTexts.lowContrast(contrastGain.toFixed(1));
  return { code: 'low-contrast', text, atS: null };
}

/** A time stamp was not later than the one before; said of the first such frame. */
export function repeatedStamp(atS: number): Warning {
  const text = decodeTexts.stampsRepeat(secondsText(atS));
  return { code: 'time-stamps-repeat', text, atS };
}

/** Nothing was shown for long; said of the first such gap. */
export function timeJump(fromS: number, toS: number): Warning {
  const text = decodeTexts.stampsJump(secondsText(fromS), secondsText(toS));
  return { code: 'time-stamps-jump', text, atS: fromS };
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
    const text = decodeTexts.endsEarly(quoted(file), secondsText(shortS), missing);
    return { code: 'clip-truncated', text, atS: lastS };
  }
  if (end.failure === null && end.faults.length === 0) return null;
  const said = end.faults[0] ?? end.failure ?? '';
  const text = decodeTexts.damaged(quoted(file), said);
  return { code: 'clip-damaged', text, atS: null };
}
