import { describe, expect, it } from 'vitest';
import { regularisedGammaQ } from '../../../src/numerics/index.js';
import { alarmLimits } from '../../../src/spectrum/peaks/alarm-limits.js';
import { expectWithin } from '../../support/expect-within.js';

const BINS = 110;
const freqHz = new Float64Array(BINS);
const limits = alarmLimits({ steady: { freqHz, psd: new Float64Array(BINS) }, parts: 1 });
const ALONE = Float64Array.of(1);

describe('alarmLimits', () => {
  it('is -ln(1 - 0.999^(1 / 1.5 bins)) times one known level for lines', () => {
    const ratio = -Math.log(1 - 0.999 ** (1 / (1.5 * BINS)));
    expectWithin(limits.line(Float64Array.of(3), ALONE), 3 * ratio, {
      rel: 1e-6,
      why: 'bisection of a quantile',
    });
    expectWithin(ratio, 12.0, { abs: 0.05, why: 'ln(165 / 0.001)' });
  });

  it('is a quantile of the gamma law of five tapers for broad rises', () => {
    const limit = limits.steady(Float64Array.of(1), ALONE);
    expectWithin(regularisedGammaQ(5, 5 * limit), 0.0001 / BINS, { rel: 1e-3, why: 'small p: p / bins' });
  });

  it('holds the same chance over levels that are not known for sure', () => {
    const limit = limits.line(Float64Array.of(1, 4), Float64Array.of(0.9, 0.1));
    const chance = 0.9 * Math.exp(-limit) + 0.1 * Math.exp(-limit / 4);
    expectWithin(chance, 0.001 / (1.5 * BINS), { rel: 0.02, why: '14 bisections of the bracket' });
    expect(limit).toBeLessThan(limits.line(Float64Array.of(4), ALONE));
    expect(limit).toBeGreaterThan(limits.line(Float64Array.of(1), ALONE));
  });
});
