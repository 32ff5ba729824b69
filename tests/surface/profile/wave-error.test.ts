import { describe, expect, it } from 'vitest';
import type { RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { relativeErrorOfWave, wavesNotInProfile } from '../../../src/surface/profile/wave-error.js';
import { expectWithin } from '../../support/expect-within.js';

const RAD_PER_MDEG = Math.PI / 180e3;
const none = new Float64Array(100);
const deck: RolledDeck = {
  rateHz: 25,
  cutoffHz: 0.8,
  exposureS: 0.02,
  wheelbaseM: 0.45,
  frontAheadM: 0.45,
  trackWidthM: null,
  timeS: none.map((_, i) => i / 25),
  rearM: none.map((_, i) => 0.008 * i),
  pitchRad: { values: none, noiseSd: RAD_PER_MDEG, leastNoiseSd: RAD_PER_MDEG },
  heaveM: { values: none, noiseSd: 5e-5, leastNoiseSd: 5e-5 },
  rollRad: null,
};
const levels = { meanTrackM3: 0.55e-6, differenceM3: null };
const EXACT = { rel: 1e-9, why: 'closed form' };

describe('the error foretold for a wave', () => {
  it('is that of heave alone where the wheelbase holds whole waves, and of pitch alone at halves', () => {
    const density = (wavelengthM: number) => 0.55e-6 * (10 / wavelengthM) ** -2;
    const heave = 1 / Math.sqrt(1 + density(0.225) / (2 * 5e-5 ** 2 * 0.008));
    expectWithin(relativeErrorOfWave(deck, levels, 0.225)!, heave, EXACT);
    const pitch = 1 / Math.sqrt(1 + ((2 / 0.45) ** 2 * density(0.18)) / (2 * RAD_PER_MDEG ** 2 * 0.008));
    expectWithin(relativeErrorOfWave(deck, levels, 0.18)!, pitch, EXACT);
    expect(relativeErrorOfWave({ ...deck, heaveM: null }, levels, 0.225)).toBe(1);
  });

  it('over a band of waves is what was foretold for simulated passes', () => {
    // RMS over a quarter about each wavelength: 0.14 at 225 mm, 0.31 at 62 mm, 0.50 at 25 mm for Gd 1e-6.
    const over = (wavelengthM: number): number => {
      let sum = 0;
      for (let i = 0; i < 200; i++) {
        sum += relativeErrorOfWave(deck, levels, wavelengthM * (0.88 + (0.24 * (i + 0.5)) / 200))! ** 2;
      }
      return Math.sqrt(sum / 200);
    };
    const coarse = { rel: 0.35, why: 'bands and levels of those passes are not exactly known' };
    expectWithin(over(0.225), 0.14, coarse);
    expectWithin(over(0.062), 0.31, coarse);
    expectWithin(over(0.025), 0.5, coarse);
  });

  it('is unknown without a level or without pitch and heave', () => {
    expect(relativeErrorOfWave(deck, { ...levels, meanTrackM3: null }, 0.1)).toBeNull();
    expect(relativeErrorOfWave({ ...deck, pitchRad: null, heaveM: null }, levels, 0.1)).toBeNull();
  });

  it('goes with a sentence on the waves that no profile of the pass holds', () => {
    expect(wavesNotInProfile([0.022, 0.25])).toBe(
      'Waves shorter than 22 mm and longer than 250 mm are not in this profile.',
    );
  });
});
