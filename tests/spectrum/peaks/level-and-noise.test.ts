import { describe, it } from 'vitest';
import { gammaQuantile, gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { expectedOf, fitLevels, lnFreqOver } from '../../../src/spectrum/peaks/level-and-noise.js';
import { expectWithin } from '../../support/expect-within.js';

const BAND = [1, 12] as const;
const freqHz = Float64Array.from({ length: 220 }, (_, i) => 1 + i / 20);
const model = {
  floor: freqHz.map((f) => 1e3 * f ** -2 * Math.sin(2 * f) ** 2),
  noise: freqHz.map(() => 0.4),
  lnFreq: lnFreqOver(freqHz, BAND),
};
const outlierRatio = gammaQuantile(0.999, 5) / 5;
const truth = { lnFloor: Math.log(0.02), steeper: 0.2, lnNoise: -0.2 };

describe('fitLevels', () => {
  it('finds level, slope and noise of a spectrum that is the model itself', () => {
    const psd = expectedOf(model, truth);
    const fit = fitLevels({ ...model, psd, parts: 1, outlierRatio }, 4, null);
    // What is known beforehand pulls slope and noise a little towards 0.
    expectWithin(fit.lnFloor, truth.lnFloor, { abs: 0.05 });
    expectWithin(fit.steeper, truth.steeper, { abs: 0.15 });
    expectWithin(fit.lnNoise, truth.lnNoise, { abs: 0.08 });
  });

  it('is not moved by lines that stand 200 times above the floor', () => {
    const next = gaussianRandom(seededRandom(4));
    const chi = (): number => Array.from({ length: 10 }, () => next() ** 2).reduce((a, b) => a + b, 0) / 10;
    const clean = expectedOf(model, truth).map((e) => e * chi());
    const lined = clean.map((s, i) => s * (Math.abs(i - 60) < 4 || Math.abs(i - 150) < 4 ? 200 : 1));
    const fit = (psd: Float64Array): number =>
      fitLevels({ ...model, psd, parts: 1, outlierRatio }, 4, null).lnFloor;
    expectWithin(fit(lined), fit(clean), { abs: 0.1, why: 'two of twenty stretches left out' });
  });
});
