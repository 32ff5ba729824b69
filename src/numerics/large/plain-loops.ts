/** The loops of loops.as.ts, for engines without SIMD and for small matrices: the same to the last digits. */

/** Columns that are finished together; a block of this width and its partners stay in the first-level cache. */
const BLOCK = 32;

/** Rectangle of a matrix, ends not included. */
interface Span {
  readonly from: number;
  readonly to: number;
}

/**
 * c[i, j] += sign * sum over k of a[i, k] b[j, k], for i in `rows`, j in `columns` and k in `inner`. With `lowerOnly`, entries right
 * of the diagonal may be left out.
 */
function addProducts(
  sign: 1 | -1,
  c: Float64Array,
  cWidth: number,
  a: Readonly<Float64Array>,
  b: Readonly<Float64Array>,
  width: number,
  rows: Span,
  columns: Span,
  inner: Span,
  lowerOnly: boolean,
): void {
  const { from, to } = inner;
  if (from >= to) return;
  for (let i = rows.from; i < rows.to; i += 4) {
    // A short last group repeats its last row; what that gives is not stored.
    const last = rows.to - 1;
    const a0 = i * width;
    const a1 = Math.min(i + 1, last) * width;
    const a2 = Math.min(i + 2, last) * width;
    const a3 = Math.min(i + 3, last) * width;
    const end = lowerOnly ? Math.min(columns.to, i + 4) : columns.to;
    for (let j = columns.from; j < end; j += 2) {
      const b0 = j * width;
      const pair = j + 1 < columns.to;
      const b1 = pair ? b0 + width : b0;
      let s00 = 0;
      let s01 = 0;
      let s10 = 0;
      let s11 = 0;
      let s20 = 0;
      let s21 = 0;
      let s30 = 0;
      let s31 = 0;
      for (let k = from; k < to; k++) {
        const x0 = b[b0 + k];
        const x1 = b[b1 + k];
        const y0 = a[a0 + k];
        s00 += y0 * x0;
        s01 += y0 * x1;
        const y1 = a[a1 + k];
        s10 += y1 * x0;
        s11 += y1 * x1;
        const y2 = a[a2 + k];
        s20 += y2 * x0;
        s21 += y2 * x1;
        const y3 = a[a3 + k];
        s30 += y3 * x0;
        s31 += y3 * x1;
      }
      const at = i * cWidth + j;
      c[at] += sign * s00;
      if (i + 1 < rows.to) c[at + cWidth] += sign * s10;
      if (i + 2 < rows.to) c[at + 2 * cWidth] += sign * s20;
      if (i + 3 < rows.to) c[at + 3 * cWidth] += sign * s30;
      if (!pair) continue;
      c[at + 1] += sign * s01;
      if (i + 1 < rows.to) c[at + cWidth + 1] += sign * s11;
      if (i + 2 < rows.to) c[at + 2 * cWidth + 1] += sign * s21;
      if (i + 3 < rows.to) c[at + 3 * cWidth + 1] += sign * s31;
    }
  }
}

/** Finishes columns `block` of some rows whose earlier columns are done: x L^T = b within the block. */
function solveBlock(
  factor: Readonly<Float64Array>,
  n: number,
  x: Float64Array,
  rows: Span,
  { from, to }: Span,
): void {
  for (let i = rows.from; i < rows.to; i++) {
    const at = i * n;
    for (let j = from; j < to; j++) {
      const row = j * n;
      let sum = x[at + j];
      for (let k = from; k < j; k++) sum -= x[at + k] * factor[row + k];
      x[at + j] = sum / factor[row + j];
    }
  }
}

/** See choleskyLargeInPlace. */
export function choleskyPlain(a: Float64Array, n: number): boolean {
  for (let from = 0; from < n; from += BLOCK) {
    const block = { from, to: Math.min(n, from + BLOCK) };
    addProducts(-1, a, n, a, a, n, { from, to: n }, block, { from: 0, to: from }, true);
    for (let j = from; j < block.to; j++) {
      const row = j * n;
      solveBlock(a, n, a, { from: j, to: j + 1 }, { from, to: j });
      let pivot = a[row + j];
      for (let k = from; k < j; k++) pivot -= a[row + k] ** 2;
      if (!(pivot > 0)) return false;
      a[row + j] = Math.sqrt(pivot);
    }
    solveBlock(a, n, a, { from: block.to, to: n }, block);
  }
  return true;
}

/** See solveLowerRowsInPlace. */
export function solveLowerRowsPlain(
  factor: Readonly<Float64Array>,
  n: number,
  rows: Float64Array,
  count: number,
): void {
  const all = { from: 0, to: count };
  for (let from = 0; from < n; from += BLOCK) {
    const block = { from, to: Math.min(n, from + BLOCK) };
    addProducts(-1, rows, n, rows, factor, n, all, block, { from: 0, to: from }, false);
    solveBlock(factor, n, rows, all, block);
  }
}

/** See addRowProducts. */
export function addRowProductsPlain(
  sign: 1 | -1,
  c: Float64Array,
  rows: Readonly<Float64Array>,
  count: number,
  length: number,
): void {
  for (let from = 0; from < count; from += BLOCK) {
    const block = { from, to: Math.min(count, from + BLOCK) };
    const below = { from, to: count };
    addProducts(sign, c, count, rows, rows, length, below, block, { from: 0, to: length }, true);
  }
}
