/**
 * Inner loops of an envelope matrix, in AssemblyScript: two numbers at a time. What they do and how rows lie in memory is told in
 * envelope-matrix.ts; plain-loops.ts gives the same to the last digits.
 *
 * All arguments are addresses in bytes; numbers are f64, counts and places i32. Rows come in blocks of six.
 */

/** Rows and columns of a block. */
const SIDE: i32 = 6;

function at(values: usize, index: i32): usize {
  return values + ((<usize>index) << 3);
}

function place(values: usize, index: i32): i32 {
  return load<i32>(values + ((<usize>index) << 2));
}

/**
 * Takes the outer product of a column of three numbers per row off the matrix: one group after the other, each of which touches some
 * blocks of rows.
 *
 * @param values the matrix
 * @param start where each block of rows begins, counted in numbers
 * @param first first block of columns that each block of rows holds
 * @param groupStart first entry of each group, and one more at the end
 * @param block block of rows of each entry, rising within a group
 * @param factor 18 numbers an entry: six rows of three
 * @param scratch room for three rows of the widest group
 */
export function takeOuter(
  values: usize,
  start: usize,
  first: usize,
  groups: i32,
  groupStart: usize,
  block: usize,
  factor: usize,
  scratch: usize,
): void {
  for (let g = 0; g < groups; g++) {
    const begin = place(groupStart, g);
    const end = place(groupStart, g + 1);
    if (begin == end || isZero(at(factor, 18 * begin), 18 * (end - begin))) continue;
    const from = place(block, begin);
    const width = SIDE * (place(block, end - 1) - from + 1);
    spread(factor, block, begin, end, from, width, scratch);
    for (let o = begin; o < end; o++) {
      const t = place(block, o);
      const stride = SIDE * (t - place(first, t) + 1);
      const row = at(values, place(start, t) + SIDE * (from - place(first, t)));
      const columns = SIDE * (t - from + 1);
      const f = at(factor, 18 * o);
      takeRows(row, stride, f, scratch, width, columns);
      takeRows(at(row, 3 * stride), stride, f + 72, scratch, width, columns);
    }
  }
}

function isZero(from: usize, count: i32): bool {
  for (let k = 0; k < count; k++) if (load<f64>(at(from, k)) != 0) return false;
  return true;
}

/** The factors of a group as three rows over all its columns, zero where it has no entry. */
function spread(
  factor: usize,
  block: usize,
  begin: i32,
  end: i32,
  from: i32,
  width: i32,
  scratch: usize,
): void {
  memory.fill(scratch, 0, (<usize>(3 * width)) << 3);
  for (let o = begin; o < end; o++) {
    let f = at(factor, 18 * o);
    const column = SIDE * (place(block, o) - from);
    for (let r = 0; r < SIDE; r++) {
      store<f64>(at(scratch, column + r), load<f64>(f));
      store<f64>(at(scratch, width + column + r), load<f64>(f, 8));
      store<f64>(at(scratch, 2 * width + column + r), load<f64>(f, 16));
      f += 24;
    }
  }
}

/** Three rows at once, so that each number of the scratch is read once for nine products. */
function takeRows(row: usize, stride: i32, f: usize, scratch: usize, width: i32, columns: i32): void {
  const a0 = f64x2.splat(load<f64>(f));
  const a1 = f64x2.splat(load<f64>(f, 8));
  const a2 = f64x2.splat(load<f64>(f, 16));
  const b0 = f64x2.splat(load<f64>(f, 24));
  const b1 = f64x2.splat(load<f64>(f, 32));
  const b2 = f64x2.splat(load<f64>(f, 40));
  const c0 = f64x2.splat(load<f64>(f, 48));
  const c1 = f64x2.splat(load<f64>(f, 56));
  const c2 = f64x2.splat(load<f64>(f, 64));
  let rowA = row;
  let rowB = at(row, stride);
  let rowC = at(row, 2 * stride);
  let s0 = scratch;
  let s1 = at(scratch, width);
  let s2 = at(scratch, 2 * width);
  const stop = at(scratch, columns);
  while (s0 < stop) {
    const x = v128.load(s0);
    const y = v128.load(s1);
    const z = v128.load(s2);
    v128.store(
      rowA,
      f64x2.sub(v128.load(rowA), f64x2.add(f64x2.add(f64x2.mul(a0, x), f64x2.mul(a1, y)), f64x2.mul(a2, z))),
    );
    v128.store(
      rowB,
      f64x2.sub(v128.load(rowB), f64x2.add(f64x2.add(f64x2.mul(b0, x), f64x2.mul(b1, y)), f64x2.mul(b2, z))),
    );
    v128.store(
      rowC,
      f64x2.sub(v128.load(rowC), f64x2.add(f64x2.add(f64x2.mul(c0, x), f64x2.mul(c1, y)), f64x2.mul(c2, z))),
    );
    s0 += 16;
    s1 += 16;
    s2 += 16;
    rowA += 16;
    rowB += 16;
    rowC += 16;
  }
}

