/**
 * Kernels for dense matrices of hundreds to some thousand rows: Cholesky factor, triangular solve for many right-hand sides, Gram
 * products.
 *
 * Matrices are Float64Arrays, row by row, and every right-hand side is a row: all inner loops are then products of contiguous rows,
 * four by two at a time so that a number that was loaded is used several times. They are compiled (large/loops.as.ts), with plain ones
 * beside them. For small systems `dense.ts` is plainer.
 *
 * @remarks Blocked left-looking factorisation after Golub & Van Loan, Matrix Computations, chapter 4.
 */
import { addRowProductsPlain, choleskyPlain, solveLowerRowsPlain } from './large/plain-loops.js';
import { addRowProductsSimd, choleskySimd, solveLowerRowsSimd } from './large/simd-loops.js';

/** Multiply-adds below which copying to the compiled loops and back is not worth it. */
const WORTH_COPYING = 1e6;

/**
 * Replaces the lower triangle of `a` by its Cholesky factor L (a = L L^T); only the lower triangle is read, and what stands above it
 * means nothing afterwards.
 *
 * @param a length n * n, changed
 * @param n order
 * @returns false when the matrix is not positive definite; `a` is then half overwritten
 */
export function choleskyLargeInPlace(a: Float64Array, n: number): boolean {
  const compiled = n ** 3 / 6 < WORTH_COPYING ? null : choleskySimd(a, n);
  return compiled ?? choleskyPlain(a, n);
}

/**
 * Replaces every row b of `rows` by L^-1 b.
 *
 * @param factor lower triangle L of order n, as from {@link choleskyLargeInPlace}
 * @param rows count * n numbers, changed
 */
export function solveLowerRowsInPlace(
  factor: Readonly<Float64Array>,
  n: number,
  rows: Float64Array,
  count: number,
): void {
  const isDone = (n ** 2 * count) / 2 >= WORTH_COPYING && solveLowerRowsSimd(factor, n, rows, count);
  if (!isDone) solveLowerRowsPlain(factor, n, rows, count);
}

/**
 * Adds (or takes off) the products of all pairs of rows: c += sign X X^T. Only the lower triangle of `c` is meant; some entries above
 * it change too and mean nothing.
 *
 * @param c count * count numbers, changed
 * @param rows X, count * length numbers
 */
export function addRowProducts(
  sign: 1 | -1,
  c: Float64Array,
  rows: Readonly<Float64Array>,
  count: number,
  length: number,
): void {
  const isDone =
    (count ** 2 * length) / 2 >= WORTH_COPYING && addRowProductsSimd(sign, c, rows, count, length);
  if (!isDone) addRowProductsPlain(sign, c, rows, count, length);
}

/** Copies the lower triangle of a matrix of order n over its upper one. */
export function mirrorLower(a: Float64Array, n: number): void {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) a[j * n + i] = a[i * n + j];
  }
}
