import { describe, expect, it } from 'vitest';
import { claimOf, designOf, type LaneSides } from '../../../src/judge/compare/design.js';
import { factorWith, neededFor } from '../../../src/judge/compare/needed-passes.js';
import {
  ratioOf,
  setupDifference,
  type DifferenceInput,
} from '../../../src/judge/compare/setup-difference.js';
import { ASSUMED_SPREADS } from '../../../src/judge/compare/types.js';
import { expectWithin } from '../../support/expect-within.js';

const A = [10, 11, 10.5].map(Math.log);
const B = [13, 12.5, 14].map(Math.log);
const KNOWN = { withinVariance: 0.0121, alikeSquared: 0.7 ** 2, spreads: ASSUMED_SPREADS };
const PRINTED = { abs: 0.00005, why: 'half of the last digit that was printed' };

const rolled = (sides: readonly LaneSides<number>[]): DifferenceInput => ({ ...KNOWN, ...designOf(sides) });
const oneLane = (a: readonly number[], b: readonly number[]): DifferenceInput =>
  rolled([{ lane: '1', a, b }]);
const pairedLanes = rolled(A.map((a, i) => ({ lane: `${i}`, a: [a], b: [B[i]] })));
const ownLanes = rolled([
  ...A.map((a, i) => ({ lane: `a${i}`, a: [a], b: [] })),
  ...B.map((b, i) => ({ lane: `b${i}`, a: [], b: [b] })),
]);

interface Printed {
  readonly ratio: number;
  readonly low: number;
  readonly high: number;
  readonly degrees: number;
  readonly p?: number;
  readonly aSmoother?: number;
}

/** Worked by hand from the formulas with SciPy 1.17 quantiles of t. */
const CASES: readonly (readonly [string, DifferenceInput, Printed])[] = [
  [
    'one lane, three passes each',
    oneLane(A, B),
    { ratio: 0.7978, low: 0.6641, high: 0.9583, degrees: 8, p: 0.02174, aSmoother: 0.9891 },
  ],
  [
    'one lane, one pass each',
    oneLane([A[0]], [B[0]]),
    { ratio: 0.7692, low: 0.4669, high: 1.2674, degrees: 4, aSmoother: 0.8908 },
  ],
  ['three lanes with both', pairedLanes, { ratio: 0.7978, low: 0.629, high: 1.0117, degrees: 6, p: 0.05889 }],
  ['three lanes each', ownLanes, { ratio: 0.7978, low: 0.502, high: 1.2678, degrees: 8, p: 0.2933 }],
];

