import { describe, expect, it } from 'vitest';
import {
  fourthDifferenceVibration,
  gaussianRandom,
  inverseRealFft,
  realFft,
  seededRandom,
} from '../../../src/numerics/index.js';
import { thirdOctaves } from '../../../src/spectrum/estimate/third-octaves.js';
import { expectWithin } from '../../support/expect-within.js';

const RATE = 25;
const PLAIN = { bandHz: [0.8, 12.5], highPassHz: null, noisePsd: 0 } as const;
const names = (bands: readonly { label: string }[]): string[] => bands.map((b) => b.label);

type Density = (freqHz: number) => number;
const white: Density = () => 1;
/** Shake falls steeply, as a rolling dolly's does. */
const steep: Density = (f) => Math.max(f, 0.1) ** -4;
/** A mount that rings at 7 Hz on a flat ground. */
const ringing: Density = (f) => 0.02 + 0.01 / ((1 - (f / 7) ** 2) ** 2 + ((2 * 0.03 * f) / 7) ** 2);

/** Gaussian series of a one-sided density: white noise shaped over twice the length, one half kept. */
function shaped(seconds: number, density: Density, gauss: () => number): Float64Array {
  const size = 2 * seconds * RATE;
  const { re, im } = realFft(Float64Array.from({ length: size }, gauss));
  for (let k = 0; k < re.length; k++) {
    const amplitude = Math.sqrt((density((k * RATE) / size) * RATE) / 2);
    re[k] *= amplitude;
    im[k] *= amplitude;
  }
  return inverseRealFft(re, im, size).slice(0, size / 2);
}

function trueRms(density: Density, fromHz: number, toHz: number): number {
  const parts = 100;
  const width = (toHz - fromHz) / parts;
  const powers = Array.from({ length: parts }, (_, i) => density(fromHz + (i + 0.5) * width) * width);
  return Math.sqrt(powers.reduce((a, b) => a + b, 0));
}

/** The vibration of a simulated pass as the program sees it: high-passed, half a second off each end. */
function vibration(seconds: number, density: Density, gauss: () => number): Float64Array {
  const half = Math.floor(RATE / 2);
  return fourthDifferenceVibration(shaped(seconds, density, gauss), RATE, 0.8).slice(half, -half);
}

