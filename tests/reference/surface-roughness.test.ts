/** Road-profile forms, classes and wheelbase gains against published tables and computed cases (worked.json, case named in each title). */
import { describe, expect, it } from 'vitest';
import { rms } from '../../src/numerics/index.js';
import { exposureGain } from '../../src/optics/index.js';
import {
  bandMeanDensity,
  bandRmsM,
  deckPowerGain,
  displacementPsd,
  fitStraightSpectrum,
  flatnessFF,
  heightPsdInTime,
  profileRoughness,
  smoothedSpectrum,
  surfaceClass,
} from '../../src/surface/index.js';
import { fitPass } from '../../src/surface/roughness/pass-fit.js';
import { madeUpDeck } from '../surface/grades/made-up-deck.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpProfile } from '../support/made-up-profile.js';
import { workedCase } from '../support/worked-case.js';

const TABLE = { rel: 1e-3, why: 'the table of the standard has three digits' };
const COMPUTED = { rel: 1e-6, why: 'closed form checked by quadrature, printed to 7 digits' };

describe('roughness of a surface against its sources', () => {
  // ISO 8608:2016, geometric means and limits as used in public code; each class four times the one before.
  it('names the classes and limits of ISO 8608 (iso8608-class-table)', () => {
    const { expected } =
      workedCase<Record<string, { lower: number | null; mean: number; upper: number | null }>>(
        'iso8608-class-table',
      );
    expect(Object.keys(expected)).toHaveLength(8);
    for (const [name, row] of Object.entries(expected)) {
      const found = surfaceClass(row.mean);
      expect(found.name).toBe(name);
      expectWithin(found.meanM3, row.mean, TABLE, `mean of ${name}`);
      if (row.lower !== null) expectWithin(found.lowerM3, row.lower, TABLE, `lower limit of ${name}`);
      if (row.upper === null) expect(found.upperM3).toBeNull();
      else expectWithin(found.upperM3 ?? NaN, row.upper, TABLE, `upper limit of ${name}`);
    }
  });

  // Same source; the standard has no class below A, so our finer steps read as A there.
  it('puts values beside a limit into the right class (iso8608-class-edge)', () => {
    const { inputs, expected } = workedCase<string[], { Gd_n0: number[] }>('iso8608-class-edge');
    inputs.Gd_n0.forEach((gd, i) => expect(surfaceClass(gd).name.charAt(0)).toBe(expected[i]));
  });

  // The angular form Gd(Omega0) of class A is about 1e-6: taken for Gd(n0) by mistake in public code.
  it('reads 1e-6 as Gd at 0.1 cycles per metre, not as the angular form of class A (iso8608-forms)', () => {
    const { expected } = workedCase<{ Gd_Omega0_1radpm: number }>('iso8608-forms');
    const wavenumberOf1RadPerM = 1 / (2 * Math.PI);
    const angular = displacementPsd(16e-6, wavenumberOf1RadPerM) / (2 * Math.PI);
    expectWithin(angular, expected.Gd_Omega0_1radpm, COMPUTED);
    expect(surfaceClass(1e-6).name).toBe('A-2');
  });

  it('gives the displacement density in space and in time (iso8608-forms)', () => {
    const { expected } = workedCase<{ Gd_at_n_0p5: number; G_f_at_10Hz_v0p5: number }>('iso8608-forms');
    expectWithin(displacementPsd(16e-6, 0.5), expected.Gd_at_n_0p5, COMPUTED);
    expectWithin(heightPsdInTime(16e-6, 10, 0.5), expected.G_f_at_10Hz_v0p5, COMPUTED);
  });

  it('integrates the density over a band (iso8608-band-rms)', () => {
    const { expected } =
      workedCase<{ case: string; Gd_n0: number; n_low: number; n_high: number; w: number; rms_mm: number }[]>(
        'iso8608-band-rms',
      );
    expect(expected.length).toBeGreaterThan(5);
    for (const one of expected) {
      const rmsMm = 1000 * bandRmsM(one.Gd_n0, one.n_low, one.n_high, one.w);
      expectWithin(rmsMm, one.rms_mm, COMPUTED, one.case);
    }
  });

  // Own derivation; the constant 116.078 mm of ASTM E1155 is from memory.
  it('bridges roughness and floor flatness (bridge-FF-ISO8608)', () => {
    const { expected } = workedCase<{
      FF_classA_mean: number;
      FF_classA_upper: number;
      FF_classB_mean: number;
      G0_for_FF: Record<string, number>;
    }>('bridge-FF-ISO8608');
    expectWithin(flatnessFF(16e-6), expected.FF_classA_mean, COMPUTED);
    expectWithin(flatnessFF(32e-6), expected.FF_classA_upper, COMPUTED);
    expectWithin(flatnessFF(64e-6), expected.FF_classB_mean, COMPUTED);
    for (const [ff, gd] of Object.entries(expected.G0_for_FF))
      expectWithin(flatnessFF(gd), Number(ff), COMPUTED);
  });

  it('turns waves into heave and pitch of a rigid deck (wheelbase-filter)', () => {
    const { inputs, expected } = workedCase<
      { wavelength_m: number; heave: number; pitch_rad_per_m: number }[],
      { L_m: number }
    >('wheelbase-filter');
    const dolly = { wheelbaseM: inputs.L_m, trackWidthM: null };
    const gain = { abs: 1e-8, why: 'digits of the table' };
    for (const { wavelength_m, heave, pitch_rad_per_m } of expected) {
      expectWithin(Math.sqrt(deckPowerGain('heave', 1 / wavelength_m, dolly)), heave, gain);
      expectWithin(Math.sqrt(deckPowerGain('pitch', 1 / wavelength_m, dolly)), pitch_rad_per_m, gain);
    }
  });

  // Own derivation: pitch over all wavelengths is pi n0 sqrt(2 Gd / L); here the part from 0.2 to 20 cycles/m, integrated.
  it('gives the pitch that a floor of a class makes (bridge-pitch-rms)', () => {
    const { expected } =
      workedCase<{ case: string; Gd_n0: number; L_m: number; pitch_rms_mrad_0p2_to_20: number }[]>(
        'bridge-pitch-rms',
      );
    const steps = 20_000;
    for (const one of expected) {
      const dolly = { wheelbaseM: one.L_m, trackWidthM: null };
      const dn = (20 - 0.2) / steps;
      let power = 0;
      for (let i = 0; i < steps; i++) {
        const n = 0.2 + (i + 0.5) * dn;
        power += displacementPsd(one.Gd_n0, n) * deckPowerGain('pitch', n, dolly) * dn;
      }
      const quadrature = { rel: 1e-5, why: 'midpoint rule, 0.001 cycles/m a step' };
      expectWithin(1000 * Math.sqrt(power), one.pitch_rms_mrad_0p2_to_20, quadrature, one.case);
    }
  });

  // The mean of a w = 2 density over a band is its value at the middle of the band on a log axis, for no other w.
  it('averages a w = 2 spectrum to its value at the centre of a band (iso8608-smoothing-identity)', () => {
    const { inputs, expected } = workedCase<
      { band_mean: number; at_geometric_centre: number },
      { Gd_n0: number; n_low: number; n_high: number }
    >('iso8608-smoothing-identity');
    const { Gd_n0: gdM3, n_low: low, n_high: high } = inputs;
    const digits = { rel: 1e-8, why: 'printed to nine digits' };
    expectWithin(bandRmsM(gdM3, low, high) ** 2 / (high - low), expected.band_mean, digits);
    expectWithin(displacementPsd(gdM3, Math.sqrt(low * high)), expected.at_geometric_centre, digits);
    const steeper = bandRmsM(gdM3, low, high, 3) ** 2 / (high - low);
    expect(steeper / displacementPsd(gdM3, Math.sqrt(low * high), 3)).toBeGreaterThan(1.004);
  });

  // Annex of ISO 8608 as read in a public implementation.
  it('counts the first and last bin of a band by their part in it (iso8608-smoothing-discrete)', () => {
    const { inputs, expected } = workedCase<{ Gs: number }, { Be: number; band: [number, number] }>(
      'iso8608-smoothing-discrete',
    );
    const density = Float64Array.from({ length: 60 }, (_, k) =>
      k === 0 ? 0 : displacementPsd(16e-6, k * inputs.Be),
    );
    const [low, high] = inputs.band;
    expectWithin(bandMeanDensity(density, inputs.Be, low, high), expected.Gs, {
      rel: 1e-9,
      why: 'closed form',
    });
    expect(bandMeanDensity(density, inputs.Be, 0.502, 0.51)).toBe(density[10]);
    expect(() => bandMeanDensity(density, inputs.Be, 2, 3.01)).toThrow(/no band from 2 to 3.01/);
  });

  it('smooths in octaves, then thirds, then twelfths, and reads Gd and w of a straight spectrum off them', () => {
    const bin = 0.0005;
    for (const waviness of [1.6, 2, 2.5]) {
      const density = Float64Array.from({ length: 20_001 }, (_, k) =>
        k === 0 ? 0 : displacementPsd(16e-6, k * bin, waviness),
      );
      const smoothed = smoothedSpectrum(density, bin);
      // First band of each kind and their steps, as the standard has them.
      expectWithin(smoothed.cyclesPerM[0], 2 ** -9, { rel: 1e-12 });
      expectWithin(smoothed.cyclesPerM[5], 2 ** (-13 / 3), { rel: 1e-12 });
      expectWithin(smoothed.cyclesPerM[13], 0.2806, { rel: 2e-4, why: 'printed to four digits' });
      const line = fitStraightSpectrum(smoothed);
      const ripple = {
        rel: 0.05,
        why: 'an octave of a spectrum that is not w = 2 averages above its centre',
      };
      expectWithin(line.waviness, waviness, { abs: 0.02, why: 'same' });
      expectWithin(line.gdM3, 16e-6, ripple, `Gd at w ${waviness}`);
      if (waviness === 2) expectWithin(line.gdAtWaviness2M3, 16e-6, { rel: 0.01, why: 'sums for integrals' });
    }
  });

  it('refuses a line through less than three bands', () => {
    expect(() => profileRoughness(new Float64Array(500), 0.01)).toThrow(/3 bands from 0.011 to 2.83/);
    // Readings every 2 m hold no wave shorter than 4 m.
    expect(() => profileRoughness(new Float64Array(10), 2)).toThrow(/3 bands from 0.011 to 2.83/);
  });

  // Synthesis by cosines of fixed size (public code on ISO 8608).
  it('makes profiles whose RMS is that of the band they were made of', () => {
    const range = { fromCyclesPerM: 0.5, toCyclesPerM: 20 };
    for (const waviness of [1.5, 2, 3]) {
      const profile = madeUpProfile({
        seed: 8,
        gdM3: 16e-6,
        waviness,
        points: 2 ** 16,
        spacingM: 0.005,
        ...range,
      });
      const sums = { rel: 0.005, why: 'steps of 0.003 cycles/m at the lower end' };
      expectWithin(rms(profile), bandRmsM(16e-6, 0.5, 20, waviness), sums, `w ${waviness}`);
    }
  });

  // Own derivations, joined: one made-up road, and every bridge back to the Gd it was made of.
  it('finds the same Gd in floor flatness, in the pitch of a deck and in the spectrum of a made-up floor', () => {
    const wheelbaseM = 0.6096;
    // Readings of the survey and the wheelbase fall on points of the profile.
    const spacingM = 0.3048 / 30;
    for (const gdM3 of [16e-6, 1e-6]) {
      const height = madeUpProfile({ seed: 5, gdM3, points: 2 ** 15, spacingM });
      const at = (i: number): number => height[i % height.length];
      const curvature = height.map((z, i) => at(i + 60) - 2 * at(i + 30) + z);
      const flatness = 0.116078 / (3 * rms(curvature));
      const missing = 'waves below 20 mm and above the length of the profile are missing';
      expectWithin(flatness, flatnessFF(gdM3), { rel: 0.01, why: missing });

      const pitch = height.map((z, i) => (at(i + 60) - z) / wheelbaseM);
      const allWaves = Math.PI * 0.1 * Math.sqrt((2 * gdM3) / wheelbaseM);
      expectWithin(rms(pitch), allWaves, { rel: 0.02, why: missing });

      const line = profileRoughness(height, spacingM);
      expectWithin(Math.log(line.gdAtWaviness2M3 / gdM3), 0, { abs: 0.12, why: 'bands of few bins at 50 m' });
      expect(surfaceClass(line.gdAtWaviness2M3).name).toBe(surfaceClass(gdM3).name);
      expectWithin(line.waviness, 2, { abs: 0.1, why: 'same' });
    }
  });

  // Own derivation: step from frame to frame of the picture, and with the blur of the exposure.
  it('gives the picture jump from frame to frame that a floor makes (bridge-interframe-rms)', () => {
    const { inputs, expected } = workedCase<
      {
        case: string;
        Gd_n0: number;
        L_m: number;
        v_mps: number;
        fps: number;
        exposure_s: number;
        px_rms_interframe_f1600: number;
        with_exposure_average: number;
      }[],
      { n_low: number; n_high: number; f_px: number }
    >('bridge-interframe-rms');
    const steps = 20_000;
    const dn = (inputs.n_high - inputs.n_low) / steps;
    for (const one of expected) {
      const dolly = { wheelbaseM: one.L_m, trackWidthM: null };
      let jump = 0;
      let blurred = 0;
      for (let i = 0; i < steps; i++) {
        const n = inputs.n_low + (i + 0.5) * dn;
        const freqHz = n * one.v_mps;
        const power = displacementPsd(one.Gd_n0, n) * deckPowerGain('pitch', n, dolly) * dn;
        const step = power * (2 * Math.sin((Math.PI * freqHz) / one.fps)) ** 2;
        jump += step;
        blurred += step * exposureGain(freqHz, one.exposure_s) ** 2;
      }
      const quadrature = { rel: 1e-5, why: 'midpoint rule, 0.001 cycles/m a step' };
      expectWithin(inputs.f_px * Math.sqrt(jump), one.px_rms_interframe_f1600, quadrature, one.case);
      expectWithin(inputs.f_px * Math.sqrt(blurred), one.with_exposure_average, quadrature, one.case);
    }
  });
});

// The standard smooths the spectrum of metres of road; a pass fits a likelihood to decimetres of it.
describe('a class fitted to a test pass', () => {
  it.each([16e-6, 1e-6])('agrees with the smoothed spectrum of the whole floor, Gd %d m^3', (gdM3) => {
    const { deck, tracks, spacingM } = madeUpDeck({ seed: 21, gdM3, speedMps: 0.5, durationS: 40 });
    const ofTracks = [tracks.left, tracks.right].map((t) => profileRoughness(t, spacingM).gdAtWaviness2M3);
    const standardM3 = (ofTracks[0] + ofTracks[1]) / 2;
    const fittedM3 = fitPass(deck).masked.fit.gdM3;
    expectWithin(Math.log(standardM3 / gdM3), 0, { abs: 0.5, why: '20 m hold few waves of metres' });
    expectWithin(Math.log(fittedM3 / gdM3), 0, { abs: 0.2, why: 'three sd of the fit' });
  });
});
