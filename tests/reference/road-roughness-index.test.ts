/**
 * The quarter car of the International Roughness Index on profiles that we make, against its published matrices and computed cases
 * (worked.json, case named in each title): a check of profiles, their slopes and their resampling.
 */
import { describe, expect, it } from 'vitest';
import { mean, resampleEven } from '../../src/numerics/index.js';
import { displacementPsd } from '../../src/surface/index.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpProfile } from '../support/made-up-profile.js';
import { quarterCarGain, quarterCarResponse, quarterCarStep } from '../support/quarter-car.js';
import { workedCase } from '../support/worked-case.js';

const SPACING_M = 0.25;
const sine = (wavelengthM: number) => (x: number) => Math.sin((2 * Math.PI * x) / wavelengthM);

describe('quarter car of the International Roughness Index', () => {
  // Sayers et al., World Bank Technical Paper 46 (1986), as read in public code (Sroubek, Sorel, Zak 2021, MIT).
  it('steps by the published matrices (iri-state-matrix)', () => {
    const { expected } = workedCase<{
      S: number[][];
      P: number[];
      published_S: number[][];
      published_P: number[];
    }>('iri-state-matrix');
    const { s, p } = quarterCarStep(SPACING_M);
    const own = { rel: 1e-7, why: 'both are the exact exponential, printed to 8 digits' };
    const printed = { abs: 2e-5, rel: 2e-5, why: 'printed to 7 digits; the last of P differ by 1.8e-5' };
    for (let i = 0; i < 4; i++) {
      for (let j = 0; j < 4; j++) {
        expectWithin(s[i][j], expected.S[i][j], own, `S ${i} ${j}`);
        expectWithin(s[i][j], expected.published_S[i][j], printed, `published S ${i} ${j}`);
      }
      expectWithin(p[i], expected.P[i], own, `P ${i}`);
      expectWithin(p[i], expected.published_P[i], printed, `published P ${i}`);
    }
  });

  it('answers to sines by the gains of its equation (iri-sine-steady)', () => {
    const { expected } =
      workedCase<
        { wavelength_m: number; gain: number; gain_with_250mm_average: number; IRI_for_A_1mm: number }[]
      >('iri-sine-steady');
    expect(expected.length).toBeGreaterThan(10);
    const digits = { rel: 1e-6, why: 'printed to 8 digits' };
    for (const one of expected) {
      const { wavelength_m: wavelengthM } = one;
      const angle = (Math.PI * SPACING_M) / wavelengthM;
      const averaged = (quarterCarGain(wavelengthM) * Math.sin(angle)) / angle;
      expectWithin(quarterCarGain(wavelengthM), one.gain, digits, `gain at ${wavelengthM} m`);
      expectWithin(averaged, one.gain_with_250mm_average, digits, `averaged at ${wavelengthM} m`);
      // Mean of |sin| is 2 / pi; the slope of a 1 mm sine is 2 pi / wavelength.
      expectWithin((4 / wavelengthM) * averaged, one.IRI_for_A_1mm, digits, `index at ${wavelengthM} m`);
    }
  });

  it('answers most to waves of 2.3 and 15.8 m (iri-gain-peaks)', () => {
    const { expected } = workedCase<{ peak_wavelengths_m: number[]; peak_gains: number[] }>('iri-gain-peaks');
    const peakOf = (fromM: number, toM: number): number => {
      let best = fromM;
      for (let at = fromM; at < toM; at *= 1.0005) if (quarterCarGain(at) > quarterCarGain(best)) best = at;
      return best;
    };
    [peakOf(1.5, 4), peakOf(8, 30)].forEach((at, i) => {
      expectWithin(at, expected.peak_wavelengths_m[i], { rel: 1e-3, why: 'steps of the search' });
      expectWithin(quarterCarGain(at), expected.peak_gains[i], { rel: 1e-6, why: 'flat at the peak' });
    });
  });

  it('gives the index of sine and triangle profiles read every 0.25 m (iri-time-domain)', () => {
    const { expected } =
      workedCase<{ wavelength_m?: number; profile?: string; IRI_mm_per_m_last_200m: number }[]>(
        'iri-time-domain',
      );
    const triangle = (x: number): number => (2 / Math.PI) * Math.asin(sine(10)(x));
    for (const { wavelength_m: wavelengthM, IRI_mm_per_m_last_200m: index } of expected) {
      const shape = wavelengthM === undefined ? triangle : sine(wavelengthM);
      const heightMm = Float64Array.from({ length: 1601 }, (_, i) => shape(i * SPACING_M));
      const found = mean(quarterCarResponse(heightMm, SPACING_M).subarray(800, 1600));
      expectWithin(
        found,
        index,
        { rel: 1e-5, why: 'exact steps on both sides' },
        `${wavelengthM ?? 'triangle'}`,
      );
    }
  });

  it('reads the same index off a profile that was taken at uneven distances and brought to even ones', () => {
    // Readings 80-120 mm apart, as a dolly of uneven speed takes them.
    const at = Float64Array.from({ length: 4001 }, (_, i) => 0.1 * i + 0.02 * Math.sin(1.7 * i));
    for (const wavelengthM of [2.4, 5, 15]) {
      const even = resampleEven(at, at.map(sine(wavelengthM)), 1 / SPACING_M);
      const straight = even.timeS.map(sine(wavelengthM));
      const tail = (height: Float64Array): number =>
        mean(quarterCarResponse(height, SPACING_M).subarray(800, 1590));
      expectWithin(tail(even.values), tail(straight), {
        rel: 1e-3,
        why: 'spline between readings, 20 a wave',
      });
    }
  });

  // Own derivation: slope of a w = 2 road is white, 4 pi^2 n0^2 Gd; mean of |x| of a Gaussian is sqrt(2 / pi) of its RMS.
  it('gives the index that a class A road has by its density, on a profile made to that density', () => {
    const gdM3 = 16e-6;
    const range = { fromCyclesPerM: 1 / 50, toCyclesPerM: 1 / 1 };
    const step = 1 / 2000;
    let power = 0;
    for (let n = range.fromCyclesPerM + step / 2; n < range.toCyclesPerM; n += step)
      power += (2 * Math.PI * n) ** 2 * displacementPsd(gdM3, n) * quarterCarGain(1 / n) ** 2 * step;
    const byDensity = 1000 * Math.sqrt((2 / Math.PI) * power);
    const heightM = madeUpProfile({ seed: 3, gdM3, points: 2 ** 16, spacingM: 0.05, ...range });
    const byProfile = 1000 * mean(quarterCarResponse(heightM, 0.05).subarray(2000));
    expectWithin(byProfile, byDensity, { rel: 0.02, why: 'mean of |x| over 3 km of one road' });
    expectWithin(byDensity, 2.0, { abs: 0.3, why: 'class A mean roads lie near 2 mm/m (from memory)' });
  });
});
