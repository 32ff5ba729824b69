import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { harmonicFamilies } from '../../../src/spectrum/causes/harmonic-families.js';
import type { CauseName, ShakeSource } from '../../../src/spectrum/causes/types.js';
import { expectWithin } from '../../support/expect-within.js';
import { BAND } from './made-up-peaks.js';
import { madeUpSource } from './made-up-runs.js';

function named(freqHz: number, cause: CauseName, order: number, trueHz = freqHz): ShakeSource {
  const candidates = [{ cause, order, trueHz, probability: 0.9 }];
  return { ...madeUpSource(freqHz), cause, trueHz, probability: 0.9, candidates };
}

describe('families of harmonics', () => {
  it('gather the multiples of a wheel and of joints about the base of each', () => {
    const sources = [
      named(1.99, 'wheel', 1),
      named(3.98, 'wheel', 2),
      named(3.333, 'joint', 2),
      named(5, 'joint', 3),
    ];
    const families = harmonicFamilies(sources, BAND);
    expect(families.map((harmonic) => harmonic?.order)).toEqual([1, 2, 2, 3]);
    expect(families[0]!.family).toBe(families[1]!.family);
    expect(families[2]!.family).not.toBe(families[0]!.family);
    expectWithin(families[2]!.baseHz, 1.6667, { rel: 1e-3, why: 'three digits given' });
  });

  it('take in sources without a name on folded multiples of a machine', () => {
    // Twice and three times 7.4 Hz show at 25 - 14.8 and 25 - 22.2 Hz.
    const sources = [named(7.4, 'machine', 1), madeUpSource(10.2), madeUpSource(2.8), madeUpSource(5.1)];
    const families = harmonicFamilies(sources, BAND);
    expect(families.map((harmonic) => harmonic?.order ?? null)).toEqual([1, 2, 3, null]);
    expectWithin(families[1]!.baseHz, 7.4, { abs: 1e-9, why: 'base of the named one alone' });
  });

  it('leave out what may stand on one of so many multiples by chance', () => {
    const sources = [named(7.4, 'machine', 1), ...[10.2, 3.3, 5.1, 8.6, 9.4].map((hz) => madeUpSource(hz))];
    expect(harmonicFamilies(sources, BAND)).toEqual(sources.map(() => null));
  });

  it('are none for one name alone', () => {
    expect(harmonicFamilies([named(7.4, 'machine', 1), named(4, 'wheel', 2)], BAND)).toEqual([null, null]);
  });

  it('find a series that nobody listed, also without its base', () => {
    const series = [2, 3, 4, 5].map((k) => madeUpSource(1.83 * k + (k - 3) * 0.003));
    const families = harmonicFamilies([...series, madeUpSource(4.4)], BAND);
    expect(families.map((harmonic) => harmonic?.order ?? null)).toEqual([2, 3, 4, 5, null]);
    expectWithin(families[0]!.baseHz, 1.83, {
      abs: 0.003,
      why: 'errors of the members over their multiples',
    });
  });

  it('leave resonances out', () => {
    const broad = (freqHz: number): ShakeSource => {
      const source = madeUpSource(freqHz);
      const [{ axis, peak }] = source.sightings;
      return { ...source, sightings: [{ axis, peak: { ...peak, broadProbability: 0.9 } }] };
    };
    expect(
      harmonicFamilies(
        [1, 2, 3, 4].map((k) => broad(2 * k)),
        BAND,
      ),
    ).toEqual([null, null, null, null]);
  });

  it('hardly come about by chance', () => {
    const random = seededRandom(9);
    const gaussian = gaussianRandom(random);
    let families = 0;
    const passes = 200;
    for (let pass = 0; pass < passes; pass++) {
      const sources = Array.from({ length: 8 }, () =>
        madeUpSource(Math.abs(1 + 11 * random() + 0.01 * gaussian())),
      );
      if (harmonicFamilies(sources, BAND).some((harmonic) => harmonic)) families++;
    }
    // Measured over 400 passes: 0 to 2 %.
    expect(families / passes).toBeLessThanOrEqual(0.03);
  });
});
