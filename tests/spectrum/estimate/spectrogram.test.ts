import { describe, expect, it } from 'vitest';
import { gaussianRandom, mean, seededRandom } from '../../../src/numerics/index.js';
import {
  placeSpectrogram,
  spectrogram,
  SPECTROGRAM_DEFAULTS,
} from '../../../src/spectrum/estimate/spectrogram.js';
import { expectWithin } from '../../support/expect-within.js';

const RATE = 25;
const BAND = [0.8, 12.5] as const;
const sine = (n: number, freqHz: number): Float64Array =>
  Float64Array.from({ length: n }, (_, i) => Math.sin((2 * Math.PI * freqHz * i) / RATE));
const peakOf = (row: Float64Array, columns: Float64Array): number =>
  columns[row.indexOf(row.reduce((a, b) => Math.max(a, b), 0))];

describe('spectrogram', () => {
  it('shows a tone from the moment it begins', () => {
    const late = sine(250, 7).map((v, i) => (i < 150 ? 0 : v));
    const { timeS, freqHz, rows, windowS } = spectrogram(late, RATE, { bandHz: BAND, startS: 0.5 });
    expect(windowS).toBe(2);
    expectWithin(timeS[0], 0.5 + 0.98, { abs: 1e-9, why: 'middle of 50 samples' });
    rows.forEach((row, r) => {
      const density = Math.max(...row);
      if (timeS[r] + windowS / 2 < 6.5) expect(density).toBe(0);
      if (timeS[r] - windowS / 2 < 6.5) return;
      expectWithin(peakOf(row, freqHz), 7, { abs: 1e-9 });
      expectWithin(density, 0.5 / 0.75, { rel: 0.01, why: 'half of A^2 over the noise bandwidth, 0.75 Hz' });
    });
  });

  it('holds the density of white noise, on average', () => {
    const gauss = gaussianRandom(seededRandom(4));
    const { rows } = spectrogram(Float64Array.from({ length: 2500 }, gauss), RATE, { bandHz: BAND });
    const density = mean(rows.map((row) => mean(row)));
    expectWithin(density, 2 / RATE, { rel: 0.1, why: 'three standard errors of 100 s of noise' });
  });

  it('covers the whole series with at most 60 rows of at most 64 columns, whatever its length and rate', () => {
    for (const [seconds, rateHz] of [
      [1, 24],
      [5, 25],
      [10, 50],
      [120, 25],
      [90, 240],
    ]) {
      const n = seconds * rateHz;
      const { timeS, windowS, freqHz, rows } = spectrogram(new Float64Array(n), rateHz, {
        bandHz: [0.8, rateHz / 2],
      });
      expect(rows.length).toBeLessThanOrEqual(SPECTROGRAM_DEFAULTS.mostRows);
      expect(rows.length).toBeGreaterThanOrEqual(8);
      expect(freqHz.length).toBeLessThanOrEqual(SPECTROGRAM_DEFAULTS.mostColumns);
      expect(windowS).toBeLessThanOrEqual(2);
      const half = (windowS - 1 / rateHz) / 2;
      expectWithin(timeS[0], half, { abs: 1e-9 }, 'first row');
      expectWithin(timeS[timeS.length - 1], seconds - 1 / rateHz - half, { abs: 1e-9 }, 'last row');
      expect(freqHz[freqHz.length - 1]).toBeLessThanOrEqual(rateHz / 2);
    }
  });

  it('says where the dolly was in each row', () => {
    const placeM = Float64Array.from({ length: 250 }, (_, i) => 1 + 0.02 * i);
    const { timeS, placeM: places } = spectrogram(sine(250, 3), RATE, { bandHz: BAND, placeM });
    places?.forEach((p, r) => expectWithin(p, 1 + 0.5 * timeS[r], { abs: 1e-9 }));
    expect(spectrogram(sine(250, 3), RATE, { bandHz: BAND }).placeM).toBeNull();
  });

  it('refuses a place of another length and a series too short', () => {
    expect(() => spectrogram(sine(99, 3), RATE, { bandHz: BAND, placeM: new Float64Array(98) })).toThrow(
      /placeM/,
    );
    expect(() => spectrogram(sine(9, 3), RATE, { bandHz: BAND })).toThrow(/at least 16/);
  });
});

describe('placeSpectrogram', () => {
  /** 12 s: half a metre a second, then one, in between faster and faster. */
  const placeM = new Float64Array(300);
  for (let i = 1; i < 300; i++)
    placeM[i] = placeM[i - 1] + (0.5 + Math.min(1, Math.max(0, (i - 100) / 100)) / 2) / RATE;
  const waves = placeM.map((p) => Math.sin((2 * Math.PI * p) / 0.25));

  it('keeps a wave of the floor at its wavenumber while the speed changes, where time shows two frequencies', () => {
    const overPlace = placeSpectrogram(waves, placeM, RATE, 0.8);
    for (const row of overPlace?.rows ?? [])
      expectWithin(peakOf(row, overPlace?.cyclesPerM ?? placeM), 4, {
        abs: 0.5,
        why: 'one column and a half',
      });
    const overTime = spectrogram(waves, RATE, { bandHz: BAND });
    expectWithin(peakOf(overTime.rows[0], overTime.freqHz), 2, { abs: 0.25, why: 'one column' });
    expectWithin(peakOf(overTime.rows[overTime.rows.length - 1], overTime.freqHz), 4, { abs: 0.25 });
  });

  it('lies along the way, whichever way the dolly went, and shows as much backwards', () => {
    const forward = placeSpectrogram(waves, placeM, RATE, 0.8);
    const back = placeSpectrogram(waves.slice().reverse(), placeM.slice().reverse(), RATE, 0.8);
    expect(forward?.placeM[0]).toBeGreaterThan(0);
    expect(forward?.placeM.at(-1)).toBeLessThan(placeM[299]);
    expect(back?.placeM).toEqual(forward?.placeM);
    expect(back?.rows).toEqual(forward?.rows);
  });

  it('leaves out frames in which the dolly stands, and gives up when that is most of them', () => {
    const standing = Float64Array.from([...new Float64Array(50), ...placeM]);
    const shaken = Float64Array.from([...sine(50, 9), ...waves]);
    const picture = placeSpectrogram(shaken, standing, RATE, 0.8);
    const plain = placeSpectrogram(waves, placeM, RATE, 0.8);
    expect(picture?.rows.length).toBe(plain?.rows.length);
    expectWithin(picture?.placeM[0] ?? NaN, plain?.placeM[0] ?? NaN, { abs: 0.05 });
    const parked = placeM.map((_, i) => (i < 200 ? 0 : (i - 200) * 0.02));
    expect(placeSpectrogram(waves, parked, RATE, 0.8)).toBeNull();
  });
});
