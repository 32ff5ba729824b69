/**
 * Standard deviation of a sum whose samples hang together in time, in the unit of the samples.
 *
 * Autocovariances with weights that fall to 0 (Newey & West 1987, Econometrica 55), stretched for their own bias in short
 * series by the critical value of Kiefer & Vogelsang 2005, Econometric Theory 21, over the normal one; both from memory.
 */
import { dot } from './video.js';

/** Samples this far apart, seconds, count as independent: about one period of the slowest vibration. */
const MEMORY_S = 1;
/** At most this share of the series. */
const MOST_SHARE = 0.2;

/**
 * Standard deviation of the sum of a column of mean 0; never below that of independent samples.
 *
 * @param column evenly spaced; gaps are taken as if its parts followed one another
 */
export function sumDeviation(column: Readonly<Float64Array>, rateHz: number): number {
  const memory = Math.floor(Math.min(MEMORY_S * rateHz, MOST_SHARE * column.length));
  const independent = dot(column, column);
  let total = independent;
  for (let lag = 1; lag <= memory; lag++) {
    const weight = 1 - lag / (memory + 1);
    total += 2 * weight * dot(column.subarray(lag), column.subarray(0, column.length - lag));
  }
  const b = memory / Math.max(column.length, 1);
  const stretch = 1 + (2.9694 * b + 0.416 * b ** 2 - 0.5324 * b ** 3) / 1.96;
  return Math.max(Math.sqrt(independent), stretch * Math.sqrt(Math.max(total, 0)));
}
