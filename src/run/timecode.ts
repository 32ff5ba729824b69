/** SMPTE timecode (ST 12-1, from memory): frame numbers and labels HH:MM:SS:FF, drop-frame HH:MM:SS;FF at 29.97 and 59.94. */
import { TrundleError } from './errors.js';
import { withDecimalPoint } from './units.js';

/** A frame rate as an exact fraction, frames per second. */
export interface FrameRate {
  readonly numerator: number;
  readonly denominator: number;
}

/** Reads "24000/1001" or "25". @throws RangeError when it is not a positive fraction */
export function parseFrameRate(text: string): FrameRate {
  const [n, d = '1'] = text.split('/');
  const rate = { numerator: Number(n), denominator: Number(d) };
  if (!(rate.numerator > 0 && rate.denominator > 0))
    throw new RangeError(`frame rate must be positive, got ${text}`);
  return rate;
}

/** Frames counted per second by the labels: 24 for 24000/1001, at least one. */
export function nominalRate(rate: FrameRate): number {
  return Math.max(1, Math.round(rate.numerator / rate.denominator));
}

function labelsDropped(rate: FrameRate): number {
  const nominal = nominalRate(rate);
  return rate.denominator === 1001 && nominal % 30 === 0 ? nominal / 15 : 0;
}

/** True where drop-frame counting exists: 30000/1001 and 60000/1001. */
export function supportsDropFrame(rate: FrameRate): boolean {
  return labelsDropped(rate) > 0;
}

/**
 * The label of a frame number; hours wrap at 24.
 * @param dropFrame ask for drop-frame counting; ignored where it does not exist
 * @example timecodeOf(1800, { numerator: 30000, denominator: 1001 }, true) // "00:01:00;02"
 */
export function timecodeOf(frame: number, rate: FrameRate, dropFrame: boolean): string {
  const nominal = nominalRate(rate);
  const drop = dropFrame ? labelsDropped(rate) : 0;
  const perDay = 24 * 3600 * nominal - drop * (24 * 60 - 24 * 6);
  let n = ((Math.round(frame) % perDay) + perDay) % perDay;
  if (drop > 0) {
    const perTen = 600 * nominal - 9 * drop;
    const perMinute = 60 * nominal - drop;
    const tens = Math.floor(n / perTen);
    const rest = n % perTen;
    n += drop * 9 * tens + (rest >= drop ? drop * Math.floor((rest - drop) / perMinute) : 0);
  }
  const two = (value: number): string => String(value).padStart(2, '0');
  const seconds = Math.floor(n / nominal);
  const separator = drop > 0 ? ';' : ':';
  return `${two(Math.floor(seconds / 3600))}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}${separator}${two(n % nominal)}`;
}

/**
 * The frame number of a label.
 * @throws TrundleError `argument-invalid` when a part is out of range or the label is one that drop-frame counting skips
 */
export function frameOfTimecode(text: string, rate: FrameRate): number {
  const match = /^(\d{1,2}):(\d{2}):(\d{2})([:;.])(\d{2,3})$/.exec(text.trim());
  if (!match)
    throw new TrundleError('argument-invalid', `"${text}" is not a timecode; write it like 00:00:02:00.`);
  const [hours, minutes, seconds, frames] = [match[1], match[2], match[3], match[5]].map(Number) as [
    number,
    number,
    number,
    number,
  ];
  const nominal = nominalRate(rate);
  if (hours > 23 || minutes > 59 || seconds > 59)
    throw new TrundleError(
      'argument-invalid',
      `"${text}" is out of range: it runs from 00:00:00:00 to 23:59:59.`,
    );
  if (frames >= nominal)
    throw new TrundleError(
      'argument-invalid',
      `"${text}" is out of range: frames run from 00 to ${String(nominal - 1).padStart(2, '0')} at this rate.`,
    );
  const drop = match[4] === ';' ? labelsDropped(rate) : 0;
  if (drop > 0 && seconds === 0 && frames < drop && minutes % 10 !== 0) {
    const nearest = `${match[1]}:${match[2]}:00;${String(drop).padStart(2, '0')}`;
    throw new TrundleError(
      'argument-invalid',
      `"${text}" does not exist in drop-frame counting; the nearest is ${nearest}.`,
    );
  }
  const totalMinutes = hours * 60 + minutes;
  return (
    (totalMinutes * 60 + seconds) * nominal + frames - drop * (totalMinutes - Math.floor(totalMinutes / 10))
  );
}

/**
 * A label with the semicolon of drop-frame counting where the clip counts so, and with the colon where it does not: its labels are the
 * only ones that anybody reads off it, and keyboards and players write either. Anything else comes back without blanks around it.
 *
 * @example labelAsCounted('01:00:00:00', '00:59:00;00') // "01:00:00;00"
 */
export function labelAsCounted(text: string, timecodeStart: string | null): string {
  const label = text.trim();
  if (timecodeStart === null) return label;
  const mark = timecodeStart.includes(';') ? ';' : ':';
  return label.replace(/^(\d{1,2}:\d{2}:\d{2})[:;.](\d{2,3})$/, `$1${mark}$2`);
}

/**
 * Reads an in or out point: timecode counted from the clip's own start label, a frame number `120f`, or seconds `9s`, `9`.
 *
 * A timecode below the clip's start label is taken as counted from the head of the clip; one is of drop-frame counting where the clip
 * counts so, whichever marks it is written with.
 * @returns seconds from the start of the clip
 * @throws TrundleError `argument-invalid`
 */
export function parsePointS(text: string, rate: FrameRate, timecodeStart: string | null): number {
  const perFrameS = rate.denominator / rate.numerator;
  // Up to the frame numbers that a double holds exactly.
  const frames = /^(\d{1,15})\s*f(?:rames?)?$/i.exec(text.trim());
  if (frames) return Number(frames[1]) * perFrameS;
  if (text.includes(':')) {
    const frame = frameOfTimecode(labelAsCounted(text, timecodeStart), rate);
    const start = timecodeStart === null ? 0 : frameOfTimecode(timecodeStart, rate);
    return (frame >= start ? frame - start : frame) * perFrameS;
  }
  const seconds = /^(\d{1,15}(?:\.\d+)?)\s*(?:s|sec)?$/i.exec(withDecimalPoint(text).trim());
  if (!seconds)
    throw new TrundleError(
      'argument-invalid',
      `"${text}" is not a point in the clip; write it like 00:00:02:00, 50f or 2.5s.`,
    );
  return Number(seconds[1]);
}
