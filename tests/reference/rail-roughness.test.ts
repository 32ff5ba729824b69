/** Bands of wavelength and the rail limit against published tables and computed cases (worked.json, case named in each title). */
import { describe, expect, it } from 'vitest';
import { bandSumDb, railLimitDb } from '../../src/surface/grades/rail-limit.js';
import { bandOfIndex, bandsBetween } from '../../src/surface/grades/wavelength-bands-edges.js';
import { bandRmsM, surfaceClass } from '../../src/surface/index.js';
import { expectWithin } from '../support/expect-within.js';
import { workedCase } from '../support/worked-case.js';

interface LimitRow {
  readonly nominal_mm: number;
  readonly exact_mm: number;
  readonly edges_mm: [number, number];
  readonly L_iso3095_dB: number;
  readonly r_um: number;
  readonly equiv_Gd_n0: number;
}

const LONGEST_INDEX = 3;
const SIX_DIGITS = { rel: 1e-5, why: 'the table prints six digits' };
const decibels = (metres: number): number => 20 * Math.log10(metres / 1e-6);

describe('roughness of rails against its sources', () => {
  // Edges and centres: IEC 61260-1:2014, base ten; names: ISO 266.
  it('lays the bands where IEC 61260 has them (third-octave-bands)', () => {
    const { expected } =
      workedCase<{ k: number; nominal: string; exact: number; lower: number; upper: number }[]>(
        'third-octave-bands',
      );
    expect(expected.length).toBeGreaterThan(20);
    for (const { k, nominal, exact, lower, upper } of expected) {
      // Read as wavelengths in metres: edges as wavenumbers are the inverse.
      const band = bandOfIndex(k);
      expect(band.nominalM).toBe(Number(nominal));
      expectWithin(band.centreM, exact, { rel: 1e-7 }, `centre ${k}`);
      expectWithin(1 / band.toCyclesPerM, lower, { rel: 1e-7 }, `shorter edge ${k}`);
      expectWithin(1 / band.fromCyclesPerM, upper, { rel: 1e-7 }, `longer edge ${k}`);
    }
  });

  it('takes only whole bands between two wavelengths, the longest first', () => {
    const names = (shortestM: number, longestM: number): number[] =>
      bandsBetween(shortestM, longestM).map(({ nominalM }) => nominalM);
    expect(names(0.016, 0.25)).toEqual([0.2, 0.16, 0.125, 0.1, 0.08, 0.063, 0.05, 0.04, 0.0315, 0.025, 0.02]);
    // On the very edge of a band it is still whole; a hair inside it is not.
    expect(names(10 ** -1.05, 10 ** -0.95)).toEqual([0.1]);
    expect(names(10 ** -1.05, 0.999 * 10 ** -0.95)).toEqual([]);
    expect(names(0.5, 0.1)).toEqual([]);
  });

  // EN ISO 3095:2013 as tabled for CNOSSOS-EU; the first rows also read in Directive (EU) 2015/996, which prints an older edition.
  it('holds the limit of every band from 2 m to 0.8 mm (iso3095-limit-spectrum)', () => {
    const { expected } = workedCase<LimitRow[]>('iso3095-limit-spectrum');
    expect(expected).toHaveLength(35);
    expected.forEach((row, i) => {
      const { index, nominalM, centreM, fromCyclesPerM, toCyclesPerM } = bandOfIndex(LONGEST_INDEX - i);
      expectWithin(1000 * nominalM, row.nominal_mm, { rel: 1e-12 });
      expectWithin(1000 * centreM, row.exact_mm, SIX_DIGITS);
      expectWithin(1000 / toCyclesPerM, row.edges_mm[0], SIX_DIGITS);
      expectWithin(1000 / fromCyclesPerM, row.edges_mm[1], SIX_DIGITS);
      expect(railLimitDb(index)).toBe(row.L_iso3095_dB);
      expectWithin(10 ** (row.L_iso3095_dB / 20), row.r_um, {
        rel: 1e-4,
        why: 'the table prints five digits',
      });
    });
    expect(railLimitDb(LONGEST_INDEX + 1)).toBeNull();
    expect(railLimitDb(LONGEST_INDEX - 35)).toBeNull();
  });

  it('has 17.1 dB from 1000 to 400 mm, where the directive of 2015 printed 11.0 dB of an older edition', () => {
    for (const index of [0, -1, -2, -3, -4]) expect(railLimitDb(index)).toBe(17.1);
  });

  it('sums bands by power (iso3095-band-sum)', () => {
    const { inputs, expected } = workedCase<
      { total_um: number; total_dB: number },
      { bands_mm: number[]; levels_dB: number[] }
    >('iso3095-band-sum');
    const levels = inputs.levels_dB.map((_, i) => railLimitDb(-4 - i) ?? NaN);
    expect(levels).toEqual(inputs.levels_dB);
    expectWithin(bandSumDb(levels), expected.total_dB, { rel: 1e-6 });
    expectWithin(10 ** (bandSumDb(levels) / 20), expected.total_um, { rel: 1e-6 });
  });

  // Own bridge: a w = 2 floor has r^2 = Gd n0^2 (width of the band in metres of wavelength).
  it('puts the limit at 100 mm five classes below A (iso3095-limit-spectrum)', () => {
    const { expected } = workedCase<LimitRow[]>('iso3095-limit-spectrum');
    expected.forEach((row, i) => {
      const { index, fromCyclesPerM, toCyclesPerM } = bandOfIndex(LONGEST_INDEX - i);
      const unitM = bandRmsM(1, fromCyclesPerM, toCyclesPerM);
      const gdM3 = ((10 ** (row.L_iso3095_dB / 20) * 1e-6) / unitM) ** 2;
      expectWithin(gdM3, row.equiv_Gd_n0, { rel: 1e-3, why: 'the table prints four digits' });
      if (index === -10) {
        expectWithin(gdM3, 1.339e-8, { rel: 1e-3 });
        expect(surfaceClass(gdM3).name).toBe('A-5');
      }
    });
  });

  it('puts a class A road 31 dB over it (third-octave-level-of-w2)', () => {
    const { expected } = workedCase<{ rms_mm: number; level_dB_re_1um: number }>('third-octave-level-of-w2');
    const { fromCyclesPerM, toCyclesPerM } = bandOfIndex(-10);
    const rmsM = bandRmsM(16e-6, fromCyclesPerM, toCyclesPerM);
    expectWithin(1000 * rmsM, expected.rms_mm, { rel: 1e-7 });
    expectWithin(decibels(rmsM), expected.level_dB_re_1um, { rel: 1e-7 });
    expectWithin(decibels(rmsM) - (railLimitDb(-10) ?? NaN), 30.77, { abs: 0.01 });
  });
});
