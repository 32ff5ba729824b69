import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { analyseSpectrum, type SpectrumContext } from '../../src/spectrum/index.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpMotion } from './support/made-up-motion.js';

/** Nothing known but the motion. */
const ALONE: SpectrumContext = {
  rig: {},
  surface: null,
  exposureS: 1 / 48,
  levels: null,
  sound: null,
  otherRun: null,
};

/** A tilt of 0.05 degrees at 6.4 Hz and a vertical of 0.3 mm at 3.7 Hz, each over a little white noise. */
function shaking(seed = 1) {
  const next = gaussianRandom(seededRandom(seed));
  const wave = (amplitude: number, freqHz: number, noise: number) => (t: number) =>
    amplitude * Math.sin(2 * Math.PI * freqHz * t) + noise * next();
  return {
    rateHz: 24,
    durationS: 12,
    noiseSd: 2e-5,
    vibration: { tilt: wave((0.05 * Math.PI) / 180, 6.4, 2e-5), vertical: wave(0.3e-3, 3.7, 2e-5) },
  };
}

describe('analyseSpectrum', () => {
  const spectrum = analyseSpectrum(madeUpMotion({ ...shaking(), notObservable: ['axial'] }), ALONE);

  it('finds the dominant frequency of each axis within one resolution bin', () => {
    expectWithin(spectrum.dominantHz.tilt ?? NaN, 6.4, { abs: spectrum.resolutionHz });
    expectWithin(spectrum.dominantHz.vertical ?? NaN, 3.7, { abs: spectrum.resolutionHz });
  });

  it('has no dominant frequency where nothing stands out', () => {
    expect(spectrum.dominantHz.pan).toBeNull();
    expect(spectrum.axes.pan?.finding.peaks).toEqual([]);
  });

  it('leaves out an axis that could not be observed', () => {
    expect(spectrum.axes.axial).toBeUndefined();
    expect('axial' in spectrum.dominantHz).toBe(false);
  });

  it('puts the noise floor where white noise of the stated deviation lies', () => {
    expectWithin(spectrum.axes.tilt?.noiseFloorPsd ?? NaN, (2 * 2e-5 ** 2) / 24, { rel: 1e-12 });
  });

  it('leaves out the ends', () => {
    const bump = (t: number): number => (t < 0.4 || t > 11.6 ? 1 : 0);
    const { axes } = analyseSpectrum(
      madeUpMotion({ rateHz: 24, durationS: 12, vibration: { pan: bump } }),
      ALONE,
    );
    expect(axes.pan?.psd.every((s) => s === 0)).toBe(true);
  });

  it('says how it was made', () => {
    expect(spectrum.method).toBe('Welch, Hann, 50 % overlap, 8 averages of 2.42 s, one-sided');
    expect(spectrum.nyquistHz).toBe(12);
  });

  it('gives sine tapers for a short clip and no axes for a handful of frames', () => {
    expect(analyseSpectrum(madeUpMotion({ ...shaking(), durationS: 3 }), ALONE).method).toMatch(
      /sine tapers, 3/,
    );
    const tiny = analyseSpectrum(madeUpMotion({ ...shaking(), durationS: 1.2 }), ALONE);
    expect(tiny.axes).toEqual({});
    expect(tiny.method).toMatch(/too short/);
    expect(Number.isFinite(tiny.resolutionHz)).toBe(true);
  });

  it('repeats bit by bit', () => {
    expect(analyseSpectrum(madeUpMotion(shaking(2)), ALONE)).toEqual(
      analyseSpectrum(madeUpMotion(shaking(2)), ALONE),
    );
  });
});
