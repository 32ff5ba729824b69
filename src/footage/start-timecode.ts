/** The timecode of a moment of a clip. */
import { frameOfTimecode, parseFrameRate, supportsDropFrame, timecodeOf } from '../run/index.js';
import type { ClipFacts } from './types.js';

/**
 * The label of the frame at `timeS`, counted on from the label of the clip's first frame; drop-frame stays drop-frame.
 *
 * Null when the clip has no timecode, or one that its own rate does not know.
 *
 * @param timeS seconds from the first frame of the clip
 * @example timecodeAt({ timecodeStart: '09:59:59:24', fpsFraction: '25/1' }, 0.08) // "10:00:00:01"
 */
export function timecodeAt(
  { timecodeStart, fpsFraction }: Pick<ClipFacts, 'timecodeStart' | 'fpsFraction'>,
  timeS: number,
): string | null {
  if (timecodeStart === null) return null;
  const rate = parseFrameRate(fpsFraction);
  const isDrop = timecodeStart.includes(';');
  if (isDrop && !supportsDropFrame(rate)) return null;
  try {
    const first = frameOfTimecode(timecodeStart, rate);
    return timecodeOf(first + Math.round((timeS * rate.numerator) / rate.denominator), rate, isDrop);
  } catch {
    return null;
  }
}
