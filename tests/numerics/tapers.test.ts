import { describe, expect, it } from 'vitest';
import {
  gaussianRandom,
  mean,
  multitaperSpectrum,
  seededRandom,
  sineTapers,
} from '../../src/numerics/index.js';
import { expectWithin } from '../support/expect-within.js';

describe('sineTapers', () => {
  it('are orthonormal', () => {
    const tapers = sineTapers(57, 6);
    for (let a = 0; a < 6; a++) {
      for (let b = 0; b < 6; b++) {
        const dot = tapers[a].reduce((sum, v, i) => sum + v * tapers[b][i], 0);
        expectWithin(dot, a === b ? 1 : 0, { abs: 1e-12 }, `tapers ${a}, ${b}`);
      }
    }
  });

  it('refuse more tapers than samples', () => {
    expect(() => sineTapers(3, 4)).toThrow(/1\.\.3/);
    expect(() => sineTapers(0, 1)).toThrow(/n must/);
  });
});

describe('multitaperSpectrum', () => {
  it('spreads the energy of the tapered series over frequency (Parseval)', () => {
    for (const n of [64, 75]) {
      const y = Float64Array.from({ length: n }, gaussianRandom(seededRandom(n)));
      const { psd } = multitaperSpectrum(y, 25, 3);
      const tapered = mean(sineTapers(n, 3).map((v) => v.reduce((sum, w, i) => sum + (w * y[i]) ** 2, 0)));
      expectWithin(psd.reduce((sum, s) => sum + s, 0) * (25 / n), tapered, { rel: 1e-12 });
    }
  });

  it('reads white noise of variance s^2 as 2 s^2 / rate', () => {
    const y = Float64Array.from({ length: 4000 }, gaussianRandom(seededRandom(9)));
    const { psd } = multitaperSpectrum(y, 50, 5);
    expectWithin(mean(psd), 2 / 50, {
      rel: 5 * Math.sqrt(2 / 4000),
      why: 'five standard errors of the power',
    });
  });

  it('reads a sine of amplitude A as 4/pi^2 A^2 T at its frequency with one taper', () => {
    const y = Float64Array.from({ length: 500 }, (_, i) => 3 * Math.sin((2 * Math.PI * 5 * i) / 25));
    const { freqHz, psd } = multitaperSpectrum(y, 25, 1);
    const top = psd.indexOf(Math.max(...psd));
    expectWithin(freqHz[top], 5, { abs: 1e-9 });
    expectWithin(psd[top], (4 / Math.PI ** 2) * 9 * 20, {
      rel: 0.005,
      why: 'n + 1 in place of n in the taper',
    });
  });

  it('interpolates when the transform is longer than the series', () => {
    const y = Float64Array.from({ length: 50 }, gaussianRandom(seededRandom(2)));
    const plain = multitaperSpectrum(y, 10, 2);
    const fine = multitaperSpectrum(y, 10, 2, 200);
    for (let b = 1; b < 25; b++) expectWithin(fine.psd[4 * b], plain.psd[b], { rel: 1e-9, abs: 1e-15 });
  });

  it('refuses a rate that is not positive', () => {
    expect(() => multitaperSpectrum(new Float64Array(9), 0, 1)).toThrow(/rateHz/);
  });
});
