/** Figures of a case with the ranges that decide, as they are printed; never rounded across their limit. */
import { boundBeside, figureBeside, percentBeside, type Ranged } from '../../run/index.js';
import { whatIfTexts } from '../../texts/index.js';
import type { Figure } from '../html/case-table.js';

/** Nothing to tell. */
export const NOTHING: Figure = { text: '–', range: '' };

/** The figure in one line. @example inLine({ text: '1.3 %', range: '1.1 to 1.5' }) // "1.3 % (1.1 to 1.5)" */
export function inLine({ text, range }: Figure): string {
  return range === '' ? text : whatIfTexts.inLine(text, range);
}

/** A crop, per cent of the width. */
export function cropWords({ value, low, high }: Ranged, coverable: boolean, limit: number): Figure {
  if (!coverable) return { text: whatIfTexts.overHalf, range: '' };
  return {
    text: whatIfTexts.percent(percentBeside(value, limit)),
    range: rangeBeside(low, high, limit, percentBeside),
  };
}

/** Shake left, px RMS of the delivery. */
export function leftWords(left: Ranged | null, limit: number, atMost: boolean): Figure {
  if (left === null) return { text: whatIfTexts.notKnown, range: '' };
  return {
    text: whatIfTexts.leftPx(figureBeside(left.value, limit), atMost),
    range: rangeBeside(left.low, left.high, limit, figureBeside),
  };
}

/** The ends of a range, the upper one rounded up, neither carried across the limit; nothing where none is open. */
export function rangeBeside(
  low: number,
  high: number,
  limit: number,
  print: (value: number, limit: number) => string,
): string {
  return low < high
    ? rangeWords(low, high, (end) => (end === high ? bound(end, limit, print) : print(end, limit)))
    : '';
}

/** What is too small for a figure stays so. */
function bound(value: number, limit: number, print: (value: number, limit: number) => string): string {
  const text = print(value, limit);
  return text.startsWith('<') ? text : boundBeside(value, limit);
}

/** "3.9 to 4.8"; nothing where both ends read the same. */
export function rangeWords(low: number, high: number, words: (end: number) => string): string {
  const [from, to] = [words(low), words(high)];
  return from === to ? '' : whatIfTexts.range(from, to);
}
