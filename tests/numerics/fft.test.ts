import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  complexFft,
  gaussianRandom,
  inverseRealFft,
  realFft,
  seededRandom,
} from '../../src/numerics/index.js';
import { expectWithin } from '../support/expect-within.js';
import { evenly } from '../support/evenly.js';

/** Rounding of a transform of up to 1024 numbers of size 1 to 10, with room. */
const ROUNDING = 1e-10;

const sizes = fc.integer({ min: 1, max: 300 });
const seeds = fc.integer({ min: 0, max: 1e6 });

function noise(n: number, seed: number): Float64Array {
  const next = gaussianRandom(seededRandom(seed));
  return Float64Array.from({ length: n }, next);
}

/** The definition, term by term. */
function slowTransform(x: Float64Array, bins: number): { re: Float64Array; im: Float64Array } {
  const re = new Float64Array(bins);
  const im = new Float64Array(bins);
  for (let k = 0; k < bins; k++) {
    for (let j = 0; j < x.length; j++) {
      const angle = (-2 * Math.PI * ((j * k) % x.length)) / x.length;
      re[k] += x[j] * Math.cos(angle);
      im[k] += x[j] * Math.sin(angle);
    }
  }
  return { re, im };
}

const largestDifference = (a: Float64Array, b: Float64Array): number =>
  a.reduce((worst, v, i) => Math.max(worst, Math.abs(v - b[i])), 0);

describe('realFft', () => {
  it.each([1, 2, 3, 4, 5, 8, 30, 97, 128, 360, 1021])('agrees with the definition at length %i', (n) => {
    const x = noise(n, n);
    const fast = realFft(x);
    const slow = slowTransform(x, Math.floor(n / 2) + 1);
    expect(fast.re.length).toBe(Math.floor(n / 2) + 1);
    expectWithin(largestDifference(fast.re, slow.re), 0, { abs: ROUNDING }, 'real part');
    expectWithin(largestDifference(fast.im, slow.im), 0, { abs: ROUNDING }, 'imaginary part');
  });

  it('comes back through its inverse at any length', () => {
    fc.assert(
      fc.property(sizes, seeds, (n, seed) => {
        const x = noise(n, seed);
        const { re, im } = realFft(x);
        expectWithin(largestDifference(inverseRealFft(re, im, n), x), 0, { abs: ROUNDING });
      }),
      { numRuns: 60, seed: 1 },
    );
  });

  it('keeps the energy of the series (Parseval)', () => {
    fc.assert(
      fc.property(sizes, seeds, (n, seed) => {
        const x = noise(n, seed);
        const { re, im } = complexFft(x, new Float64Array(n));
        const inTime = x.reduce((sum, v) => sum + v * v, 0);
        const inFrequency = re.reduce((sum, v, k) => sum + v * v + im[k] * im[k], 0) / n;
        expectWithin(inFrequency, inTime, { rel: ROUNDING });
      }),
      { numRuns: 60, seed: 2 },
    );
  });

  it('is linear', () => {
    fc.assert(
      fc.property(sizes, seeds, evenly(-5, 5), (n, seed, factor) => {
        const x = noise(n, seed);
        const y = noise(n, seed + 1);
        const sum = realFft(x.map((v, i) => v + factor * y[i]));
        const apart = realFft(y);
        const expected = realFft(x).re.map((v, k) => v + factor * apart.re[k]);
        expectWithin(largestDifference(sum.re, expected), 0, { abs: ROUNDING });
      }),
      { numRuns: 40, seed: 3 },
    );
  });

  it('appends zeros when asked for a longer transform', () => {
    const x = noise(10, 4);
    const padded = new Float64Array(36);
    padded.set(x);
    expect(realFft(x, 36)).toEqual(realFft(padded));
  });

  it('leaves its input alone and repeats bit by bit', () => {
    const x = noise(48, 5);
    const copy = Float64Array.from(x);
    const first = realFft(x);
    expect(x).toEqual(copy);
    expect(realFft(x)).toEqual(first);
  });

  it('refuses what it cannot transform and says why', () => {
    expect(() => realFft(new Float64Array(0))).toThrow(/at least one sample/);
    expect(() => realFft(new Float64Array(8), 4)).toThrow(/>= 8/);
    expect(() => complexFft(new Float64Array(3), new Float64Array(4))).toThrow(/3 and 4/);
    expect(() => inverseRealFft(new Float64Array(4), new Float64Array(4), 8)).toThrow(/needs 5 bins/);
    expect(() => inverseRealFft(new Float64Array(1), new Float64Array(1), 0)).toThrow(RangeError);
  });
});
