/** The timecode of a point in a clip, from seconds. */
import {
  frameOfTimecode,
  parseFrameRate,
  supportsDropFrame,
  timecodeOf,
  type RunDocument,
} from '../../run/index.js';

/** What timecodes are counted by: the exact frame rate, and the label of the first frame where the file has one. */
export type TimecodeBase = Pick<RunDocument['clip'], 'fpsFraction' | 'timecodeStart'>;

/** The timecode of a point in the clip, counted from the clip's own start label or from 00:00:00:00. @param atS seconds from the start of the clip */
export function timecodeAt({ fpsFraction, timecodeStart }: TimecodeBase, atS: number): string {
  const rate = parseFrameRate(fpsFraction);
  const start = timecodeStart === null ? 0 : frameOfTimecode(timecodeStart, rate);
  const drop = timecodeStart !== null && timecodeStart.includes(';') && supportsDropFrame(rate);
  return timecodeOf(start + Math.round((atS * rate.numerator) / rate.denominator), rate, drop);
}
