/** Rows of a linear system in which every row touches a few unknowns only: its residuals, its transpose, its span. */

/** Row r says: sum over k of coefficients[r * perRow + k] * x[columns[r * perRow + k]], to be compared with right[r]. */
export interface SparseRows {
  /** Entries kept per row; rows with fewer hold zero coefficients on a column that they use anyway. */
  readonly perRow: number;
  /** Length rows * perRow. */
  readonly columns: Int32Array;
  /** Length rows * perRow, any unit. */
  readonly coefficients: Float64Array;
  /** Length rows. */
  readonly right: Float64Array;
}

/** Empty rows of one width, to be filled in place. */
export function emptyRows(rows: number, perRow: number): SparseRows {
  return {
    perRow,
    columns: new Int32Array(rows * perRow),
    coefficients: new Float64Array(rows * perRow),
    right: new Float64Array(rows),
  };
}

/** Writes A x into `out` (length rows). */
export function multiplyRows(rows: SparseRows, x: Readonly<Float64Array>, out: Float64Array): void {
  const { perRow, columns, coefficients } = rows;
  for (let r = 0, at = 0; r < out.length; r++) {
    let sum = 0;
    for (let k = 0; k < perRow; k++, at++) sum += coefficients[at] * x[columns[at]];
    out[r] = sum;
  }
}

/** Adds A^T y to `out` (length of the unknowns). */
export function addTransposed(rows: SparseRows, y: Readonly<Float64Array>, out: Float64Array): void {
  const { perRow, columns, coefficients } = rows;
  for (let r = 0, at = 0; r < y.length; r++) {
    const value = y[r];
    for (let k = 0; k < perRow; k++, at++) out[columns[at]] += coefficients[at] * value;
  }
}

/** Most columns between two entries of one row: the half bandwidth of A^T A. */
export function rowSpan({ perRow, columns, coefficients, right }: SparseRows): number {
  let span = 0;
  for (let r = 0; r < right.length; r++) {
    let first = Infinity;
    let last = -Infinity;
    for (let at = r * perRow; at < (r + 1) * perRow; at++) {
      if (coefficients[at] === 0) continue;
      first = Math.min(first, columns[at]);
      last = Math.max(last, columns[at]);
    }
    if (last > first) span = Math.max(span, last - first);
  }
  return span;
}
