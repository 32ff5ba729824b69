import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { runningLevel } from '../../../src/spectrum/peaks/running-level.js';
import { taperSpectra } from '../../../src/spectrum/peaks/taper-spectra.js';
import { expectWithin } from '../../support/expect-within.js';

const noise = (frames: number): Float64Array => {
  const next = gaussianRandom(seededRandom(2));
  return Float64Array.from({ length: frames }, next);
};
const spectraOf = (frames: number, cutoffHz = 0.8): ReturnType<typeof taperSpectra> =>
  taperSpectra({ values: noise(frames), rateHz: 25, cutoffHz, noiseSd: 0, placeM: null, floor: null });

describe('taperSpectra', () => {
  it('keeps the steady spectrum to the band, and raises the band with the high-pass', () => {
    const { steady, firstBin, bandHz } = spectraOf(250);
    expect(bandHz).toEqual([1, 12]);
    expectWithin(steady.freqHz[0], 1.1, { abs: 1e-9 });
    expectWithin(steady.freqHz[steady.freqHz.length - 1], 11.9, { abs: 1e-9 });
    expect(firstBin).toBe(11);
    expect(spectraOf(250, 2).bandHz[0]).toBe(2.5);
  });

  it('averages equal parts of what is longer than 30 s', () => {
    expect(spectraOf(750).parts).toBe(1);
    const { parts, partFrames, durationS } = spectraOf(1000);
    expect([parts, partFrames, durationS]).toEqual([2, 500, 20]);
  });

  it('shows white noise of variance 1 at 2 / rate in both spectra', () => {
    const { steady, line } = spectraOf(5000);
    const mean = (x: Float64Array): number => x.reduce((a, b) => a + b, 0) / x.length;
    for (const { psd } of [steady, line])
      expectWithin(mean(psd), 2 / 25, { rel: 0.05, why: '5000 values: 2 per cent, twice and more' });
  });
});

describe('runningLevel', () => {
  it('lies at the mean of a gamma law, not at its median, and not below one half', () => {
    const spectra = spectraOf(5000);
    const level = runningLevel(
      spectra,
      spectra.steady.psd.map((s) => s / (2 / 25)),
    );
    const middle = level[level.length >> 1];
    expectWithin(middle, 1, { abs: 0.08, why: 'median of a hundred bins' });
    expect(
      runningLevel(
        spectra,
        spectra.steady.psd.map(() => 0.01),
      ).every((x) => x === 0.5),
    ).toBe(true);
  });
});
