import { describe, expect, it } from 'vitest';
import { gaussianRandom, normalQuantile, seededRandom } from '../../src/numerics/index.js';
import { gammaVariate, largestOf, largestOfPoisson } from '../../src/stabilise/take/random-variates.js';
import { expectWithin } from '../support/expect-within.js';

describe('gamma variates', () => {
  it.each([1, 2.5, 20])('of shape %d have their mean and variance', (shape) => {
    const random = seededRandom(4);
    const gaussian = gaussianRandom(random);
    const n = 20_000;
    let sum = 0;
    let squares = 0;
    for (let i = 0; i < n; i++) {
      const x = gammaVariate(shape, random, gaussian);
      sum += x;
      squares += (x - shape) ** 2;
    }
    expectWithin(sum / n, shape, { abs: 4 * Math.sqrt(shape / n), why: 'four standard errors' });
    expectWithin(squares / n, shape, { rel: 0.1, why: 'four standard errors of the variance, shape 1' });
  });
});

describe('the largest of many normal numbers', () => {
  it('has the median that its distribution says, for a known count and for a random one', () => {
    const middle = -Math.log(Math.LN2);
    for (const count of [1, 7, 60, 5000]) {
      const exact = normalQuantile(0.5 ** (1 / count));
      expectWithin(largestOf(Math.log(count) + middle), exact, { abs: 1e-3, why: 'steps of the table' });
    }
    // P(largest of Poisson(L) <= z) = exp(-L (1 - Phi(z)))
    for (const mean of [1, 7, 60, 5000]) {
      const exact = normalQuantile(1 - Math.LN2 / mean);
      expectWithin(largestOfPoisson(Math.log(mean) + middle), exact, {
        abs: 1e-3,
        why: 'steps of the table',
      });
    }
  });

  it('is none when none comes', () => {
    expect(largestOfPoisson(0)).toBe(-Infinity);
    expect(largestOfPoisson(-3)).toBe(-Infinity);
  });
});
