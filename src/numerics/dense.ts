/**
 * Small dense symmetric positive definite systems by Cholesky factorisation.
 *
 * A matrix of order n is a Float64Array of n * n numbers, row by row. Only the lower triangle is read.
 */

/**
 * Replaces the lower triangle of `a` by its Cholesky factor L (a = L L^T); the upper triangle is left as it is.
 *
 * @param a length n * n, changed
 * @param n order
 * @returns false when the matrix is not positive definite; `a` is then half overwritten
 */
export function choleskyInPlace(a: Float64Array, n: number): boolean {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j];
      for (let k = 0; k < j; k++) sum -= a[i * n + k] * a[j * n + k];
      if (j < i) {
        a[i * n + j] = sum / a[j * n + j];
      } else {
        if (!(sum > 0)) return false;
        a[i * n + i] = Math.sqrt(sum);
      }
    }
  }
  return true;
}

/**
 * Replaces `x` by the solution of L L^T x = b, where `x` comes in as b.
 *
 * @param factor L from {@link choleskyInPlace}, length n * n
 * @param x length n, changed
 * @param n order
 */
export function choleskySolveInPlace(factor: Readonly<Float64Array>, x: Float64Array, n: number): void {
  for (let i = 0; i < n; i++) {
    let sum = x[i];
    for (let k = 0; k < i; k++) sum -= factor[i * n + k] * x[k];
    x[i] = sum / factor[i * n + i];
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i];
    for (let k = i + 1; k < n; k++) sum -= factor[k * n + i] * x[k];
    x[i] = sum / factor[i * n + i];
  }
}

/**
 * Entry (j, j) of the inverse of L L^T: the squared length of L^-1 e_j, which has nothing above row j.
 *
 * @param factor L from {@link choleskyInPlace}, length n * n
 * @param n order
 * @param room length n, overwritten
 */
export function inverseDiagonal(
  factor: Readonly<Float64Array>,
  j: number,
  n: number,
  room: Float64Array,
): number {
  let square = 0;
  for (let i = j; i < n; i++) {
    let sum = i === j ? 1 : 0;
    for (let k = j; k < i; k++) sum -= factor[i * n + k] * room[k];
    const value = sum / factor[i * n + i];
    room[i] = value;
    square += value * value;
  }
  return square;
}

function factored(a: Readonly<Float64Array>, n: number): Float64Array {
  if (a.length !== n * n) throw new RangeError(`a must hold ${n * n} numbers, got ${a.length}`);
  const factor = new Float64Array(a);
  if (!choleskyInPlace(factor, n)) throw new RangeError('matrix is not positive definite');
  return factor;
}

/**
 * Solves A x = b for a symmetric positive definite A.
 *
 * @param a length n * n, not changed
 * @param b length n, not changed
 * @param n order
 * @returns x, length n
 * @throws RangeError when the sizes do not fit or A is not positive definite
 */
export function solveSymmetric(
  a: Readonly<Float64Array>,
  b: Readonly<Float64Array>,
  n: number,
): Float64Array {
  if (b.length !== n) throw new RangeError(`b must hold ${n} numbers, got ${b.length}`);
  const x = new Float64Array(b);
  choleskySolveInPlace(factored(a, n), x, n);
  return x;
}

/**
 * Inverse of a symmetric positive definite matrix.
 *
 * @param a length n * n, not changed
 * @param n order
 * @returns length n * n, symmetric
 * @throws RangeError when the size does not fit or A is not positive definite
 */
export function invertSymmetric(a: Readonly<Float64Array>, n: number): Float64Array {
  const factor = factored(a, n);
  const inverse = new Float64Array(n * n);
  const column = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    column.fill(0);
    column[j] = 1;
    choleskySolveInPlace(factor, column, n);
    for (let i = 0; i < n; i++) inverse[i * n + j] = column[i];
  }
  // Rounding leaves the two triangles a last digit apart.
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) inverse[j * n + i] = inverse[i * n + j];
  }
  return inverse;
}