describe('the difference of two setups', () => {
  it.each(CASES)('is as worked out by hand: %s', (_, input, printed) => {
    const found = setupDifference(input);
    const { ratio, ci95, p, aSmoother } = ratioOf(found);
    expect(found.degrees).toBe(printed.degrees);
    expectWithin(ratio, printed.ratio, PRINTED, 'ratio');
    expectWithin(ci95[0], printed.low, PRINTED, 'low end');
    expectWithin(ci95[1], printed.high, PRINTED, 'high end');
    if (printed.p !== undefined) expectWithin(p, printed.p, { abs: 0.00005, why: PRINTED.why }, 'p');
    if (printed.aSmoother !== undefined)
      expectWithin(aSmoother, printed.aSmoother, PRINTED, 'chance that A is smoother');
  });

  it('turns round when the setups are swapped', () => {
    const there = ratioOf(setupDifference(oneLane(A, B)));
    const back = ratioOf(setupDifference(oneLane(B, A)));
    expectWithin(back.ratio * there.ratio, 1, { abs: 1e-12 });
    expectWithin(back.ci95[0] * there.ci95[1], 1, { abs: 1e-12 });
    expectWithin(back.aSmoother + there.aSmoother, 1, { abs: 1e-12 });
    expectWithin(back.p, there.p, { abs: 1e-12 });
  });

  it('takes the mean of each lane first, so that the lane with more passes weighs no more', () => {
    const { difference } = setupDifference(
      rolled([
        { lane: '1', a: [0, 0, 0, 0], b: [1, 1, 1, 1] },
        { lane: '2', a: [0], b: [3] },
      ]),
    );
    expect(difference).toBe(-2);
  });

  it('counts unequal passes as 1/pA + 1/pB', () => {
    const { variance, passVariance, degrees } = setupDifference(oneLane([0], [0.1, 0.2, 0.1, 0.2]));
    expectWithin(variance, passVariance * (1 + 1 / 4), { rel: 1e-12 });
    expect(degrees).toBe(4 + 3);
  });

  it('counts unequal lanes as 1/LA + 1/LB', () => {
    const lanes = (count: number, side: 'a' | 'b'): LaneSides<number>[] =>
      Array.from({ length: count }, (_, i) => ({ lane: `${side}${i}`, a: [], b: [], [side]: [0] }));
    const { variance, degrees } = setupDifference(rolled([...lanes(2, 'a'), ...lanes(5, 'b')]));
    const one = 0.0121 * 0.51 + 0.1 ** 2;
    const prior = 0.3 ** 2 + 0.0121 + one;
    expect(degrees).toBe(4 + 5);
    expectWithin(variance, ((4 * prior) / 9) * (1 / 2 + 1 / 5), { rel: 1e-12 });
  });

  it('is not narrowed by more passes where each setup has one lane of its own', () => {
    const widths = [1, 5].map((count) => {
      const same = Array.from({ length: count }, () => 0);
      const { ci95 } = ratioOf(
        setupDifference(
          rolled([
            { lane: '1', a: same, b: [] },
            { lane: '2', a: [], b: same },
          ]),
        ),
      );
      return Math.log(ci95[1]);
    });
    // What is left of the pass itself: 0.3^2 + 0.0121 of lane and length do not shrink.
    expect(widths[1]).toBeGreaterThan(0.9 * widths[0]);
  });

  it('adds variance from elsewhere in full', () => {
    const input = oneLane(A, B);
    const { variance } = setupDifference(input);
    expectWithin(setupDifference({ ...input, addedVariance: 0.01 }).variance, variance + 0.01, {
      rel: 1e-12,
    });
  });

  it('refuses sides without a pass, and data and priors without a degree of freedom', () => {
    expect(() => setupDifference(oneLane([1], []))).toThrow(RangeError);
    const without = { ...oneLane([1], [2]), spreads: { ...ASSUMED_SPREADS, degrees: 0 } };
    expect(() => setupDifference(without)).toThrow(/degree/);
  });
});

describe('the design', () => {
  it('counts only lanes that both setups ran on where there is one, and names the others', () => {
    const { design, lanes, leftOut } = designOf([
      { lane: '1', a: [1], b: [2] },
      { lane: '2', a: [1], b: [] },
    ]);
    expect({ design, lanes: lanes.map(({ lane }) => lane), leftOut }).toEqual({
      design: 'oneLane',
      lanes: ['1'],
      leftOut: ['2'],
    });
  });

  it('claims nothing from a lane each, however many passes', () => {
    const each = [1, 2, 3];
    const single = designOf([
      { lane: '1', a: each, b: [] },
      { lane: '2', a: [], b: each },
    ]);
    expect(claimOf(single)).toBe('nothing');
    const several = designOf([...ownLanes.lanes]);
    expect(claimOf(several)).toBe('floorsLikeThese');
    expect(claimOf(designOf([{ lane: '1', a: each, b: each }]))).toBe('thisLane');
  });
});

describe('what would decide', () => {
  it('is the smallest number of passes by which 20 % would show', () => {
    const input = oneLane([A[0]], [B[0]]);
    const found = setupDifference(input);
    const needed = neededFor(input, found);
    // (t.975,df + 0.84) sqrt(2 s2 / p) with s2 = 0.016171 and df = 4 + 2 (p - 1): 0.1870 at p = 8, 0.1754 at p = 9; ln 1.2 = 0.1823.
    expect(needed).toEqual({ of: 'passes', count: 9 });
  });

  it('says how far the range would reach with one repeat of each', () => {
    const input = oneLane([A[0]], [B[0]]);
    const found = setupDifference(input);
    expectWithin(factorWith(input, found, 1), Math.sqrt(1.2674 / 0.4669), { rel: 1e-4 });
    // t.975,6 = 2.4469 times sqrt(0.016171).
    expectWithin(factorWith(input, found, 2), Math.exp(2.4469 * Math.sqrt(0.016171)), { rel: 1e-4 });
  });

  it('asks for lanes where lanes are the unit, and for nothing where noise alone is in the way', () => {
    expect(neededFor(pairedLanes, setupDifference(pairedLanes))?.of).toBe('lanes');
    const noisy = { ...oneLane(A, B), addedVariance: 0.05 };
    expect(neededFor(noisy, setupDifference(noisy))).toBeNull();
  });
});
