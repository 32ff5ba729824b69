import { describe, expect, it } from 'vitest';
import { fallingRoot } from '../../src/stabilise/what-if/falling-root.js';
import { expectWithin } from '../support/expect-within.js';

const TOLERANCE = 1e-12;

describe('the root of a falling function', () => {
  it.each([
    ['a parabola', (x: number) => 2 - x * x, 1, 2, Math.SQRT2],
    ['a steep end', (x: number) => 1 - Math.exp(40 * (x - 0.3)), 0, 1, 0.3],
    ['a flat start', (x: number) => 0.5 ** 9 - x ** 9, 0, 3, 0.5],
    ['a kink', (x: number) => (x < 0.7 ? 0.7 - x : 100 * (0.7 - x)), 0, 1, 0.7],
  ] as const)(
    'is found to the tolerance on %s, in few steps, on the safe side',
    (_, value, low, high, root) => {
      let calls = 0;
      const found = fallingRoot((x) => (calls++, value(x)), low, high, TOLERANCE);
      expectWithin(found, root, { abs: 2e-12, why: 'the bracket, twice over for rounding' });
      expect(value(found)).toBeGreaterThanOrEqual(0);
      expect(calls).toBeLessThan(90); // halving alone takes 42 for the widest of these, to the last bit
    },
  );

  it('is the end itself when the function is zero there', () => {
    expect(fallingRoot((x) => 1 - x, 0, 1, TOLERANCE)).toBe(1);
    expectWithin(
      fallingRoot((x) => -x, 0, 1, TOLERANCE),
      0,
      { abs: TOLERANCE, why: 'the bracket' },
    );
  });

  it('is refused when the function does not fall through zero', () => {
    expect(() => fallingRoot((x) => x - 1, 0, 2, TOLERANCE)).toThrow(RangeError);
    expect(() => fallingRoot(() => NaN, 0, 2, TOLERANCE)).toThrow(RangeError);
  });
});
