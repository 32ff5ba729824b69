/**
 * Cholesky factorisation and solution of symmetric positive definite banded systems in O(n b^2).
 *
 * Storage of a matrix A of order n with b bands under the diagonal: row by row, b + 1 numbers a row,
 * `bands[i * (b + 1) + j] = A[i][i - j]` for j = 0 .. b; places with i - j < 0 are not read.
 */

/**
 * Factors A = L L^T.
 *
 * @param bands lower bands of A as described above, length n (b + 1), not changed
 * @param n order of A
 * @param bandwidth b, number of bands under the diagonal
 * @returns L in the same storage
 * @throws RangeError when the storage does not fit or A is not positive definite
 * @remarks Source: Golub & Van Loan, Matrix Computations, band Cholesky.
 */
export function factorBandedSymmetric(
  bands: Readonly<Float64Array>,
  n: number,
  bandwidth: number,
): Float64Array {
  const width = bandwidth + 1;
  if (bands.length !== n * width)
    throw new RangeError(`bands must hold ${n * width} numbers, got ${bands.length}`);
  const factor = Float64Array.from(bands);
  for (let i = 0; i < n; i++) {
    const row = i * width;
    const first = Math.max(0, i - bandwidth);
    for (let k = first; k <= i; k++) {
      const other = k * width;
      let sum = factor[row + i - k];
      for (let m = Math.max(first, k - bandwidth); m < k; m++)
        sum -= factor[row + i - m] * factor[other + k - m];
      if (k < i) {
        factor[row + i - k] = sum / factor[other];
      } else {
        if (!(sum > 0)) throw new RangeError(`matrix is not positive definite at row ${i}`);
        factor[row] = Math.sqrt(sum);
      }
    }
  }
  return factor;
}

/**
 * Solves L L^T x = rhs with a factor from {@link factorBandedSymmetric}.
 *
 * @param factor L, length n (b + 1)
 * @param bandwidth b
 * @param rhs length n, not changed
 * @returns x, length n
 */
export function solveBandedFactored(
  factor: Readonly<Float64Array>,
  bandwidth: number,
  rhs: Readonly<Float64Array>,
): Float64Array {
  const n = rhs.length;
  const width = bandwidth + 1;
  const x = Float64Array.from(rhs);
  for (let i = 0; i < n; i++) {
    let sum = x[i];
    for (let j = 1; j <= Math.min(i, bandwidth); j++) sum -= factor[i * width + j] * x[i - j];
    x[i] = sum / factor[i * width];
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i];
    for (let j = 1; j <= Math.min(n - 1 - i, bandwidth); j++) sum -= factor[(i + j) * width + j] * x[i + j];
    x[i] = sum / factor[i * width];
  }
  return x;
}

/**
 * Solves A x = rhs for a symmetric positive definite banded A.
 *
 * @param bands lower bands of A as described above, length n (b + 1), not changed
 * @param bandwidth b
 * @param rhs length n, not changed
 * @returns x, length n
 * @throws RangeError when the storage does not fit or A is not positive definite
 */
export function solveBandedSymmetric(
  bands: Readonly<Float64Array>,
  bandwidth: number,
  rhs: Readonly<Float64Array>,
): Float64Array {
  return solveBandedFactored(factorBandedSymmetric(bands, rhs.length, bandwidth), bandwidth, rhs);
}
