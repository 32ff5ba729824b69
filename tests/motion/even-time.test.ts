import { describe, expect, it } from 'vitest';
import { evenTime } from '../../src/motion/even-time.js';
import { expectWithin } from '../support/expect-within.js';

const RATE = 30000 / 1001;
const grid = (n: number): number[] => Array.from({ length: n }, (_, k) => 2 + k / RATE);

describe('the even time base', () => {
  it('leaves even time stamps and their values alone', () => {
    const time = evenTime(Float64Array.from(grid(60)));
    expectWithin(time.rateHz, RATE, { rel: 1e-12, why: 'double rounding' });
    expect(time.largestShiftS).toBe(0);
    const values = Float64Array.from({ length: 60 }, (_, k) => Math.sin(k));
    expect(time.resample(values)).toEqual(values);
    expect(time.nearest(values)).toEqual(values);
  });

  it('sees through time stamps that the container rounded to milliseconds', () => {
    const time = evenTime(Float64Array.from(grid(120), (s) => Math.round(s * 1000) / 1000));
    expectWithin(time.rateHz, RATE, { rel: 2e-5, why: 'slope of 120 stamps rounded by 0.3 ms' });
    expect(time.largestShiftS).toBeLessThan(0.6e-3);
    expect(time.timeS.length).toBe(120);
    const values = Float64Array.from({ length: 120 }, (_, k) => k % 7);
    expect(time.resample(values)).toEqual(values);
  });

  it('bridges dropped frames and keeps the values of the others', () => {
    const dropped = new Set([20, 21, 50]);
    const present = Array.from({ length: 90 }, (_, k) => k).filter((k) => !dropped.has(k));
    const time = evenTime(Float64Array.from(present, (k) => grid(90)[k]));
    const smooth = (k: number): number => Math.sin((2 * Math.PI * k) / 15);
    const even = time.resample(Float64Array.from(present, smooth));
    expect(even.length).toBe(90);
    present.forEach((k) => expect(even[k]).toBe(smooth(k)));
    // A cubic spline across three intervals of a wave of fifteen.
    for (const k of dropped)
      expectWithin(even[k], smooth(k), { abs: 0.05, why: 'spline across a 3-frame gap' });
    expectWithin(time.longestGapS, 3 / RATE, { rel: 1e-9, why: 'double rounding' });
    expectWithin(time.largestShiftS, 1 / RATE, {
      rel: 1e-6,
      why: 'a hole has its nearest frame one step away',
    });
  });

  it('brings a true variable rate to its mean rate and says how far samples moved', () => {
    const stamps = [0];
    for (let k = 1; k < 80; k++) stamps.push(stamps[k - 1] + (k % 3 === 0 ? 0.05 : 0.03));
    const time = evenTime(Float64Array.from(stamps));
    expectWithin(time.rateHz, 79 / stamps[79], { rel: 1e-12, why: 'mean rate' });
    expect(time.largestShiftS).toBeGreaterThan(0.002);
    const even = time.resample(Float64Array.from(stamps, (s) => Math.sin(2 * Math.PI * 2 * s)));
    even.subarray(4, -4).forEach((v, k) => {
      expectWithin(v, Math.sin(2 * Math.PI * 2 * time.timeS[k + 4]), {
        abs: 0.01,
        why: 'cubic spline of 2 Hz at 28 Hz',
      });
    });
  });
});
