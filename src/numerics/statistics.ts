/** Plain and robust summary statistics of one column of numbers, in the unit of the column. */

/** Any column of numbers that can be read by index. */
export type Column = ArrayLike<number>;

function requireSamples(x: Column, least: number, what: string): void {
  if (x.length < least) throw new RangeError(`${what} needs at least ${least} sample(s), got ${x.length}`);
}

/** Arithmetic mean. @throws RangeError on an empty column */
export function mean(x: Column): number {
  requireSamples(x, 1, 'mean');
  let sum = 0;
  for (let i = 0; i < x.length; i++) sum += x[i];
  return sum / x.length;
}

/** Standard deviation about the mean with divisor n - 1. @throws RangeError on fewer than 2 samples */
export function standardDeviation(x: Column): number {
  requireSamples(x, 2, 'standardDeviation');
  const centre = mean(x);
  let sum = 0;
  for (let i = 0; i < x.length; i++) {
    const d = x[i] - centre;
    sum += d * d;
  }
  return Math.sqrt(sum / (x.length - 1));
}

/** Root mean square about zero (divisor n; the mean is not removed). @throws RangeError on an empty column */
export function rms(x: Column): number {
  requireSamples(x, 1, 'rms');
  let sum = 0;
  for (let i = 0; i < x.length; i++) sum += x[i] * x[i];
  return Math.sqrt(sum / x.length);
}

/**
 * Quantile of type 7: linear interpolation between order statistics, the default of R and numpy.
 *
 * @param x length n >= 1, in any order, not changed
 * @param p probability, 0..1
 * @throws RangeError on an empty column or p outside 0..1
 * @remarks Source: Hyndman & Fan 1996, The American Statistician 50, definition 7.
 */
export function quantile(x: Column, p: number): number {
  requireSamples(x, 1, 'quantile');
  if (!(p >= 0 && p <= 1)) throw new RangeError(`p must lie in 0..1, got ${p}`);
  const sorted = Float64Array.from(x).sort();
  const position = p * (sorted.length - 1);
  const below = Math.floor(position);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below] + (position - below) * (sorted[above] - sorted[below]);
}

/** Median: the mean of the two middle samples when n is even. @throws RangeError on an empty column */
export function median(x: Column): number {
  return quantile(x, 0.5);
}

/**
 * Median distance from the median, unscaled; times 1.4826 it estimates the standard deviation of normal data.
 *
 * @throws RangeError on an empty column
 */
export function medianAbsoluteDeviation(x: Column): number {
  const centre = median(x);
  const distance = new Float64Array(x.length);
  for (let i = 0; i < x.length; i++) distance[i] = Math.abs(x[i] - centre);
  return median(distance);
}