describe('thirdOctaves', () => {
  it('read a sine in its own band with its RMS, and next to nothing two bands away', () => {
    const sine = Float64Array.from({ length: 250 }, (_, i) => 3 * Math.sin((2 * Math.PI * 5 * i) / RATE));
    const bands = thirdOctaves(sine, RATE, PLAIN);
    const at = names(bands).indexOf('5');
    expectWithin(bands[at].rms ?? NaN, 3 / Math.SQRT2, { rel: 0.01, why: 'side lobes of the taper' });
    expect(bands[at - 2].belowRms).toBeLessThan(0.3);
    expect(bands[at + 2].belowRms).toBeLessThan(0.3);
  });

  it.each([
    ['white noise', white],
    ['a steep spectrum', steep],
    ['a resonance', ringing],
  ])('state intervals that hold the true RMS of %s in 95 of 100 bands', (_, density) => {
    const gauss = gaussianRandom(seededRandom(31));
    let all = 0;
    let inside = 0;
    for (let run = 0; run < 100; run++) {
      for (const band of thirdOctaves(vibration(10, density, gauss), RATE, { ...PLAIN, highPassHz: 0.8 })) {
        const truth = trueRms(density, band.fromHz, band.toHz);
        all++;
        if (band.ci95 && band.ci95[0] <= truth && truth <= band.ci95[1]) inside++;
      }
    }
    expectWithin(inside / all, 0.95, { abs: 0.03, why: 'four standard errors of a share of 1100' });
  });

  it('hold on to that in a clip of 4 s, with wider intervals', () => {
    const gauss = gaussianRandom(seededRandom(32));
    const whole = thirdOctaves(vibration(20, white, gauss), RATE, PLAIN).find((b) => b.label === '6.3');
    let all = 0;
    let inside = 0;
    let widest = 0;
    for (let run = 0; run < 100; run++) {
      for (const { fromHz, toHz, ci95, degreesOfFreedom } of thirdOctaves(vibration(4, white, gauss), RATE, {
        ...PLAIN,
        highPassHz: 0.8,
      })) {
        const truth = trueRms(white, fromHz, toHz);
        all++;
        if (ci95 && ci95[0] <= truth && truth <= ci95[1]) inside++;
        if (ci95) widest = Math.max(widest, ci95[1] / ci95[0]);
        expect(degreesOfFreedom).toBeGreaterThan(1);
      }
    }
    expectWithin(inside / all, 0.95, { abs: 0.03, why: 'four standard errors of a share of 800' });
    expect(widest).toBeGreaterThan(3 * ((whole?.ci95?.[1] ?? NaN) / (whole?.ci95?.[0] ?? NaN)));
  });

  it('show no figure where there is only noise, and a bound that holds what hides in it', () => {
    const gauss = gaussianRandom(seededRandom(33));
    const noisePsd = 0.5;
    for (const [shakePsd, figures, misses] of [
      [0, 0.02, 0],
      [0.25, 0.5, 0.04],
    ]) {
      let all = 0;
      let shown = 0;
      let above = 0;
      for (let run = 0; run < 60; run++) {
        const series = shaped(10, () => noisePsd + shakePsd, gauss);
        for (const { rms, belowRms, fromHz, toHz } of thirdOctaves(series, RATE, { ...PLAIN, noisePsd })) {
          all++;
          if (rms !== null) shown++;
          if (Math.sqrt(shakePsd * (toHz - fromHz)) > belowRms) above++;
        }
      }
      expect(shown / all, `figures at ${shakePsd}`).toBeLessThanOrEqual(figures);
      expect(above / all, `bounds broken at ${shakePsd}`).toBeLessThanOrEqual(misses);
    }
  });

  it('take the noise off', () => {
    const gauss = gaussianRandom(seededRandom(34));
    const series = shaped(200, () => 1.5, gauss);
    for (const { rms, fromHz, toHz } of thirdOctaves(series, RATE, { ...PLAIN, noisePsd: 0.5 })) {
      const truth = Math.sqrt(toHz - fromHz);
      expectWithin(rms ?? NaN, truth, { rel: 0.35, why: 'four standard errors of the lowest band' });
    }
  });

  it('put the high-pass right', () => {
    const sine = Float64Array.from({ length: 500 }, (_, i) => Math.sin((2 * Math.PI * i) / RATE));
    const passed = fourthDifferenceVibration(sine, RATE, 0.8).slice(25, -25);
    const rms = (highPassHz: number | null): number =>
      thirdOctaves(passed, RATE, { ...PLAIN, highPassHz }).find((b) => b.label === '1')?.rms ?? NaN;
    expectWithin(rms(0.8), Math.SQRT1_2, { rel: 0.03, why: 'slope of the gain across the taper' });
    expectWithin(rms(null), 0.856 * Math.SQRT1_2, { rel: 0.03, why: 'gain of the filter at 1 Hz: 0.856' });
  });

  it('join neighbours that a short series cannot tell apart, without a gap, up to the last band below Nyquist', () => {
    const gauss = gaussianRandom(seededRandom(35));
    const of = (seconds: number) => thirdOctaves(shaped(seconds, white, gauss), RATE, PLAIN);
    expect(names(of(10)).slice(0, 3)).toEqual(['1', '1.25', '1.6']);
    expect(names(of(4))).toEqual(['1 to 1.25', '1.6 to 2', '2.5', '3.15', '4', '5', '6.3', '8', '10']);
    const short = of(1);
    expect(names(short)).toEqual(['1 to 3.15', '4 to 5', '6.3 to 8', '10']);
    for (let i = 1; i < short.length; i++)
      expectWithin(short[i].fromHz, short[i - 1].toHz, { rel: 1e-12 }, 'lower edge');
    for (const { fromHz, toHz, centreHz } of short)
      expectWithin(centreHz, Math.sqrt(fromHz * toHz), { rel: 1e-12 });
  });

  it('know a resonance less well than a flat spectrum of the same band', () => {
    const gauss = gaussianRandom(seededRandom(36));
    const degrees = (density: Density): number =>
      thirdOctaves(shaped(30, density, gauss), RATE, PLAIN).find((b) => b.label === '6.3')
        ?.degreesOfFreedom ?? NaN;
    expect(degrees(ringing)).toBeLessThan(0.8 * degrees(white));
  });

  it('give no band to a series too short for any, or a band too narrow', () => {
    expect(thirdOctaves(new Float64Array(8), RATE, { ...PLAIN, bandHz: [0.8, 3] })).toEqual([]);
    expect(thirdOctaves(new Float64Array(100), RATE, { ...PLAIN, bandHz: [3, 3.2] })).toEqual([]);
  });

  it('say "nothing" of a series that stands still', () => {
    for (const { rms, belowRms } of thirdOctaves(new Float64Array(100).fill(2), RATE, PLAIN)) {
      expect(rms).toBeNull();
      expect(belowRms).toBe(0);
    }
  });

  it('leave their input alone and refuse what cannot work', () => {
    const series = shaped(4, white, gaussianRandom(seededRandom(37)));
    const copy = series.slice();
    thirdOctaves(series, RATE, PLAIN);
    expect(series).toEqual(copy);
    expect(() => thirdOctaves(new Float64Array(7), RATE, PLAIN)).toThrow(/at least 8/);
    expect(() => thirdOctaves(series, RATE, { ...PLAIN, noisePsd: -1 })).toThrow(/noisePsd/);
    expect(() => thirdOctaves(series, RATE, { ...PLAIN, bandHz: [0, 5] })).toThrow(/lowHz/);
  });
});