/**
 * Cholesky in place, block of rows by block of rows; the diagonal then holds 1 / L_ii, 0 where the pivot is no more than the least.
 *
 * @param blocks number of blocks of rows
 * @param least a number for each row
 */
export function factor(values: usize, start: usize, first: usize, blocks: i32, least: usize): void {
  for (let t = 0; t < blocks; t++) {
    const firstT = place(first, t);
    const strideT = SIDE * (t - firstT + 1);
    const rowsT = at(values, place(start, t));
    for (let s = firstT; s <= t; s++) {
      const firstS = place(first, s);
      const strideS = SIDE * (s - firstS + 1);
      const rowsS = at(values, place(start, s));
      const from = max(firstT, firstS);
      const inner = SIDE * (s - from);
      const a = at(rowsT, SIDE * (from - firstT));
      const b = at(rowsS, SIDE * (from - firstS));
      const target = at(rowsT, SIDE * (s - firstT));
      for (let i = 0; i < SIDE; i += 3)
        for (let j = 0; j < SIDE; j += 2)
          takeDots(
            at(a, i * strideT),
            strideT,
            at(b, j * strideS),
            strideS,
            inner,
            at(target, i * strideT + j),
          );
      if (s < t) solveBlock(target, strideT, at(rowsS, SIDE * (s - firstS)), strideS);
      else factorBlock(target, strideT, at(least, SIDE * t));
    }
  }
}

/** Takes the products of three rows with two others off six numbers of the first. */
function takeDots(a: usize, strideA: i32, b: usize, strideB: i32, inner: i32, target: usize): void {
  let p00 = f64x2.splat(0);
  let p01 = f64x2.splat(0);
  let p10 = f64x2.splat(0);
  let p11 = f64x2.splat(0);
  let p20 = f64x2.splat(0);
  let p21 = f64x2.splat(0);
  let a0 = a;
  let a1 = at(a, strideA);
  let a2 = at(a, 2 * strideA);
  let b0 = b;
  let b1 = at(b, strideB);
  const stop = at(a, inner);
  while (a0 < stop) {
    const x = v128.load(b0);
    const y = v128.load(b1);
    const u = v128.load(a0);
    p00 = f64x2.add(p00, f64x2.mul(u, x));
    p01 = f64x2.add(p01, f64x2.mul(u, y));
    const v = v128.load(a1);
    p10 = f64x2.add(p10, f64x2.mul(v, x));
    p11 = f64x2.add(p11, f64x2.mul(v, y));
    const w = v128.load(a2);
    p20 = f64x2.add(p20, f64x2.mul(w, x));
    p21 = f64x2.add(p21, f64x2.mul(w, y));
    a0 += 16;
    a1 += 16;
    a2 += 16;
    b0 += 16;
    b1 += 16;
  }
  take(target, p00, p01);
  take(at(target, strideA), p10, p11);
  take(at(target, 2 * strideA), p20, p21);
}

function take(target: usize, p: v128, q: v128): void {
  store<f64>(target, load<f64>(target) - (f64x2.extract_lane(p, 0) + f64x2.extract_lane(p, 1)));
  store<f64>(target, load<f64>(target, 8) - (f64x2.extract_lane(q, 0) + f64x2.extract_lane(q, 1)), 8);
}

/** Rows of a block off the diagonal, once their products are taken off: X L^T = A with the diagonal block L of their columns. */
function solveBlock(target: usize, stride: i32, diagonal: usize, strideD: i32): void {
  for (let i = 0; i < SIDE; i++) {
    const row = at(target, i * stride);
    for (let j = 0; j < SIDE; j++) {
      const other = at(diagonal, j * strideD);
      let sum = load<f64>(at(row, j));
      for (let k = 0; k < j; k++) sum -= load<f64>(at(row, k)) * load<f64>(at(other, k));
      store<f64>(at(row, j), sum * load<f64>(at(other, j)));
    }
  }
}

function factorBlock(target: usize, stride: i32, least: usize): void {
  for (let i = 0; i < SIDE; i++) {
    const row = at(target, i * stride);
    for (let j = 0; j < i; j++) {
      const other = at(target, j * stride);
      let sum = load<f64>(at(row, j));
      for (let k = 0; k < j; k++) sum -= load<f64>(at(row, k)) * load<f64>(at(other, k));
      store<f64>(at(row, j), sum * load<f64>(at(other, j)));
    }
    let pivot = load<f64>(at(row, i));
    for (let k = 0; k < i; k++) pivot -= load<f64>(at(row, k)) * load<f64>(at(row, k));
    store<f64>(at(row, i), pivot > load<f64>(at(least, i)) ? 1 / Math.sqrt(pivot) : 0);
  }
}
