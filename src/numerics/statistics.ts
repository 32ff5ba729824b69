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
  const column = new Float64Array(x);
  const position = p * (column.length - 1);
  const below = Math.floor(position);
  selectInPlace(column, below);
  const low = column[below];
  if (below + 1 === column.length) return low;
  // All that follow are no smaller: the next in order is the least of them.
  let high = column[below + 1];
  for (let i = below + 2; i < column.length; i++) if (column[i] < high) high = column[i];
  return low + (position - below) * (high - low);
}

/** Below so many numbers sorting is as fast. */
const FEW = 32;

/**
 * Brings the k-th smallest number to place k, no larger ones before it and no smaller ones behind: what sorting would leave there, in
 * time linear in the length. Hoare 1961, Communications of the ACM 4, "Algorithm 65: find".
 */
function selectInPlace(column: Float64Array, k: number): void {
  let left = 0;
  let right = column.length - 1;
  // What is no number has no order; sorting puts it last.
  for (let i = 0; i <= right; i++) if (Number.isNaN(column[i])) return void column.sort();
  while (right - left > FEW) {
    const a = column[left];
    const b = column[(left + right) >> 1];
    const c = column[right];
    const pivot = Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
    let i = left;
    let j = right;
    while (i <= j) {
      while (column[i] < pivot) i++;
      while (column[j] > pivot) j--;
      if (i > j) break;
      const swapped = column[i];
      column[i] = column[j];
      column[j] = swapped;
      i++;
      j--;
    }
    if (k <= j) right = j;
    else if (k >= i) left = i;
    else return;
  }
  column.subarray(left, right + 1).sort();
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
