/** Thins a long series for drawing: keeps the lowest and the highest sample of each column of the picture, in order of time. */

/**
 * Indices worth drawing. Peaks survive, since the extremes of every column are kept; a series with fewer than four samples per
 * column is kept whole.
 *
 * @param values length n
 * @param columns how many px wide the chart is
 * @param first the first index that is drawn
 * @param end the index after the last one that is drawn
 * @returns ascending indices, first and last always among them; empty for an empty series
 */
export function thinOut(
  values: ArrayLike<number>,
  columns: number,
  first = 0,
  end: number = values.length,
): number[] {
  const n = Math.max(0, end - first);
  if (n <= 4 * columns) return Array.from({ length: n }, (_, i) => first + i);
  const kept: number[] = [first];
  for (let column = 0; column < columns; column++) {
    const from = first + Math.floor((column * n) / columns);
    const to = first + Math.floor(((column + 1) * n) / columns);
    let lowest = from;
    let highest = from;
    for (let i = from + 1; i < to; i++) {
      if (values[i] < values[lowest]) lowest = i;
      if (values[i] > values[highest]) highest = i;
    }
    for (const i of [Math.min(lowest, highest), Math.max(lowest, highest)])
      if (i > kept[kept.length - 1]) kept.push(i);
  }
  if (kept[kept.length - 1] !== end - 1) kept.push(end - 1);
  return kept;
}
