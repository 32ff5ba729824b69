import { describe, expect, it } from 'vitest';
import { resampleEven } from '../../src/numerics/index.js';
import { expectWithin } from '../support/expect-within.js';

describe('resampleEven', () => {
  it('gives back the same values when the time stamps are even', () => {
    const timeS = Float64Array.from({ length: 40 }, (_, i) => 2.5 + i / 25);
    const values = timeS.map((t) => Math.sin(9 * t));
    const even = resampleEven(timeS, values, 25);
    expect(even.values).toEqual(values);
    expect(even.largestShiftS).toBe(0);
  });

  it('puts a slow wave with jittered time stamps back on the grid and states the largest shift', () => {
    const timeS = Float64Array.from({ length: 120 }, (_, i) => i / 30 + (i % 3 === 1 ? 0.004 : 0));
    const wave = (t: number): number => Math.sin(2 * Math.PI * 2 * t);
    const even = resampleEven(timeS, timeS.map(wave), 30);
    expect(even.timeS.length).toBe(120);
    expectWithin(even.largestShiftS, 0.004, { abs: 1e-12 });
    for (let k = 15; k < 105; k++) {
      expectWithin(even.values[k], wave(even.timeS[k]), {
        abs: 1e-4,
        why: 'cubic spline, 15 samples a period',
      });
    }
  });

  it('agrees with scipy 1.17.1 CubicSpline(bc_type="natural")', () => {
    const timeS = Float64Array.from([0, 0.1, 0.22, 0.3, 0.41, 0.5]);
    const even = resampleEven(timeS, Float64Array.from([1, 3, 2, 5, 4, 0]), 10);
    const expected = [1, 3, 1.778598559927, 5, 4.3422918670190045, 0];
    expect(even.values.length).toBe(expected.length);
    expected.forEach((v, k) => expectWithin(even.values[k], v, { abs: 1e-12 }, `sample ${k}`));
    expectWithin(even.largestShiftS, 0.02, { abs: 1e-12 });
  });

  it('shows a gap in the largest shift', () => {
    const timeS = Float64Array.from([0, 0.1, 0.2, 0.6, 0.7]);
    const even = resampleEven(timeS, Float64Array.from([0, 1, 2, 6, 7]), 10);
    expectWithin(even.largestShiftS, 0.2, { abs: 1e-12 });
    even.values.forEach((v, k) =>
      expectWithin(v, k, { abs: 1e-12, why: 'a straight line has no curvature' }),
    );
  });

  it('never reaches past the last time stamp', () => {
    const even = resampleEven(Float64Array.from([0, 0.1, 0.27]), Float64Array.from([0, 1, 2]), 10);
    expect(even.timeS.length).toBe(3);
  });

  it('accepts a single sample', () => {
    expect(resampleEven(Float64Array.of(3), Float64Array.of(8), 10).values).toEqual(Float64Array.of(8));
  });

  it('refuses time stamps that do not rise and columns of unequal length', () => {
    expect(() => resampleEven(Float64Array.of(0, 0), Float64Array.of(1, 2), 10)).toThrow(/sample 1/);
    expect(() => resampleEven(Float64Array.of(0, 1), Float64Array.of(1), 10)).toThrow(/same length/);
    expect(() => resampleEven(Float64Array.of(0), Float64Array.of(1), 0)).toThrow(/rateHz/);
  });
});
