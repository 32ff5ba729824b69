/** Figures of files and clips as they stand in a row: sizes in decimal units, rates by their exact fraction. */
import { parseFrameRate } from '../../../run/index.js';

const UNITS = ['B', 'kB', 'MB', 'GB', 'TB'];

/** A size in three figures at most, decimal units. @example sizeWords(1_240_000_000) // "1.24 GB" */
export function sizeWords(bytes: number): string {
  let unit = 0;
  let value = Math.max(0, bytes);
  // What would be printed as 1000 is one of the next unit.
  while (unit < UNITS.length - 1 && value >= 999.5) {
    value /= 1000;
    unit++;
  }
  const decimals = unit === 0 || value >= 99.95 ? 0 : value >= 9.995 ? 1 : 2;
  return `${value.toFixed(decimals)} ${UNITS[unit]}`;
}

/** Frames a second, to a thousandth. @example rateWords('24000/1001') // "23.976" */
export function rateWords(fpsFraction: string): string {
  const { numerator, denominator } = parseFrameRate(fpsFraction);
  return String(Number((numerator / denominator).toFixed(3)));
}
