/**
 * What a series says of its vibration once its slow part is left free: the high-pass of the surface room as a matrix, without unit.
 *
 * K = I - (I + lambda D'D)^-1 with D the fourth difference and lambda set by the cut-off, the exact matrix of "series minus
 * `fourthDifferenceSmooth`". It is also, times 1 / sigma^2, the precision of white noise of standard deviation sigma plus a drift
 * with prior lambda |D b|^2 / sigma^2 that is integrated out, so y' K y / sigma^2 is a likelihood of raw series and no edge of a
 * stretch is special. Own derivation.
 */
import { addRowProducts, mirrorLower } from '../../numerics/index.js';

const DIFFERENCE = [1, -4, 6, -4, 1] as const;
const TAPS = DIFFERENCE.length;

/**
 * K of order n, row by row, symmetric.
 *
 * Built as X'X with R'X = sqrt(lambda) D and R the triangle of [I; sqrt(lambda) D'], found by rotations: squaring the condition
 * would lose the slow end at high frame rates, and a difference I - (...) would leave cubics with a precision below zero.
 *
 * @param n frames, at least 5
 * @param cutoffHz frequency of half gain, above 0 and up to rateHz / 2
 * @throws RangeError on fewer frames or a cut-off outside
 */
export function driftPrecision(n: number, rateHz: number, cutoffHz: number): Float64Array {
  if (!(n >= TAPS)) throw new RangeError(`a drift needs at least ${TAPS} frames, got ${n}`);
  if (!(cutoffHz > 0 && cutoffHz <= rateHz / 2)) {
    throw new RangeError(`cutoffHz must lie above 0 and up to half of rateHz ${rateHz}, got ${cutoffHz}`);
  }
  // Square root of lambda = (2 sin(pi fc / fs))^-8.
  const weight = (2 * Math.sin((Math.PI * cutoffHz) / rateHz)) ** -4;
  const count = n - TAPS + 1;
  const triangle = bandedTriangle(n, weight);
  // Column s of X' at [t * count + s]; X is lower trapezoidal, row s of D reaches from frame s to s + 4.
  const transposed = new Float64Array(n * count);
  for (let s = 0; s < count; s++) {
    const diagonal = triangle[s * TAPS];
    for (let t = 0; t < s + TAPS; t++) {
      let sum = t < s ? 0 : weight * DIFFERENCE[t - s];
      for (let k = 1; k < TAPS && k <= s; k++) {
        sum -= triangle[(s - k) * TAPS + k] * transposed[t * count + s - k];
      }
      transposed[t * count + s] = sum / diagonal;
    }
  }
  const precision = new Float64Array(n * n);
  addRowProducts(1, precision, transposed, n, count);
  mirrorLower(precision, n);
  return precision;
}

/** R of [I; weight D'], row s at [s * 5 + k] holding R(s, s + k). */
function bandedTriangle(n: number, weight: number): Float64Array {
  const count = n - TAPS + 1;
  const triangle = new Float64Array(count * TAPS);
  const row = new Float64Array(TAPS);
  for (let s = 0; s < count; s++) {
    row.fill(0);
    row[0] = 1;
    rotateIn(triangle, row, s, count);
    // Row t of D' touches unknowns t - 4 .. t; those of the first frames begin at unknown 0.
    for (let t = s === 0 ? 0 : s + TAPS - 1; t < s + TAPS; t++) {
      row.fill(0);
      for (let unknown = s; unknown <= Math.min(t, count - 1); unknown++) {
        row[unknown - s] = weight * DIFFERENCE[t - unknown];
      }
      rotateIn(triangle, row, s, count);
    }
  }
  return triangle;
}

/** Rotates a row that begins at unknown `from` into the triangle; the row is used up. */
function rotateIn(triangle: Float64Array, row: Float64Array, from: number, count: number): void {
  for (let k = 0; k < TAPS && from + k < count; k++) {
    if (row[k] === 0) continue;
    const at = (from + k) * TAPS;
    const length = Math.hypot(triangle[at], row[k]);
    const c = triangle[at] / length;
    const s = row[k] / length;
    for (let j = k; j < TAPS; j++) {
      const upper = triangle[at + j - k];
      triangle[at + j - k] = c * upper + s * row[j];
      row[j] = c * row[j] - s * upper;
    }
  }
}
