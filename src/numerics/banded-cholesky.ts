/**
 * Symmetric positive definite systems whose entries lie in a narrow band about the diagonal, by Cholesky factorisation.
 *
 * A band of half bandwidth b holds A(i, i - k) at [i * (b + 1) + k], k = 0..b; places left of column 0 are not read. Cost
 * n b^2, memory n b.
 */
import { type SparseRows } from './sparse-rows.js';

/** A pivot below this share of its diagonal entry has been cancelled to rounding. */
const LEAST_PIVOT_SHARE = 1e-15;

/** Adds A^T diag(weights) A of some rows to a band; only its lower half is kept. */
export function addWeightedSquare(
  band: Float64Array,
  half: number,
  rows: SparseRows,
  weights: Readonly<Float64Array>,
): void {
  const { perRow, columns, coefficients } = rows;
  const stride = half + 1;
  for (let r = 0; r < weights.length; r++) {
    const from = r * perRow;
    for (let i = from; i < from + perRow; i++) {
      const scaled = weights[r] * coefficients[i];
      if (scaled === 0) continue;
      const row = columns[i];
      for (let j = from; j < from + perRow; j++) {
        const back = row - columns[j];
        if (back >= 0 && coefficients[j] !== 0) band[row * stride + back] += scaled * coefficients[j];
      }
    }
  }
}

/**
 * Replaces a band by its Cholesky factor.
 *
 * An unknown that the matrix does not hold (a pivot that is zero to rounding) is blocked: solutions are 0 there.
 *
 * @param band changed
 * @param half half bandwidth, >= 0
 * @remarks Golub & Van Loan, Matrix Computations, banded Cholesky; blocked pivots as interior-point codes do it
 *   (S. Wright, Primal-Dual Interior-Point Methods, 1997, chapter 11).
 */
export function bandedCholeskyInPlace(band: Float64Array, half: number): void {
  const stride = half + 1;
  const n = band.length / stride;
  for (let i = 0; i < n; i++) {
    const at = i * stride;
    const reach = Math.min(half, i);
    for (let back = reach; back >= 0; back--) {
      const other = (i - back) * stride;
      let sum = band[at + back];
      // Products of the parts of both rows left of column i - back.
      for (let k = back + 1; k <= reach; k++) sum -= band[at + k] * band[other + k - back];
      if (back > 0) {
        band[at + back] = sum * band[other];
      } else {
        const floor = LEAST_PIVOT_SHARE * band[at];
        // The diagonal of the factor is kept as its reciprocal; 0 blocks the unknown.
        band[at] = sum > floor && sum > 0 ? 1 / Math.sqrt(sum) : 0;
      }
    }
  }
}

/** Replaces x, which comes in as b, by the solution of A x = b; `factor` from {@link bandedCholeskyInPlace}. */
export function bandedSolveInPlace(factor: Readonly<Float64Array>, half: number, x: Float64Array): void {
  const stride = half + 1;
  const n = x.length;
  for (let i = 0; i < n; i++) {
    const at = i * stride;
    let sum = x[i];
    const reach = Math.min(half, i);
    for (let k = 1; k <= reach; k++) sum -= factor[at + k] * x[i - k];
    x[i] = sum * factor[at];
  }
  for (let i = n - 1; i >= 0; i--) {
    const at = i * stride;
    const value = x[i] * factor[at];
    x[i] = value;
    const reach = Math.min(half, i);
    for (let k = 1; k <= reach; k++) x[i - k] -= factor[at + k] * value;
  }
}
