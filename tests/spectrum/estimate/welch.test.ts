import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gaussianRandom, mean, seededRandom } from '../../../src/numerics/index.js';
import { welch, WELCH_DEFAULTS } from '../../../src/spectrum/index.js';
import { expectWithin } from '../../support/expect-within.js';
import { evenly } from '../../support/evenly.js';

function noise(n: number, seed: number): Float64Array {
  return Float64Array.from({ length: n }, gaussianRandom(seededRandom(seed)));
}

const sum = (x: Float64Array): number => x.reduce((a, b) => a + b, 0);

describe('welch', () => {
  it('takes the longest segment that gives 8 averages', () => {
    const s = welch(noise(30 * 27, 1), 30);
    expect(s.method).toBe('welch');
    expect(s.segments).toBe(8);
    expect(s.segmentSamples).toBe(180);
    expectWithin(s.resolutionHz, 1 / 6, { rel: 1e-12 });
    expectWithin(s.noiseBandwidthHz, 1.5 / 6, { rel: 1e-12, why: 'Hann: 1.5 bins' });
  });

  it('gains averages in place of resolution once segments last 10 s', () => {
    const s = welch(noise(24 * 120, 1), 24);
    expect(s.segmentSamples).toBe(24 * WELCH_DEFAULTS.mostSegmentS);
    expect(s.segments).toBe(23);
  });

  it('falls back to 3 averages, then to sine tapers, as the series gets shorter', () => {
    const three = welch(noise(25 * 4, 1), 25);
    expect([three.method, three.segments, three.segmentSamples]).toEqual(['welch', 3, 50]);
    const tapers = welch(noise(25 * 2, 1), 25);
    expect([tapers.method, tapers.segments, tapers.segmentSamples]).toEqual(['sineTapers', 3, 50]);
    expect(tapers.degreesOfFreedom).toBe(6);
    expect(tapers.freqHz.length).toBe(tapers.psd.length);
    // The averaging kernel of three sine tapers is about as wide as four of its bins.
    expectWithin(tapers.noiseBandwidthHz * 2, 4, { abs: 0.8 });
  });

  it('states an interval that holds the true level of white noise in about 95 of 100 ordinates', () => {
    let inside = 0;
    let all = 0;
    for (let seed = 0; seed < 40; seed++) {
      const { psd, ci95Factors } = welch(noise(25 * 18, seed), 25);
      // Every third ordinate: neighbours share the window's main lobe.
      for (let b = 3; b < psd.length - 3; b += 3) {
        all++;
        if (psd[b] * ci95Factors[0] <= 2 / 25 && 2 / 25 <= psd[b] * ci95Factors[1]) inside++;
      }
    }
    expectWithin(inside / all, 0.95, { abs: 0.03, why: 'four standard errors of a share of some 600' });
  });

  it('holds the energy of white noise, whatever the length', () => {
    fc.assert(
      fc.property(fc.integer({ min: 200, max: 900 }), fc.integer({ min: 0, max: 999 }), (n, seed) => {
        const s = welch(noise(n, seed), 25);
        expectWithin(sum(s.psd) * s.resolutionHz, 1, {
          abs: 7 / Math.sqrt(n),
          why: 'five standard errors of the power',
        });
      }),
      { numRuns: 40, seed: 1 },
    );
  });

  it('scales with the square of the series and forgets its mean', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 400 }), evenly(0.1, 30), evenly(-9, 9), (n, factor, offset) => {
        const x = noise(n, n);
        const plain = welch(x, 25).psd;
        const scaled = welch(
          x.map((v) => factor * v + offset),
          25,
        ).psd;
        const rounding = 1e-9 * factor * factor * mean(plain);
        plain.forEach((s, b) => expectWithin(scaled[b], factor * factor * s, { abs: rounding }));
      }),
      { numRuns: 40, seed: 2 },
    );
  });

  it('leaves its input alone', () => {
    const x = noise(100, 4);
    const copy = Float64Array.from(x);
    welch(x, 25);
    expect(x).toEqual(copy);
  });

  it('refuses a series, rate or segment that cannot work', () => {
    expect(() => welch(new Float64Array(1), 25)).toThrow(/at least 2/);
    expect(() => welch(new Float64Array(9), NaN)).toThrow(/rateHz/);
    expect(() => welch(new Float64Array(9), 25, { segmentSamples: 10 })).toThrow(/2\.\.9/);
  });
});
