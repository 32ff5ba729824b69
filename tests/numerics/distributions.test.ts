import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  chiSquareQuantile,
  gammaQuantile,
  logGamma,
  normalCdf,
  normalQuantile,
  regularisedGammaP,
  regularisedGammaQ,
  studentCdf,
  studentQuantile,
} from '../../src/numerics/index.js';
import { expectWithin } from '../support/expect-within.js';

/** Two implementations in double precision, each good to about 1e-13. */
const DOUBLE = { rel: 1e-11, abs: 1e-13 };

describe('distributions against scipy 1.17.1', () => {
  it('give the gamma function', () => {
    expectWithin(logGamma(0.3), 1.0957979948180756, DOUBLE);
    expectWithin(logGamma(1), 0, DOUBLE);
    expectWithin(logGamma(5.5), 3.9578139676187165, DOUBLE);
    expectWithin(logGamma(200), 857.9336698258575, DOUBLE);
  });

  it.each([
    [0.5, 0.1, 0.34527915398142317, 0.6547208460185768],
    [5, 4.67, 0.499831196826531, 0.500168803173469],
    [40, 55, 0.9853028204736023, 0.01469717952639773],
  ])('give the incomplete gamma function at shape %f, x %f', (shape, x, p, q) => {
    expectWithin(regularisedGammaP(shape, x), p, DOUBLE);
    expectWithin(regularisedGammaQ(shape, x), q, DOUBLE);
  });

  it.each([
    [0.025, 7.68, 2.019351009303312],
    [0.975, 60.7, 84.1229646016973],
    [0.999, 1, 10.827566170662733],
    [1e-6, 3, 0.00024181048720124264],
  ])('give the chi-square quantile at p %f, %f degrees of freedom', (p, dof, x) => {
    expectWithin(chiSquareQuantile(p, dof), x, DOUBLE);
  });

  it.each([
    [1e-10, -6.361340902404056],
    [0.01, -2.3263478740408408],
    [0.3, -0.5244005127080409],
    [0.975, 1.959963984540054],
  ])('give the normal quantile at p %f', (p, z) => {
    expectWithin(normalQuantile(p), z, DOUBLE);
    expectWithin(normalCdf(z), p, { rel: 1e-9 });
  });

  it.each([
    [0.975, 4, 2.7764451051977934],
    [0.975, 1, 12.706204736174694],
    [0.9, 2.5, 1.7302509288071766],
    [0.0005, 30, -3.645958635042021],
  ])('give the Student quantile at p %f, %f degrees of freedom', (p, dof, t) => {
    expectWithin(studentQuantile(p, dof), t, DOUBLE);
  });

  it('give the Student probability in both halves', () => {
    expectWithin(studentCdf(1.3, 7.2), 0.8831653960826823, DOUBLE);
    expectWithin(studentCdf(-4, 3), 0.014004228005073076, DOUBLE);
  });
});

describe('quantiles', () => {
  it('undo the probability for any shape', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.3, max: 400, noNaN: true }),
        fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true }),
        (shape, p) => {
          expectWithin(regularisedGammaP(shape, gammaQuantile(p, shape)), p, { rel: 1e-9 });
        },
      ),
      { numRuns: 100, seed: 1 },
    );
  });

  it('reach the ends of the support', () => {
    expect(gammaQuantile(0, 2)).toBe(0);
    expect(gammaQuantile(1, 2)).toBe(Infinity);
    expect(normalQuantile(0)).toBe(-Infinity);
    expect(normalQuantile(1)).toBe(Infinity);
    expect(studentQuantile(0.5, 3)).toBe(0);
    expect(studentQuantile(0, 3)).toBe(-Infinity);
    expect(studentQuantile(1, 3)).toBe(Infinity);
    expect(regularisedGammaP(2, 0)).toBe(0);
    expect(regularisedGammaQ(2, Infinity)).toBe(0);
  });

  it('refuse probabilities and parameters outside their range', () => {
    expect(() => gammaQuantile(-0.1, 2)).toThrow(/0\.\.1/);
    expect(() => gammaQuantile(0.5, 0)).toThrow(/shape/);
    expect(() => normalQuantile(2)).toThrow(RangeError);
    expect(() => studentQuantile(0.5, 0)).toThrow(/dof/);
    expect(() => regularisedGammaP(1, -1)).toThrow(/x must/);
    expect(() => logGamma(0)).toThrow(RangeError);
  });
});
