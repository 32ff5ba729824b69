import { describe, expect, it } from 'vitest';
import {
  gaussianRandom,
  mean,
  median,
  medianAbsoluteDeviation,
  quantile,
  rms,
  seededRandom,
  standardDeviation,
} from '../../src/numerics/index.js';
import { expectWithin } from '../support/expect-within.js';

const EXACT = { rel: 1e-14, abs: 1e-14, why: 'rounding of a few additions' };

describe('summary statistics', () => {
  const x = Float64Array.from([-11, -1, 0, -8, -2, -5, 6, 8, 1, 8]);

  it('agree with hand calculation', () => {
    expectWithin(mean(x), -0.4, EXACT);
    expectWithin(standardDeviation(Float64Array.from([2, 4, 4, 4, 5, 5, 7, 9])), Math.sqrt(32 / 7), EXACT);
    expectWithin(rms(Float64Array.from([3, -4])), Math.sqrt(12.5), EXACT);
    expectWithin(medianAbsoluteDeviation([1, 1, 2, 2, 4, 6, 9]), 1, EXACT);
  });

  it('pick the order statistics that sorting gives, many of them equal or not', () => {
    const random = seededRandom(5);
    for (const n of [2, 33, 100, 1001]) {
      for (const kinds of [3, 40, Infinity]) {
        const column = Float64Array.from({ length: n }, () =>
          kinds === Infinity ? random() - 0.5 : Math.floor(kinds * random()),
        );
        const sorted = column.slice().sort();
        for (let k = 0; k < n; k += Math.ceil(n / 17))
          expectWithin(quantile(column, k / (n - 1)), sorted[k], EXACT);
        expect(quantile(column.sort(), 1)).toBe(sorted[n - 1]);
        expect(quantile(sorted.slice().reverse(), 0)).toBe(sorted[0]);
      }
    }
  });

  it('interpolate quantiles between order statistics as numpy 2.4 does', () => {
    expectWithin(quantile(x, 0.3), -2.9, EXACT);
    expectWithin(median(x), -0.5, EXACT);
    expect(quantile(x, 0)).toBe(-11);
    expect(quantile(x, 1)).toBe(8);
    expect(quantile([7], 0.4)).toBe(7);
  });

  it('leave the column in its order', () => {
    const copy = Float64Array.from(x);
    quantile(x, 0.5);
    medianAbsoluteDeviation(x);
    expect(x).toEqual(copy);
  });

  it('refuse a column that is too short and a probability outside 0..1', () => {
    expect(() => mean([])).toThrow(/at least 1 sample/);
    expect(() => standardDeviation([1])).toThrow(/at least 2 sample/);
    expect(() => median([])).toThrow(RangeError);
    expect(() => quantile([1], 1.1)).toThrow(/0\.\.1/);
  });
});

describe('random numbers', () => {
  const COUNT = 20_000;
  /** Five standard errors of the mean of COUNT numbers of unit variance. */
  const FIVE_SIGMA = { abs: 5 / Math.sqrt(COUNT) };

  it('repeat for the same seed and differ between seeds', () => {
    const a = Array.from({ length: 20 }, seededRandom(7));
    expect(Array.from({ length: 20 }, seededRandom(7))).toEqual(a);
    expect(Array.from({ length: 20 }, seededRandom(8))).not.toEqual(a);
  });

  it('are uniform in [0, 1) and not correlated with the next one', () => {
    const x = Array.from({ length: COUNT }, seededRandom(1));
    expect(x.every((v) => v >= 0 && v < 1)).toBe(true);
    expectWithin(mean(x), 0.5, FIVE_SIGMA);
    expectWithin(12 * mean(x.map((v) => (v - 0.5) ** 2)), 1, FIVE_SIGMA);
    expectWithin(12 * mean(x.slice(1).map((v, i) => (v - 0.5) * (x[i] - 0.5))), 0, FIVE_SIGMA);
  });

  it('are normal with mean 0, variance 1, kurtosis 3', () => {
    const z = Array.from({ length: COUNT }, gaussianRandom(seededRandom(2)));
    expectWithin(mean(z), 0, FIVE_SIGMA);
    expectWithin(rms(z) ** 2, 1, { abs: Math.SQRT2 * FIVE_SIGMA.abs });
    expectWithin(mean(z.map((v) => v ** 4)), 3, { abs: Math.sqrt(96) * FIVE_SIGMA.abs });
  });

  it('refuse a seed that is not a number', () => {
    expect(() => seededRandom(NaN)).toThrow(/seed/);
  });
});
