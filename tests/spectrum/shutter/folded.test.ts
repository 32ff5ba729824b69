/** Motions that frames show at one and the same frequency. */
import { describe, expect, it } from 'vitest';
import { aliasedFrequencyHz, exposureGain } from '../../../src/optics/index.js';
import { couldBe, FOLDED_DEFAULTS } from '../../../src/spectrum/shutter/folded.js';
import { expectWithin } from '../../support/expect-within.js';

const SEEN = { freqHz: 4, freqSdHz: 0.02 };
const OPEN = { rateHz: 24, exposureS: 0 };
const hz = (origins: readonly { trueHz: number }[]): number[] => origins.map(({ trueHz }) => trueHz);

describe('a peak at 4 Hz in 24 frames/s', () => {
  it('could be every frequency that frames fold there, lowest first', () => {
    expect(hz(couldBe(SEEN, OPEN, { topHz: 80 }))).toEqual([4, 20, 28, 44, 52, 68, 76]);
  });

  it('could be nothing that folds elsewhere, and nothing is left out', () => {
    const listed = hz(couldBe(SEEN, OPEN));
    const folding: number[] = [];
    for (let f = 0; f <= FOLDED_DEFAULTS.topHz; f++)
      if (Math.abs(aliasedFrequencyHz(f, 24) - 4) < 1e-9) folding.push(f);
    expect(listed).toEqual(folding);
  });

  it('could not be what the shutter blurs away, and would have to be large where it lets little through', () => {
    const shutter = { rateHz: 24, exposureS: 1 / 48 };
    const origins = couldBe(SEEN, shutter);
    expect(hz(couldBe(SEEN, { rateHz: 24, exposureS: 1 / 44 }))).not.toContain(44);
    for (const { trueHz, exposureGain: gain, timesSeen } of origins) {
      expect(gain).toBeGreaterThanOrEqual(FOLDED_DEFAULTS.leastGain);
      expectWithin(gain, exposureGain(trueHz, 1 / 48), { abs: 0, why: 'the same function' });
      expectWithin(gain * timesSeen, 1, { rel: 1e-12, why: 'closed form' });
    }
    expectWithin(origins.find(({ trueHz }) => trueHz === 20)?.timesSeen ?? NaN, 1 / 0.7379129756, {
      rel: 1e-8,
      why: 'computed case "exposure-sinc"',
    });
  });
});

describe('a peak at the edge of what frames show', () => {
  it('is one motion, not two, within its own error of half the rate or of standing still', () => {
    expect(hz(couldBe({ freqHz: 11.99, freqSdHz: 0.02 }, OPEN, { topHz: 70 }))).toEqual([12, 36, 60]);
    expect(hz(couldBe({ freqHz: 0.01, freqSdHz: 0.02 }, OPEN, { topHz: 50 }))).toEqual([0.01, 24, 48]);
    expect(hz(couldBe({ freqHz: 11.9, freqSdHz: 0.02 }, OPEN, { topHz: 40 }))).toEqual([
      11.9, 12.1, 35.9, 36.1,
    ]);
  });

  it('cannot lie beyond it', () => {
    expect(() => couldBe({ freqHz: 13, freqSdHz: 0 }, OPEN)).toThrow(RangeError);
    expect(() => couldBe(SEEN, { rateHz: 0, exposureS: 0 })).toThrow(RangeError);
  });
});
