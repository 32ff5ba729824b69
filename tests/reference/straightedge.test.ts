/** Gaps under a straightedge against published limits and computed cases (worked.json, case named in each title). */
import { describe, expect, it } from 'vitest';
import { gapsUnderBar } from '../../src/surface/grades/straightedge-gap.js';
import {
  DIN_ROWS,
  dinLimitMm,
  dinLimitUnroundedMm,
  surfaceRegularity,
} from '../../src/surface/grades/straightedge-limits.js';
import { expectWithin } from '../support/expect-within.js';
import { workedCase } from '../support/worked-case.js';

describe('straightedges against their sources', () => {
  // DIN 18202 table 3 as printed in a trade handbook and on a maker's page; row numbers of the older editions.
  it('holds the rows for floors of DIN 18202 table 3 (din18202-table3)', () => {
    const { inputs, expected } = workedCase<
      { limits_mm: Record<string, number[]>; interpolated_mm: Record<string, Record<string, number>> },
      { distance_m: number[] }
    >('din18202-table3');
    const printed = { abs: 1e-4, why: 'computed values are printed to 5 digits' };
    for (const row of DIN_ROWS) {
      const limits = expected.limits_mm[String(row)];
      inputs.distance_m.forEach((distance, i) => expect(dinLimitMm(row, distance)).toBe(limits[i]));
      for (const [distance, limit] of Object.entries(expected.interpolated_mm[String(row)])) {
        const found = dinLimitUnroundedMm(row, Number(distance));
        expectWithin(found, limit, { ...printed, rel: 5e-5 }, `row ${row} at ${distance} m`);
      }
    }
  });

  // The extended table for row 3 on a maker's page: 3, 5, 7, 11, 11 mm.
  it('rounds to the whole millimetres that a published extended table of row 3 prints', () => {
    const rounded = [0.6, 1.5, 2.5, 6, 8].map((distance) => dinLimitMm(3, distance));
    expect(rounded).toEqual([3, 5, 7, 11, 11]);
  });

  // BS 8204 as told on a page of a trade society: 3, 5, 10 mm under 2 m.
  it('holds the classes of surface regularity of BS 8204', () => {
    expect([0.003, 0.005, 0.01].map(surfaceRegularity)).toEqual(['SR1', 'SR2', 'SR3']);
    expect([0.0031, 0.0051].map(surfaceRegularity)).toEqual(['SR2', 'SR3']);
    expect(surfaceRegularity(0.0101)).toBeNull();
  });

  // Geometry: a bar as long as two waves rests on crests.
  it('finds peak to valley of a wave under a longer bar, which passes SR1 (straightedge-sine)', () => {
    const { inputs, expected } = workedCase<
      { max_gap_mm: number },
      { A_mm: number; wavelength_m: number; bar_m: number }
    >('straightedge-sine');
    const stepM = inputs.wavelength_m / 100;
    const heightM = Float64Array.from(
      { length: 600 },
      (_, i) => (inputs.A_mm / 1000) * Math.sin((2 * Math.PI * i * stepM) / inputs.wavelength_m),
    );
    const { largest } = gapsUnderBar(heightM, Math.round(inputs.bar_m / stepM));
    const exact = { rel: 1e-9, why: 'crests and valleys fall on points' };
    expectWithin(largest.gapM, expected.max_gap_mm / 1000, exact);
    expect(surfaceRegularity(largest.gapM)).toBe('SR1');
  });
});
