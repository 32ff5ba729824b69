import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { smoothBelow } from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';

const column = fc.array(fc.double({ min: 0.3, max: 1, noNaN: true }), { maxLength: 60 });

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

  it('refuses a window that is no whole number of frames', () => {
    expect(() => smoothBelow(Float64Array.of(1), 1.5)).toThrow(RangeError);
    expect(() => smoothBelow(Float64Array.of(1), -1)).toThrow(RangeError);
  });
});
