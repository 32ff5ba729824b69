import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { analyseSpectrum, dominantFrequencyHz, spectrumSection } from '../../src/spectrum/index.js';
import { spectrumSchema } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpMotion } from './support/made-up-motion.js';

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
  const spectrum = analyseSpectrum(madeUpMotion({ ...shaking(), notObservable: ['axial'] }));

  it('finds the dominant frequency of each axis within one resolution bin', () => {
    expectWithin(spectrum.dominantHz.tilt ?? NaN, 6.4, { abs: spectrum.resolutionHz });
    expectWithin(spectrum.dominantHz.vertical ?? NaN, 3.7, { abs: spectrum.resolutionHz });
  });

  it('has no dominant frequency where nothing stands out', () => {
    expect(spectrum.dominantHz.pan).toBeNull();
    expect(spectrum.axes.pan?.peaks).toEqual([]);
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
    const { axes } = analyseSpectrum(madeUpMotion({ rateHz: 24, durationS: 12, vibration: { pan: bump } }));
    expect(axes.pan?.psd.every((s) => s === 0)).toBe(true);
  });

  it('says how it was made', () => {
    expect(spectrum.method).toBe('Welch, Hann, 50 % overlap, 8 averages of 2.42 s, one-sided');
    expect(spectrum.nyquistHz).toBe(12);
  });

  it('gives sine tapers for a short clip and no axes for a handful of frames', () => {
    expect(analyseSpectrum(madeUpMotion({ ...shaking(), durationS: 3 })).method).toMatch(/sine tapers, 3/);
    const tiny = analyseSpectrum(madeUpMotion({ ...shaking(), durationS: 1.2 }));
    expect(tiny.axes).toEqual({});
    expect(tiny.method).toMatch(/too short/);
    expect(Number.isFinite(tiny.resolutionHz)).toBe(true);
  });

  it('repeats bit by bit', () => {
    expect(analyseSpectrum(madeUpMotion(shaking(2)))).toEqual(analyseSpectrum(madeUpMotion(shaking(2))));
  });
});

describe('dominantFrequencyHz', () => {
  const freqHz = Float64Array.from([0, 1, 2, 3, 4, 5, 6]);

  it('lies between the bins, where a parabola through the logarithm has its top', () => {
    const gauss = freqHz.map((f) => Math.exp(-((f - 3.2) ** 2)));
    expectWithin(dominantFrequencyHz({ freqHz, psd: gauss, noiseFloorPsd: 0 }, [0.8, 6], 8) ?? NaN, 3.2, {
      abs: 1e-9,
      why: 'the logarithm of a Gaussian is a parabola',
    });
  });

  it('is nothing when noise alone could reach as high', () => {
    const flat = Float64Array.from([1, 1, 1.4, 1, 0.8, 1, 1]);
    expect(dominantFrequencyHz({ freqHz, psd: flat, noiseFloorPsd: 1 }, [0.8, 6], 8)).toBeNull();
    expect(dominantFrequencyHz({ freqHz, psd: flat, noiseFloorPsd: 0.1 }, [0.8, 6], 8)).not.toBeNull();
  });

  it('keeps to the band', () => {
    const low = Float64Array.from([9, 9, 1, 2, 1, 1, 1]);
    expectWithin(dominantFrequencyHz({ freqHz, psd: low, noiseFloorPsd: 0 }, [1.5, 6], 8) ?? NaN, 3, {
      abs: 0.5,
    });
  });
});

describe('spectrumSection', () => {
  const spectrum = analyseSpectrum(madeUpMotion(shaking()));
  const section = spectrumSection(spectrum, { speedMps: 0.2 });

  it('is what the run document asks for', () => {
    expect(spectrumSchema.parse(JSON.parse(JSON.stringify(section)))).toEqual(section);
  });

  it('prints angles in degrees and translation in millimetres', () => {
    const tilt = section.peaks.find((p) => p.axis === 'tilt');
    const vertical = section.peaks.find((p) => p.axis === 'vertical');
    expect([tilt?.unit, vertical?.unit]).toEqual(['deg', 'mm']);
    expectWithin(tilt?.rms ?? NaN, 0.05 / Math.SQRT2, { rel: 0.05, why: 'noise of 2e-5 rad on 8.7e-4 rad' });
    expectWithin(vertical?.rms ?? NaN, 0.3 / Math.SQRT2, { rel: 0.1, why: 'noise of 0.02 mm on 0.3 mm' });
    expect(section.series.tilt?.unit).toBe('deg^2/Hz');
    expect(section.series.vertical?.unit).toBe('mm^2/Hz');
    const inside = spectrum.axes.vertical?.psd[9] ?? NaN;
    expectWithin(section.series.vertical?.psd[9] ?? NaN, inside * 1e6, { rel: 1e-12 });
    expectWithin(section.noiseFloor.tilt ?? NaN, ((2 * 2e-5 ** 2) / 24) * (180 / Math.PI) ** 2, {
      rel: 1e-12,
    });
  });

  it('prints translation in per cent of depth when there is no scale', () => {
    const relative = spectrumSection(
      analyseSpectrum(madeUpMotion({ ...shaking(), translationUnit: 'medianDepth' })),
    );
    expect(relative.series.vertical?.unit).toBe('percent^2/Hz');
    expect(relative.peaks.find((p) => p.axis === 'vertical')?.unit).toBe('percent');
    expect(relative.series.tilt?.unit).toBe('deg^2/Hz');
  });

  it('gives wavelengths on the floor when the speed is known', () => {
    for (const peak of section.peaks)
      expectWithin(peak.wavelengthM ?? NaN, 0.2 / peak.freqHz, { rel: 1e-12 });
    expect(spectrumSection(spectrum).peaks.every((p) => p.wavelengthM === null)).toBe(true);
    expect(() => spectrumSection(spectrum, { speedMps: -1 })).toThrow(/speedMps/);
  });

  it('attributes no cause', () => {
    expect(section.peaks.length).toBeGreaterThan(0);
    expect(section.peaks.every((p) => p.cause === null && p.confidence === null)).toBe(true);
  });
});
