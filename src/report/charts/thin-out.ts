/** Thins a long series for drawing: keeps the lowest and the highest sample of each column of the picture, in order of time. */

/**
 * Indices worth drawing. Peaks survive, since the extremes of every column are kept; a series with fewer than four samples per
 * column is kept whole.
 *
 * @param values length n
 * @param columns how many px wide the chart is
 * @returns ascending indices, first and last always among them; empty for an empty series
 */
export function thinOut(values: Float64Array, columns: number): number[] {
  const n = values.length;
  if (n <= 4 * columns) return Array.from({ length: n }, (_, i) => i);
  const kept: number[] = [0];
  for (let column = 0; column < columns; column++) {
    const from = Math.floor((column * n) / columns);
    const to = Math.floor(((column + 1) * n) / columns);
    let lowest = from;
    let highest = from;
    for (let i = from + 1; i < to; i++) {
      if (values[i] < values[lowest]) lowest = i;
      if (values[i] > values[highest]) highest = i;
    }
    for (const i of [Math.min(lowest, highest), Math.max(lowest, highest)])
      if (i > kept[kept.length - 1]) kept.push(i);
  }
  if (kept[kept.length - 1] !== n - 1) kept.push(n - 1);
  return kept;
}
