import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom, symmetricEigen } from '../../src/numerics/index.js';
import { expectWithin } from '../support/expect-within.js';

/** Rounding of n sums of products, relative to the largest eigenvalue. */
const ROUNDING = 1e-12;

function randomSymmetric(n: number, seed: number): Float64Array {
  const gaussian = gaussianRandom(seededRandom(seed));
  const a = new Float64Array(n * n);
  for (let i = 0; i < n; i++) for (let j = 0; j <= i; j++) a[i * n + j] = a[j * n + i] = gaussian();
  return a;
}

describe('eigenvalues of a symmetric matrix', () => {
  it('are those of the closed form for two rows', () => {
    const { values, vectors } = symmetricEigen(Float64Array.from([2, 1, 1, 2]), 2);
    expectWithin(values[0], 1, { abs: ROUNDING, why: 'rounding' });
    expectWithin(values[1], 3, { abs: ROUNDING, why: 'rounding' });
    expectWithin(Math.abs(vectors[2]), Math.SQRT1_2, { abs: ROUNDING, why: 'rounding' });
  });

  it('are 2 - 2 cos(k pi / (n + 1)) for the second difference', () => {
    const n = 30;
    const a = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      a[i * n + i] = 2;
      if (i > 0) a[i * n + i - 1] = -1;
    }
    const { values } = symmetricEigen(a, n);
    values.forEach((value, k) => {
      const exact = 2 - 2 * Math.cos(((k + 1) * Math.PI) / (n + 1));
      expectWithin(value, exact, { abs: ROUNDING, why: 'rounding' });
    });
  });

  it.each([1, 3, 12, 120])('and unit vectors give the matrix of %d rows back', (n) => {
    const a = randomSymmetric(n, n);
    const before = Float64Array.from(a);
    const { values, vectors } = symmetricEigen(a, n);
    expect(a).toEqual(before);
    const largest = Math.max(...values.map(Math.abs));
    let back = 0;
    let square = 0;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        let sum = 0;
        let dot = 0;
        for (let k = 0; k < n; k++) {
          sum += values[k] * vectors[k * n + i] * vectors[k * n + j];
          dot += vectors[i * n + k] * vectors[j * n + k];
        }
        back = Math.max(back, Math.abs(sum - a[i * n + j]));
        square = Math.max(square, Math.abs(dot - (i === j ? 1 : 0)));
      }
    }
    expectWithin(back / largest, 0, { abs: ROUNDING, why: 'rounding' });
    expectWithin(square, 0, { abs: ROUNDING, why: 'rounding' });
    for (let k = 1; k < n; k++) expect(values[k]).toBeGreaterThanOrEqual(values[k - 1]);
  });

  it('of the matrix of ones and of nothing are n once, else 0', () => {
    const { values } = symmetricEigen(new Float64Array(25).fill(1), 5);
    for (let k = 0; k < 4; k++) expectWithin(values[k], 0, { abs: ROUNDING, why: 'rounding' });
    expectWithin(values[4], 5, { abs: ROUNDING, why: 'rounding' });
    expect(symmetricEigen(new Float64Array(9), 3).values).toEqual(new Float64Array(3));
    expect(symmetricEigen(new Float64Array(0), 0).values).toHaveLength(0);
  });

  it('are refused for sizes that do not fit and for what is not finite', () => {
    expect(() => symmetricEigen(new Float64Array(5), 2)).toThrow(RangeError);
    expect(() => symmetricEigen(Float64Array.from([1, 0, NaN, 1]), 2)).toThrow(/finite/);
  });
});
