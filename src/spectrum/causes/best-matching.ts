/** Pairs the members of two lists one to one for the largest sum of gains (Hungarian method; Kuhn 1955, Munkres 1957, from memory). */

/**
 * A pair is made only for a gain above 0: who gains nothing stays alone.
 *
 * @param gains one row for each member of the first list, one column for each of the second; rows of equal length
 * @returns for each row its column, or null
 */
export function bestMatching(gains: readonly (readonly number[])[]): (number | null)[] {
  const rows = gains.length;
  // As many columns of gain 0 as rows: each row may stay alone.
  const real = gains[0]?.length ?? 0;
  const columns = real + rows;
  const cost = (row: number, column: number): number =>
    column < real ? Math.min(-gains[row][column], 0) : 0;
  const rowPotential = new Float64Array(rows + 1);
  const columnPotential = new Float64Array(columns + 1);
  // Rows and columns count from 1; 0 is the row that is being placed.
  const rowOf = new Int32Array(columns + 1);
  const cameFrom = new Int32Array(columns + 1);
  for (let row = 1; row <= rows; row++) {
    rowOf[0] = row;
    let column = 0;
    const least = new Float64Array(columns + 1).fill(Infinity);
    const seen = new Uint8Array(columns + 1);
    do {
      seen[column] = 1;
      const at = rowOf[column];
      let step = Infinity;
      let next = 0;
      for (let j = 1; j <= columns; j++) {
        if (seen[j]) continue;
        const reduced = cost(at - 1, j - 1) - rowPotential[at] - columnPotential[j];
        if (reduced < least[j]) {
          least[j] = reduced;
          cameFrom[j] = column;
        }
        if (least[j] < step) {
          step = least[j];
          next = j;
        }
      }
      for (let j = 0; j <= columns; j++) {
        if (seen[j]) {
          rowPotential[rowOf[j]] += step;
          columnPotential[j] -= step;
        } else {
          least[j] -= step;
        }
      }
      column = next;
    } while (rowOf[column] !== 0);
    do {
      const before = cameFrom[column];
      rowOf[column] = rowOf[before];
      column = before;
    } while (column !== 0);
  }
  const matched = gains.map((): number | null => null);
  for (let j = 1; j <= real; j++) {
    const row = rowOf[j] - 1;
    if (row >= 0 && gains[row][j - 1] > 0) matched[row] = j - 1;
  }
  return matched;
}
