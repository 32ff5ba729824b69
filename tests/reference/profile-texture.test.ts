/** The Gaussian profile filter and height parameters against published and computed cases (worked.json, case named in each title). */
import { describe, expect, it } from 'vitest';
import {
  GAUSSIAN_ALPHA,
  gaussianMeanLine,
  gaussianTransmission,
  gaussianWeight,
  heightParameters,
} from '../../src/surface/grades/texture.js';
import { expectWithin } from '../support/expect-within.js';
import { workedCase } from '../support/worked-case.js';

const DIGITS = { rel: 1e-8, why: 'closed form, printed to 10 digits' };

interface FilterCase {
  readonly alpha: number;
  readonly lowpass: Record<string, number>;
  readonly kernel_at: Record<string, number>;
}

describe('profile texture against its sources', () => {
  // ISO 16610-21:2011; alpha, the half at the cut-off and the transmission were read in a profilometer's manual and on a help page.
  it('has the weights of the Gaussian profile filter (gaussian-profile-filter)', () => {
    const { expected } = workedCase<FilterCase>('gaussian-profile-filter');
    expectWithin(GAUSSIAN_ALPHA, expected.alpha, DIGITS);
    for (const [distance, weight] of Object.entries(expected.kernel_at))
      expectWithin(gaussianWeight(Number(distance), 1), weight, DIGITS, `weight at ${distance} lc`);
  });

  it('passes waves as ISO 16610-21 says, by formula and when it filters (gaussian-profile-filter)', () => {
    const { expected } = workedCase<FilterCase>('gaussian-profile-filter');
    const stepM = 0.01;
    const cut = { abs: 2e-6, why: 'weights beyond one cut-off are left out: 1e-7 of their sum' };
    expect(Object.keys(expected.lowpass)).toHaveLength(5);
    for (const [ratio, transmission] of Object.entries(expected.lowpass)) {
      const wavelengthM = Number(ratio);
      expectWithin(gaussianTransmission(wavelengthM, 1), transmission, DIGITS, `l / lc = ${ratio}`);
      const wave = Float64Array.from({ length: 801 }, (_, i) =>
        Math.cos((2 * Math.PI * (i - 400) * stepM) / wavelengthM),
      );
      expectWithin(gaussianMeanLine(wave, stepM, 1)[400], transmission, cut, `filtered, l / lc = ${ratio}`);
    }
  });

  // Closed forms over whole periods; no filter.
  it('gives Ra, Rq and Rz of a sine and a triangle (sine-Ra-Rq-Rz)', () => {
    const { expected } = workedCase<{
      Ra: number;
      Rq: number;
      Rz: number;
      triangle_Ra: number;
      triangle_Rq: number;
    }>('sine-Ra-Rq-Rz');
    const period = 4000;
    const phase = Float64Array.from({ length: 6 * period }, (_, i) => i / period);
    const sine = heightParameters(
      phase.map((t) => Math.sin(2 * Math.PI * t)),
      1 / period,
      1,
    );
    const sums = { rel: 1e-6, why: 'sums over 4000 points a period for integrals' };
    expectWithin(sine.raM, expected.Ra, sums);
    expectWithin(sine.rqM, expected.Rq, sums);
    expectWithin(sine.rzM ?? NaN, expected.Rz, sums);
    expect(sine.sections).toBe(5);
    const triangle = heightParameters(
      phase.map((t) => 1 - 4 * Math.abs((t % 1) - 0.5)),
      1 / period,
      1,
    );
    expectWithin(triangle.raM, expected.triangle_Ra, sums);
    expectWithin(triangle.rqM, expected.triangle_Rq, sums);
  });
});
