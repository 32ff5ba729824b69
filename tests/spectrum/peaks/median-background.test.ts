import { describe, expect, it } from 'vitest';
import { gaussianRandom, mean, seededRandom } from '../../../src/numerics/index.js';
import { robustBackground } from '../../../src/spectrum/peaks/median-background.js';
import { expectWithin } from '../../support/expect-within.js';

const SHAPE = 5;
/** Bins of a 10 s series at 25 frames a second, 1 to 12 Hz. */
const freqHz = Float64Array.from({ length: 111 }, (_, i) => 1 + i / 10);

/** An ordinate of SHAPE tapers over a level of 1: chi-square with 2 SHAPE degrees of freedom over its mean. */
function ordinates(seed: number): Float64Array {
  const next = gaussianRandom(seededRandom(seed));
  return freqHz.map(() => {
    let sum = 0;
    for (let k = 0; k < 2 * SHAPE; k++) sum += next() ** 2;
    return sum / (2 * SHAPE);
  });
}

/** Mean over the runs of background / truth at a frequency. */
function meanRatio(
  atHz: number,
  truth: (f: number) => number,
  extra: (f: number) => number = () => 0,
): number {
  const ratios: number[] = [];
  for (let seed = 0; seed < 40; seed++) {
    const psd = ordinates(seed).map((s, i) => s * truth(freqHz[i]) + extra(freqHz[i]));
    ratios.push(robustBackground({ freqHz, psd }, SHAPE)(atHz) / truth(atHz));
  }
  return mean(ratios);
}

describe('robustBackground', () => {
  it('lies at the mean level of flat noise', () => {
    for (const f of [1, 3, 8, 12]) {
      expectWithin(
        meanRatio(f, () => 1),
        1,
        { abs: 0.06, why: 'level known to 15 % in one run, 40 runs' },
        `${f} Hz`,
      );
    }
  });

  it('follows a spectrum that falls by 20 dB an octave', () => {
    const steep = (f: number): number => 1e3 * f ** -6.6;
    for (const f of [1.2, 4, 11]) expectWithin(meanRatio(f, steep), 1, { abs: 0.2 }, `${f} Hz`);
  });

  it('bends with a spectrum that falls into a noise floor', () => {
    const knee = (f: number): number => 1 + 200 * f ** -4;
    for (const f of [1.5, 3.7, 9]) expectWithin(meanRatio(f, knee), 1, { abs: 0.3 }, `${f} Hz`);
  });

  it('hardly rises under strong lines', () => {
    const lines = (f: number): number => (Math.abs(f - 4) < 0.31 || Math.abs(f - 6) < 0.31 ? 300 : 0);
    expectWithin(
      meanRatio(4, () => 1, lines),
      1,
      { abs: 0.1 },
    );
    expectWithin(
      meanRatio(6, () => 1, lines),
      1,
      { abs: 0.1 },
    );
  });

  it('refuses a spectrum of a few bins', () => {
    expect(() => robustBackground({ freqHz: freqHz.slice(0, 5), psd: freqHz.slice(0, 5) }, 5)).toThrow(
      /at least 8/,
    );
  });
});
