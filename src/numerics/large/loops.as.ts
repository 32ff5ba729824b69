/**
 * Inner loops of large dense matrices, in AssemblyScript: two numbers at a time. What they do is told in dense-large.ts; plain-loops.ts
 * gives the same to the last digits.
 *
 * Matrices lie row by row; arguments are addresses in bytes, numbers are f64, counts and places i32.
 */

/** Columns that are finished together; a block of this width and its partners stay in the first-level cache. */
const BLOCK: i32 = 32;

function at(values: usize, index: i32): usize {
  return values + ((<usize>index) << 3);
}

/**
 * c[i, j] += sign * sum over k of a[i, k] b[j, k], for rows i and columns j from their first to before their end, and k from `from` to
 * before `to`. With `lowerOnly`, entries right of the diagonal may be left out.
 */
function addProducts(
  sign: f64,
  c: usize,
  cWidth: i32,
  a: usize,
  b: usize,
  width: i32,
  rowsFrom: i32,
  rowsTo: i32,
  columnsFrom: i32,
  columnsTo: i32,
  from: i32,
  to: i32,
  lowerOnly: bool,
): void {
  if (from >= to) return;
  for (let i = rowsFrom; i < rowsTo; i += 4) {
    const end = lowerOnly ? min(columnsTo, i + 4) : columnsTo;
    // A short last group repeats its last row, and a short last pair its column; what that gives is not stored.
    const a0 = at(a, i * width + from);
    const a1 = at(a, min(i + 1, rowsTo - 1) * width + from);
    const a2 = at(a, min(i + 2, rowsTo - 1) * width + from);
    const a3 = at(a, min(i + 3, rowsTo - 1) * width + from);
    for (let j = columnsFrom; j < end; j += 2) {
      const pair = j + 1 < columnsTo;
      const b0 = at(b, j * width + from);
      const b1 = pair ? at(b0, width) : b0;
      const target = at(c, i * cWidth + j);
      addDots(sign, a0, a1, a2, a3, b0, b1, to - from, target, cWidth, min(4, rowsTo - i), pair);
    }
  }
}

/** Products of four rows with two others, added to up to eight numbers. */
function addDots(
  sign: f64,
  a0: usize,
  a1: usize,
  a2: usize,
  a3: usize,
  b0: usize,
  b1: usize,
  length: i32,
  target: usize,
  cWidth: i32,
  rows: i32,
  pair: bool,
): void {
  let p00 = f64x2.splat(0);
  let p01 = f64x2.splat(0);
  let p10 = f64x2.splat(0);
  let p11 = f64x2.splat(0);
  let p20 = f64x2.splat(0);
  let p21 = f64x2.splat(0);
  let p30 = f64x2.splat(0);
  let p31 = f64x2.splat(0);
  const even = (<usize>(length & ~1)) << 3;
  for (let k: usize = 0; k < even; k += 16) {
    const x = v128.load(b0 + k);
    const y = v128.load(b1 + k);
    const s = v128.load(a0 + k);
    p00 = f64x2.add(p00, f64x2.mul(s, x));
    p01 = f64x2.add(p01, f64x2.mul(s, y));
    const t = v128.load(a1 + k);
    p10 = f64x2.add(p10, f64x2.mul(t, x));
    p11 = f64x2.add(p11, f64x2.mul(t, y));
    const u = v128.load(a2 + k);
    p20 = f64x2.add(p20, f64x2.mul(u, x));
    p21 = f64x2.add(p21, f64x2.mul(u, y));
    const v = v128.load(a3 + k);
    p30 = f64x2.add(p30, f64x2.mul(v, x));
    p31 = f64x2.add(p31, f64x2.mul(v, y));
  }
  add(target, sign, p00, p01, pair);
  if (rows > 1) add(at(target, cWidth), sign, p10, p11, pair);
  if (rows > 2) add(at(target, 2 * cWidth), sign, p20, p21, pair);
  if (rows > 3) add(at(target, 3 * cWidth), sign, p30, p31, pair);
  if ((length & 1) == 0) return;
  addLast(target, sign, a0 + even, b0 + even, b1 + even, pair);
  if (rows > 1) addLast(at(target, cWidth), sign, a1 + even, b0 + even, b1 + even, pair);
  if (rows > 2) addLast(at(target, 2 * cWidth), sign, a2 + even, b0 + even, b1 + even, pair);
  if (rows > 3) addLast(at(target, 3 * cWidth), sign, a3 + even, b0 + even, b1 + even, pair);
}

/** The products of the last numbers of rows of odd length. */
function addLast(target: usize, sign: f64, a: usize, b0: usize, b1: usize, pair: bool): void {
  store<f64>(target, load<f64>(target) + sign * load<f64>(a) * load<f64>(b0));
  if (pair) store<f64>(target, load<f64>(target, 8) + sign * load<f64>(a) * load<f64>(b1), 8);
}

function add(target: usize, sign: f64, p: v128, q: v128, pair: bool): void {
  store<f64>(target, load<f64>(target) + sign * (f64x2.extract_lane(p, 0) + f64x2.extract_lane(p, 1)));
  if (pair)
    store<f64>(
      target,
      load<f64>(target, 8) + sign * (f64x2.extract_lane(q, 0) + f64x2.extract_lane(q, 1)),
      8,
    );
}

/** Finishes columns from..to-1 of some rows whose earlier columns are done: x L^T = b within the block. */
function solveBlock(factor: usize, n: i32, x: usize, rowsFrom: i32, rowsTo: i32, from: i32, to: i32): void {
  for (let i = rowsFrom; i < rowsTo; i++) {
    const row = at(x, i * n);
    for (let j = from; j < to; j++) {
      const other = at(factor, j * n);
      let sum = load<f64>(at(row, j));
      for (let k = from; k < j; k++) sum -= load<f64>(at(row, k)) * load<f64>(at(other, k));
      store<f64>(at(row, j), sum / load<f64>(at(other, j)));
    }
  }
}

/** See choleskyLargeInPlace. */
export function cholesky(a: usize, n: i32): bool {
  for (let from = 0; from < n; from += BLOCK) {
    const to = min(n, from + BLOCK);
    addProducts(-1, a, n, a, a, n, from, n, from, to, 0, from, true);
    for (let j = from; j < to; j++) {
      const row = at(a, j * n);
      solveBlock(a, n, a, j, j + 1, from, j);
      let pivot = load<f64>(at(row, j));
      for (let k = from; k < j; k++) pivot -= load<f64>(at(row, k)) * load<f64>(at(row, k));
      if (!(pivot > 0)) return false;
      store<f64>(at(row, j), Math.sqrt(pivot));
    }
    solveBlock(a, n, a, to, n, from, to);
  }
  return true;
}

/** See solveLowerRowsInPlace. */
export function solveLowerRows(factor: usize, n: i32, rows: usize, count: i32): void {
  for (let from = 0; from < n; from += BLOCK) {
    const to = min(n, from + BLOCK);
    addProducts(-1, rows, n, rows, factor, n, 0, count, from, to, 0, from, false);
    solveBlock(factor, n, rows, 0, count, from, to);
  }
}

/** See addRowProducts. */
export function addRowProducts(sign: f64, c: usize, rows: usize, count: i32, length: i32): void {
  for (let from = 0; from < count; from += BLOCK)
    addProducts(
      sign,
      c,
      count,
      rows,
      rows,
      length,
      from,
      count,
      from,
      min(count, from + BLOCK),
      0,
      length,
      true,
    );
}
