/**
 * Cholesky factor of a symmetric positive definite matrix that is zero outside an envelope, given as blocks on the diagonal less a sum of
 * outer products: the reduced system of a chain of poses whose points have been eliminated. One factor serves any number of right-hand
 * sides.
 *
 * Row-wise Cholesky in an envelope: Jennings 1966, "A compact storage scheme for the solution of symmetric linear simultaneous
 * equations" (from memory).
 */
import { factorPlain, takeOuterPlain } from './plain-loops.js';
import { SIDE, type EnvelopeRows, type OuterGroups } from './rows.js';
import { factorLessOuterSimd } from './simd-loops.js';

/** A pivot below this share of its diagonal is rounding: nothing informs that unknown, and it stays where it is. */
const ROUNDING = 1e-13;

/** L of A = L L^T. */
export class EnvelopeFactor {
  constructor(
    private readonly rows: EnvelopeRows,
    /** L, its diagonal turned over. */
    private readonly values: Float64Array,
  ) {}

  /** Solves A x = b. @param b length 6 per block, not changed @returns x; 0 where nothing informs an unknown */
  solve(b: Readonly<Float64Array>): Float64Array {
    const { values } = this;
    const { first, start } = this.rows;
    const x = new Float64Array(b);
    for (let t = 0; t < first.length; t++) {
      const from = SIDE * first[t];
      const own = SIDE * t;
      for (let r = 0, at = start[t]; r < SIDE; r++, at += own + SIDE - from) {
        let sum = x[own + r];
        for (let c = from, a = at; c < own + r; c++, a++) sum -= values[a] * x[c];
        x[own + r] = sum * values[at + own + r - from];
      }
    }
    for (let t = first.length - 1; t >= 0; t--) {
      const from = SIDE * first[t];
      const own = SIDE * t;
      const stride = own + SIDE - from;
      for (let r = SIDE - 1, at = start[t] + (SIDE - 1) * stride; r >= 0; r--, at -= stride) {
        const value = x[own + r] * values[at + own + r - from];
        x[own + r] = value;
        for (let c = from, a = at; c < own + r; c++, a++) x[c] -= values[a] * value;
      }
    }
    return x;
  }
}

/**
 * Factors D - sum F F^T.
 *
 * @param blocks D, 36 numbers per block of the diagonal, row by row
 * @param simd false takes the plain loops even where the engine has SIMD
 */
export function factorLessOuter(
  rows: EnvelopeRows,
  blocks: Float64Array,
  groups: OuterGroups,
  simd = true,
): EnvelopeFactor {
  const values = new Float64Array(rows.size);
  const least = new Float64Array(SIDE * rows.first.length);
  for (let t = 0; t < rows.first.length; t++) {
    const stride = SIDE * (t - rows.first[t] + 1);
    for (let r = 0; r < SIDE; r++) {
      const row = 36 * t + SIDE * r;
      values.set(blocks.subarray(row, row + SIDE), rows.start[t] + (r + 1) * stride - SIDE);
      least[SIDE * t + r] = ROUNDING * blocks[row + r];
    }
  }
  if (!simd || !factorLessOuterSimd(rows, groups, least, values)) {
    takeOuterPlain(rows, groups, values);
    factorPlain(rows, least, values);
  }
  return new EnvelopeFactor(rows, values);
}
