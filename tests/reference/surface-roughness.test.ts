/** Road-profile forms, classes and wheelbase gains against published tables and computed cases (worked.json, case named in each title). */
import { describe, expect, it } from 'vitest';
import {
  bandRmsM,
  deckPowerGain,
  displacementPsd,
  flatnessFF,
  heightPsdInTime,
  surfaceClass,
} from '../../src/surface/index.js';
import { expectWithin } from '../support/expect-within.js';
import worked from './worked.json' with { type: 'json' };

const TABLE = { rel: 1e-3, why: 'the table of the standard has three digits' };
const COMPUTED = { rel: 1e-6, why: 'closed form checked by quadrature, printed to 7 digits' };

interface Case {
  readonly id: string;
  readonly inputs: unknown;
  readonly expected: unknown;
}

function caseOf<Inputs, Expected>(id: string): { inputs: Inputs; expected: Expected } {
  const found = (worked.cases as readonly Case[]).find((one) => one.id === id);
  if (!found) throw new Error(`no case ${id}`);
  return found as { inputs: Inputs; expected: Expected };
}

describe('roughness of a surface against its sources', () => {
  // ISO 8608:2016, geometric means and limits as used in public code; each class four times the one before.
  it('names the classes and limits of ISO 8608 (iso8608-class-table)', () => {
    const { expected } = caseOf<
      unknown,
      Record<string, { lower: number | null; mean: number; upper: number | null }>
    >('iso8608-class-table');
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
    const { inputs, expected } = caseOf<{ Gd_n0: number[] }, string[]>('iso8608-class-edge');
    inputs.Gd_n0.forEach((gd, i) => expect(surfaceClass(gd).name.charAt(0)).toBe(expected[i]));
  });

  // The angular form Gd(Omega0) of class A is about 1e-6: taken for Gd(n0) by mistake in public code.
  it('reads 1e-6 as Gd at 0.1 cycles per metre, not as the angular form of class A (iso8608-forms)', () => {
    const { expected } = caseOf<unknown, { Gd_Omega0_1radpm: number }>('iso8608-forms');
    const wavenumberOf1RadPerM = 1 / (2 * Math.PI);
    const angular = displacementPsd(16e-6, wavenumberOf1RadPerM) / (2 * Math.PI);
    expectWithin(angular, expected.Gd_Omega0_1radpm, COMPUTED);
    expect(surfaceClass(1e-6).name).toBe('A-2');
  });

  it('gives the displacement density in space and in time (iso8608-forms)', () => {
    const { expected } = caseOf<unknown, { Gd_at_n_0p5: number; G_f_at_10Hz_v0p5: number }>('iso8608-forms');
    expectWithin(displacementPsd(16e-6, 0.5), expected.Gd_at_n_0p5, COMPUTED);
    expectWithin(heightPsdInTime(16e-6, 10, 0.5), expected.G_f_at_10Hz_v0p5, COMPUTED);
  });

  it('integrates the density over a band (iso8608-band-rms)', () => {
    const { expected } = caseOf<
      unknown,
      { case: string; Gd_n0: number; n_low: number; n_high: number; w: number; rms_mm: number }[]
    >('iso8608-band-rms');
    expect(expected.length).toBeGreaterThan(5);
    for (const one of expected) {
      const rmsMm = 1000 * bandRmsM(one.Gd_n0, one.n_low, one.n_high, one.w);
      expectWithin(rmsMm, one.rms_mm, COMPUTED, one.case);
    }
  });

  // Own derivation; the constant 116.078 mm of ASTM E1155 is from memory.
  it('bridges roughness and floor flatness (bridge-FF-ISO8608)', () => {
    const { expected } = caseOf<
      unknown,
      {
        FF_classA_mean: number;
        FF_classA_upper: number;
        FF_classB_mean: number;
        G0_for_FF: Record<string, number>;
      }
    >('bridge-FF-ISO8608');
    expectWithin(flatnessFF(16e-6), expected.FF_classA_mean, COMPUTED);
    expectWithin(flatnessFF(32e-6), expected.FF_classA_upper, COMPUTED);
    expectWithin(flatnessFF(64e-6), expected.FF_classB_mean, COMPUTED);
    for (const [ff, gd] of Object.entries(expected.G0_for_FF))
      expectWithin(flatnessFF(gd), Number(ff), COMPUTED);
  });

  it('turns waves into heave and pitch of a rigid deck (wheelbase-filter)', () => {
    const { inputs, expected } = caseOf<
      { L_m: number },
      { wavelength_m: number; heave: number; pitch_rad_per_m: number }[]
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
    const { expected } = caseOf<
      unknown,
      { case: string; Gd_n0: number; L_m: number; pitch_rms_mrad_0p2_to_20: number }[]
    >('bridge-pitch-rms');
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
});
