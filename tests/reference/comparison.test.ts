/** Comparing setups against published values: Student's t, Holm's correction, and the t tests that are left where nothing is assumed. */
import { describe, expect, it } from 'vitest';
import { designOf, type LaneSides } from '../../src/judge/compare/design.js';
import { holm } from '../../src/judge/compare/holm.js';
import { ratioOf, setupDifference } from '../../src/judge/compare/setup-difference.js';
import { ASSUMED_SPREADS } from '../../src/judge/compare/types.js';
import { studentCdf, studentQuantile } from '../../src/numerics/index.js';
import { expectWithin } from '../support/expect-within.js';

describe("Student's t", () => {
  // Table of the t distribution as any handbook prints it, such as NIST/SEMATECH e-Handbook 1.3.6.7.2 [from memory].
  it.each([
    [1, 12.706],
    [2, 4.303],
    [4, 2.776],
    [6, 2.447],
    [8, 2.306],
    [10, 2.228],
    [30, 2.042],
  ])('reaches 97.5 %% at the printed value for %d degrees', (degrees, printed) => {
    expectWithin(studentQuantile(0.975, degrees), printed, { abs: 0.0005, why: 'half of the last digit' });
  });

  // scipy.stats.t.cdf, SciPy 1.17.1.
  it.each([
    [-2.5, 4, 0.03338327240599407],
    [0.5, 1, 0.6475836176504333],
    [3.2, 8.5, 0.9941724700602567],
    [-12, 6, 1.0153703097686596e-5],
    [1, 200, 0.8407405760451266],
    [-40, 3, 1.7190340394579253e-5],
  ])('holds at %d with %d degrees what SciPy gives', (t, degrees, chance) => {
    expectWithin(studentCdf(t, degrees), chance, { rel: 1e-9, why: 'both in double precision' });
  });
});

describe("Holm's correction", () => {
  it('keeps two of four as in the example of the encyclopaedia', () => {
    // p 0.01, 0.04, 0.03, 0.005 at 5 %: the first and the last stand (Wikipedia, "Holm-Bonferroni method" [from memory]).
    const corrected = holm([0.01, 0.04, 0.03, 0.005]);
    expect(corrected.map((p) => (p ?? 1) < 0.05)).toEqual([true, false, false, true]);
    // The adjusted values, as R's p.adjust(method = "holm") prints them [from memory]: 0.03 0.06 0.06 0.02.
    [0.03, 0.06, 0.06, 0.02].forEach((p, i) => expectWithin(corrected[i] ?? NaN, p, { abs: 1e-12 }));
  });
});

describe('without a prior a comparison', () => {
  // Extra hours of sleep of ten patients under two drugs: Student 1908, Biometrika 6, 1-25; figures as R's t.test prints them
  // for its data set "sleep" [from memory], and as SciPy 1.17.1 gives them.
  const first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2];
  const second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
  const compared = (lanes: readonly LaneSides<number>[]) => {
    const spreads = { ...ASSUMED_SPREADS, degrees: 0 };
    const found = setupDifference({ ...designOf(lanes), withinVariance: 0.1, alikeSquared: 0, spreads });
    const { p, ci95 } = ratioOf(found);
    return { ...found, p, low: Math.log(ci95[0]), high: Math.log(ci95[1]) };
  };
  const PRINTED = { abs: 5e-5, why: 'half of the last digit that is printed' };

  it('of lanes with both is the paired t test', () => {
    const { difference, variance, degrees, p, low, high } = compared(
      first.map((a, i) => ({ lane: `${i}`, a: [a], b: [second[i]] })),
    );
    expect(degrees).toBe(9);
    expectWithin(difference, -1.58, { abs: 1e-12 });
    expectWithin(difference / Math.sqrt(variance), -4.0621, PRINTED);
    expectWithin(p, 0.002833, { abs: 5e-7, why: PRINTED.why });
    expectWithin(low, -2.4598858, PRINTED);
    expectWithin(high, -0.7001142, PRINTED);
  });

  const lanesEach: LaneSides<number>[] = [
    ...first.map((a, i) => ({ lane: `a${i}`, a: [a], b: [] })),
    ...second.map((b, i) => ({ lane: `b${i}`, a: [], b: [b] })),
  ];

  it.each([
    ['of lanes each', lanesEach],
    ['of passes on one lane', [{ lane: '1', a: first, b: second }]],
  ])('%s is the t test with pooled variance', (_, lanes) => {
    const { variance, difference, degrees, p, low, high } = compared(lanes);
    expect(degrees).toBe(18);
    expectWithin(difference / Math.sqrt(variance), -1.8608, PRINTED);
    expectWithin(p, 0.07919, { abs: 5e-6, why: PRINTED.why });
    expectWithin(low, -3.363874, PRINTED);
    expectWithin(high, 0.203874, PRINTED);
  });
});
