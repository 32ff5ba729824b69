import { describe, expect, it } from 'vitest';
import {
  fourthDifferenceSmooth,
  gaussianRandom,
  mean,
  quantile,
  seededRandom,
} from '../../../src/numerics/index.js';
import { findPeaks as search } from '../../../src/spectrum/peaks/find-peaks.js';
import type { FoundPeak } from '../../../src/spectrum/peaks/types.js';
import { expectWithin } from '../../support/expect-within.js';

const RATE_HZ = 25;
const CUTOFF_HZ = 0.8;

/** Peaks of a series over a running median. */
const findPeaks = (values: Float64Array, noiseSd = 0): readonly FoundPeak[] =>
  search({ values, rateHz: RATE_HZ, cutoffHz: CUTOFF_HZ, noiseSd, placeM: null, floor: null }).peaks;

/** High-passes a signal plus white noise of variance 1 and cuts half a second off both ends. */
function vibration(durationS: number, seed: number, signal: (timeS: number) => number): Float64Array {
  const next = gaussianRandom(seededRandom(seed));
  const edge = Math.round(RATE_HZ / 2);
  const n = Math.round(durationS * RATE_HZ) + 2 * edge;
  const y = Float64Array.from({ length: n }, (_, i) => next() + signal(i / RATE_HZ));
  const slow = fourthDifferenceSmooth(y, RATE_HZ, CUTOFF_HZ);
  return y.map((v, i) => v - slow[i]).slice(edge, n - edge);
}

const sine =
  (amplitude: number, freqHz: number, phase = 0) =>
  (timeS: number): number =>
    amplitude * Math.sin(2 * Math.PI * freqHz * timeS + phase);

/** Amplitude of a line of strength rho = A^2 T / (2 S) over white noise of variance 1. */
const amplitudeFor = (rho: number, durationS: number): number =>
  Math.sqrt((2 * rho * (2 / RATE_HZ)) / durationS);

function nearest(peaks: readonly FoundPeak[], freqHz: number, within: number): FoundPeak | undefined {
  return peaks.find((p) => Math.abs(p.freqHz - freqHz) < within);
}

describe('findPeaks', () => {
  it('finds nothing in steady noise, white or red', () => {
    let withPeaks = 0;
    for (let seed = 0; seed < 60; seed++) {
      const next = gaussianRandom(seededRandom(1000 + seed));
      let walk = 0;
      const red = (): number => (walk = 0.98 * walk + 0.5 * next());
      if (findPeaks(vibration(10, seed, seed % 2 ? red : () => 0)).length > 0) withPeaks++;
    }
    // Stated rate 0.1 %; the uncertain background makes it up to 2 %: more than 5 of 60 has a chance below 1 in 100.
    expect(withPeaks).toBeLessThanOrEqual(5);
  });

  it('finds a line of strength 30 nine times in ten, at its frequency and amplitude', () => {
    const durationS = 10;
    const rho = 30;
    const runs = 60;
    const amplitude = amplitudeFor(rho, durationS);
    const offBins: number[] = [];
    const ratios: number[] = [];
    for (let seed = 0; seed < runs; seed++) {
      const random = seededRandom(seed);
      const freqHz = 1.6 + 8 * random();
      const series = vibration(durationS, 500 + seed, sine(amplitude, freqHz, 6 * random()));
      const hit = nearest(findPeaks(series), freqHz, 1.5 / durationS);
      if (!hit) continue;
      offBins.push(Math.abs(hit.freqHz - freqHz) * durationS);
      ratios.push((hit.rms * Math.SQRT2) / amplitude);
    }
    expect(offBins.length).toBeGreaterThanOrEqual(0.88 * runs);
    expectWithin(quantile(offBins, 0.9), 0, {
      abs: 1 / Math.sqrt(rho),
      why: 'own simulation: sd 0.5 / (T sqrt rho)',
    });
    expectWithin(mean(ratios), 1, {
      abs: 0.03 + (4 * 0.79) / Math.sqrt(rho * runs),
      why: 'bias 3 %, four standard errors',
    });
  });

  it('takes the side lobes of a very strong line for what they are', () => {
    const peaks = findPeaks(vibration(10, 3, sine(2000, 4.23)));
    expect(peaks.length).toBe(1);
    expectWithin(peaks[0].freqHz, 4.23, { abs: 0.002 });
    expectWithin(peaks[0].rms, 2000 / Math.SQRT2, { rel: 0.01 });
    expectWithin(peaks[0].widthHz, 1.2 / 10, {
      abs: 0.03,
      why: 'half-power width of the sine taper, 1.2 bins',
    });
  });

  it('keeps two lines apart and puts the one that stands out more first', () => {
    const peaks = findPeaks(vibration(10, 5, (t) => sine(3, 3.3)(t) + sine(1.5, 7.8)(t)));
    expect(peaks.map((p) => Math.round(p.freqHz * 10) / 10)).toEqual([3.3, 7.8]);
    expect(peaks[0].prominenceDb).toBeGreaterThan(peaks[1].prominenceDb);
  });

  it('does not count a line below the noise of the measurement', () => {
    const series = vibration(10, 6, sine(amplitudeFor(60, 10), 5));
    expect(findPeaks(series).length).toBe(1);
    expect(findPeaks(series, Math.sqrt(20))).toEqual([]);
  });

  it('gives no line of fewer than 8 cycles and none from a series shorter than 2 s', () => {
    expect(findPeaks(vibration(4, 7, sine(20, 1.6)))).toEqual([]);
    expect(nearest(findPeaks(vibration(4, 7, sine(20, 4))), 4, 0.05)).toBeDefined();
    expect(findPeaks(vibration(1.5, 7, sine(20, 6)))).toEqual([]);
  });

  it('finds a line in a long series, whose parts it averages', () => {
    const peaks = findPeaks(vibration(100, 8, sine(0.5, 6.1)));
    expect(peaks.length).toBe(1);
    expectWithin(peaks[0].freqHz, 6.1, { abs: 1 / 25, why: 'one bin of the 25 s parts' });
    expectWithin(peaks[0].rms, 0.5 / Math.SQRT2, { rel: 0.2, why: 'four parts at strength 39: sd 6 %' });
  });

  it('never gives more than 12', () => {
    const comb = (t: number): number => {
      let sum = 0;
      for (let k = 0; k < 16; k++) sum += sine(4, 1.5 + 0.65 * k, k)(t);
      return sum;
    };
    expect(findPeaks(vibration(25, 9, comb)).length).toBe(12);
  });

  it('says nothing about a series that stands still', () => {
    expect(findPeaks(new Float64Array(250))).toEqual([]);
  });
});
