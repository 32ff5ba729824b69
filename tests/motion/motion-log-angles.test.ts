/** Angles out of rates, against closed forms. */
import { describe, expect, it } from 'vitest';
import { integrateRates, seenAngles } from '../../src/motion/motion-log/angles.js';
import { expectWithin } from '../support/expect-within.js';

/** Uneven stamps from 0 s to about 2 s. */
const timeS = Float64Array.from({ length: 200 }, (_, i) => 0.01 * i + 0.003 * Math.sin(5 * i));
const last = timeS[timeS.length - 1];

describe('angles of logged rates', () => {
  it('are exact for rates that change evenly, at any time and exposure', () => {
    const log = integrateRates(
      timeS,
      timeS.map((t) => 0.2 + 3 * t),
    );
    // The steady turn is taken off: what is left of the rate is 3 (t - middle).
    const middle = (timeS[0] + last) / 2;
    const angle = (t: number): number => 1.5 * (t - timeS[0]) * (t + timeS[0] - 2 * middle);
    for (const exposureS of [0, 0.02, 0.3]) {
      const at = Float64Array.from([0.31, 0.777, 1.5]);
      const seen = seenAngles(log, at, exposureS);
      at.forEach((t, k) => {
        // The mean of 1.5 t^2 over T is 1.5 t^2 + T^2 / 8.
        expectWithin(seen.angle[k], angle(t) + exposureS ** 2 / 8, { abs: 1e-12 }, 'angle');
        expectWithin(seen.rate[k], 3 * (t - middle), { abs: 1e-12 }, 'rate');
      });
    }
  });

  it('change with time by the rate that goes with them', () => {
    const log = integrateRates(
      timeS,
      timeS.map((t) => Math.sin(9 * t)),
    );
    const h = 1e-5;
    const at = Float64Array.from([0.4, 1.1]);
    const { rate } = seenAngles(log, at, 0.02);
    const before = seenAngles(
      log,
      at.map((t) => t - h),
      0.02,
    ).angle;
    const after = seenAngles(
      log,
      at.map((t) => t + h),
      0.02,
    ).angle;
    rate.forEach((r, k) => expectWithin((after[k] - before[k]) / (2 * h), r, { abs: 1e-7 }));
  });

  it('keep the height of a sine at half the frame rate when a log of 60 samples a second is filled up', () => {
    const freqHz = 12.5;
    const slow = Float64Array.from({ length: 300 }, (_, i) => i / 60);
    const rates = slow.map((t) => Math.cos(2 * Math.PI * freqHz * t));
    const at = Float64Array.from({ length: 100 }, (_, k) => 1 + k / 625);
    const height = (leastRateHz: number): number => {
      const { angle } = seenAngles(integrateRates(slow, rates, leastRateHz), at, 0);
      return (2 * Math.PI * freqHz * (Math.max(...angle) - Math.min(...angle))) / 2;
    };
    expectWithin(height(400), 1, { abs: 0.03, why: 'a cubic spline through 4.8 samples a period' });
    // Straight lines pass sinc^2(12.5 / 60) = 0.866 of it.
    expectWithin(height(0), 0.866, { abs: 0.03, why: 'the samples do not fall on the tips' });
  });

  it('leave their input alone and take the mean turn off', () => {
    const rates = timeS.map(() => 0.7);
    const { angle } = integrateRates(timeS, rates);
    expect(rates.every((v) => v === 0.7)).toBe(true);
    angle.forEach((a) => expectWithin(a, 0, { abs: 1e-12 }));
  });
});
