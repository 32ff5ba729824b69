import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { emptyRows, gaussianRandom, mean, seededRandom } from '../../src/numerics/index.js';
import { smoothBelow } from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';
import { optimumByHighs } from '../support/solve-by-highs.js';
import { evenly } from '../support/evenly.js';

const column = fc.array(evenly(0.3, 1), { maxLength: 60 });

describe('the moving zoom', () => {
  it('never exceeds what a frame allows and never falls below the static zoom', () => {
    fc.assert(
      fc.property(column, fc.integer({ min: 0, max: 12 }), (values, window) => {
        const allowed = Float64Array.from(values);
        const smooth = smoothBelow(allowed, window);
        const least = Math.min(...values);
        smooth.forEach((v, t) => {
          expect(v).toBeLessThanOrEqual(allowed[t]);
          expect(v).toBeGreaterThanOrEqual(least - 1e-12);
        });
      }),
      { seed: 208 },
    );
  });

  it('is the static zoom when all frames need the same', () => {
    smoothBelow(new Float64Array(20).fill(0.9), 5).forEach((v) =>
      expectWithin(v, 0.9, { abs: 1e-15, why: 'rounding' }),
    );
  });

  it('closes in before a bad frame and opens after it, alike on both sides', () => {
    const allowed = new Float64Array(61).fill(1);
    allowed[30] = 0.8;
    const smooth = smoothBelow(allowed, 10);
    expectWithin(smooth[30], 0.8, { abs: 1e-15, why: 'all of its window sees the bad frame' });
    for (let k = 1; k <= 30; k++) {
      expectWithin(smooth[30 + k], smooth[30 - k], { abs: 1e-12, why: 'zero phase' });
      expect(smooth[30 + k]).toBeGreaterThanOrEqual(smooth[29 + k]);
    }
    expect(smooth[9]).toBe(1);
    expect(smooth[51]).toBe(1);
  });

  it('moves slowly where the need jumps', () => {
    const allowed = Float64Array.from({ length: 100 }, (_, t) => (t % 2 ? 1 : 0.8));
    allowed.fill(1, 50);
    const smooth = smoothBelow(allowed, 10);
    for (let t = 1; t < 100; t++) expect(Math.abs(smooth[t] - smooth[t - 1])).toBeLessThan(0.2 / 10);
  });

  it('crops at most a fifth more than the largest curve of no greater speed and acceleration, and moves far less', async () => {
    const n = 150;
    for (const seed of [1, 2, 3]) {
      const gaussian = gaussianRandom(seededRandom(seed));
      const allowed = Float64Array.from({ length: n }, () => 1 - 0.02 * Math.abs(gaussian()));
      const smooth = smoothBelow(allowed, 25);
      const largest = await largestCurve(allowed, most(changes(smooth)), most(changes(changes(smooth))));
      const crop = (curve: Float64Array) => 1 - mean(curve);
      const movement = (curve: Float64Array) => mean(changes(changes(curve)).map(Math.abs));
      expect(crop(largest)).toBeLessThan(crop(smooth));
      expect(crop(smooth)).toBeLessThan(1.2 * crop(largest));
      expect(movement(smooth)).toBeLessThan(0.7 * movement(largest));
    }
  });

  it('refuses a window that is no whole number of frames', () => {
    expect(() => smoothBelow(Float64Array.of(1), 1.5)).toThrow(RangeError);
    expect(() => smoothBelow(Float64Array.of(1), -1)).toThrow(RangeError);
  });
});

const changes = (curve: Float64Array) => curve.subarray(1).map((v, t) => v - curve[t]);
const most = (values: Float64Array) => values.reduce((a, b) => Math.max(a, Math.abs(b)), 0);

/** The curve below `allowed` of greatest sum whose first and second differences stay within limits, by HiGHS. */
async function largestCurve(
  allowed: Float64Array,
  speed: number,
  acceleration: number,
): Promise<Float64Array> {
  const n = allowed.length;
  const below = emptyRows(n, 1);
  const limits = emptyRows(n + 2 * (n - 1) + 2 * (n - 2), 3);
  let row = 0;
  const add = (at: number, coefficients: readonly number[], right: number): void => {
    coefficients.forEach((value, k) => {
      limits.columns[3 * row + k] = at + k;
      limits.coefficients[3 * row + k] = value;
    });
    limits.right[row++] = right;
  };
  for (let t = 0; t < n; t++) {
    below.columns[t] = t;
    below.coefficients[t] = 1;
    below.right[t] = allowed[t];
    add(t, [1], allowed[t]);
    for (const sign of [-1, 1]) {
      if (t + 1 < n) add(t, [-sign, sign], speed);
      if (t + 2 < n) add(t, [sign, -2 * sign, sign], acceleration);
    }
  }
  return (await optimumByHighs(below, limits, n)).x;
}
