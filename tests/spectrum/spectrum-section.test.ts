import { beforeAll, describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { spectrumSchema, type SpectrumSection } from '../../src/run/index.js';
import { analyseSpectrum, spectrumSection, type Spectrum } from '../../src/spectrum/index.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpMotion } from './support/made-up-motion.js';

const EXPOSURE_S = 0.02;
const FPS = 25;
/** A machine of 31 Hz shows at 6 Hz in 25 frames a second. */
const MACHINE_HZ = 31;
const DEG = Math.PI / 180;

/** A pass at 0.2 m/s: a wheel of 80 mm out of round shakes tilt and vertical, a given machine shakes pan. */
function pass(translationUnit: 'm' | 'medianDepth' = 'm', given = true): Spectrum {
  const next = gaussianRandom(seededRandom(4));
  const wave = (amplitude: number, freqHz: number, noise: number) => (t: number) =>
    amplitude * Math.sin(2 * Math.PI * freqHz * t) + noise * next();
  // Oval: twice a turn.
  const wheelHz = (2 * 0.2) / (Math.PI * 0.08);
  const motion = madeUpMotion({
    rateHz: FPS,
    durationS: 12,
    noiseSd: 2e-5,
    ...(given && { speedMps: 0.2 }),
    translationUnit,
    vibration: {
      tilt: wave(0.05 * DEG, wheelHz, 2e-5),
      vertical: wave(0.3e-3, wheelHz, 2e-5),
      pan: wave(0.02 * DEG, 6, 2e-5),
    },
  });
  const rig = given ? { speedMps: 0.2, wheelDiameterM: 0.08, machinesHz: [MACHINE_HZ] } : {};
  return analyseSpectrum(motion, {
    ...{ rig, surface: null, exposureS: EXPOSURE_S, levels: null, sound: null, otherRun: null },
  });
}

describe('the spectrum section of a run', () => {
  let spectrum: Spectrum;
  let section: SpectrumSection;
  beforeAll(() => {
    spectrum = pass();
    section = spectrumSection(spectrum, 2);
  });

  it('is what the run document asks for', () => {
    expect(spectrumSchema.parse(JSON.parse(JSON.stringify(section)))).toEqual(section);
  });

  it('prints angles in degrees and translation in millimetres', () => {
    const tilt = section.peaks.find((p) => p.axis === 'tilt')!;
    const vertical = section.peaks.find((p) => p.axis === 'vertical')!;
    expect([tilt.unit, vertical.unit]).toEqual(['deg', 'mm']);
    expectWithin(tilt.rms, 0.05 / Math.SQRT2, { rel: 0.05, why: 'noise of 2e-5 rad on 8.7e-4 rad' });
    expectWithin(vertical.rms, 0.3 / Math.SQRT2, { rel: 0.1, why: 'noise of 0.02 mm on 0.3 mm' });
    expect(section.series.tilt!.unit).toBe('deg^2/Hz');
    expect(section.series.vertical!.unit).toBe('mm^2/Hz');
    const inside = spectrum.axes.vertical!.psd[9];
    expectWithin(section.series.vertical!.psd[9], inside * 1e6, { rel: 1e-12 });
    expectWithin(section.noiseFloor.tilt!, ((2 * 2e-5 ** 2) / FPS) * (180 / Math.PI) ** 2, { rel: 1e-12 });
    const band = section.thirdOctaves.tilt!.find(
      ({ fromHz, toHz }) => fromHz < tilt.freqHz && toHz > tilt.freqHz,
    )!;
    expectWithin(band.rms!, 0.05 / Math.SQRT2, { rel: 0.05, why: 'all of the line lies in one band' });
  });

  it('prints translation in per cent of depth when there is no scale', () => {
    const relative = spectrumSection(pass('medianDepth'), 1);
    expect(relative.series.vertical!.unit).toBe('percent^2/Hz');
    expect(relative.peaks.find((p) => p.axis === 'vertical')!.unit).toBe('percent');
    expect(relative.series.tilt!.unit).toBe('deg^2/Hz');
  });

  it('joins the peaks of two axes to one source, and puts first what shifts the picture most', () => {
    expect(section.sources).toHaveLength(2);
    const [wheel, machine] = section.sources;
    expect(wheel.axes).toEqual(['tilt', 'vertical']);
    expect(wheel.cause).toBe('wheel');
    expect(wheel.confidence).toBeLessThanOrEqual(0.95);
    expect(machine.axes).toEqual(['pan']);
    for (const { axis, source } of section.peaks)
      expect(section.sources[source].axes, `${axis} points at its source`).toContain(axis);
    // 1000 px of focal length; the depth is 2 m; the section is asked for in a picture of twice the size.
    const tiltPx = 2 * 1000 * ((0.05 * DEG) / Math.SQRT2);
    const verticalPx = 2 * 1000 * (0.3e-3 / Math.SQRT2 / 2);
    expectWithin(wheel.shiftPx, Math.hypot(tiltPx, verticalPx), {
      rel: 0.06,
      why: 'as the peaks themselves',
    });
  });

  it('names a given machine behind its fold, and gives its motion before the shutter took its share', () => {
    const machine = section.sources[1];
    expect(machine.cause).toBe('machine');
    expectWithin(machine.trueHz, MACHINE_HZ, { abs: 0.05, why: 'a fifth of the resolution' });
    const gain = Math.sin(Math.PI * MACHINE_HZ * EXPOSURE_S) / (Math.PI * MACHINE_HZ * EXPOSURE_S);
    expectWithin(machine.exposureGain, gain, { rel: 0.01, why: 'the frequency is known to 0.05 Hz' });
    expectWithin(machine.trueRms!, 0.02 / Math.SQRT2 / gain, { rel: 0.06, why: 'as the peak itself' });
    expect(machine.couldBeHz.map((f) => Math.round(f))).toEqual(expect.arrayContaining([6, 19, 31]));
  });

  it('gives wavelengths on the floor for the motion itself when the speed is known', () => {
    for (const peak of section.peaks)
      expectWithin(peak.wavelengthM!, section.speedMps! / section.sources[peak.source].trueHz, {
        rel: 1e-12,
      });
    const blind = spectrumSection(pass('m', false), 1);
    expect(blind.speedMps).toBeNull();
    expect(blind.peaks.every(({ wavelengthM }) => wavelengthM === null)).toBe(true);
    expect(blind.sources.every(({ cause }) => cause === 'unknown')).toBe(true);
  });

  it('tells where the picture over time was and claims no false-peak rate without a model of the floor', () => {
    expect(section.spectrogram!.axes.tilt!.length).toBe(section.spectrogram!.timeS.length);
    expect(section.falsePeaks).toBeNull();
  });
});
