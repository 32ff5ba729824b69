import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  emptyRows,
  gaussianRandom,
  leastAbsolute,
  median,
  seededRandom,
  type SparseRows,
} from '../../src/numerics/index.js';
import { bandedCholeskyInPlace, bandedSolveInPlace } from '../../src/numerics/banded-cholesky.js';
import { expectWithin } from '../support/expect-within.js';

const GAP = { rel: 1e-6, abs: 1e-8, why: 'the method stops at a gap of 1e-7' };
const seeds = fc.integer({ min: 0, max: 1e6 });

/** Rows from plain lists of [column, coefficient] and a right-hand side. */
function rowsOf(rows: readonly (readonly [readonly (readonly [number, number])[], number])[]): SparseRows {
  const perRow = Math.max(1, ...rows.map(([entries]) => entries.length));
  const out = emptyRows(rows.length, perRow);
  rows.forEach(([entries, right], r) => {
    for (let k = 0; k < perRow; k++) {
      const [column, coefficient] = entries[k] ?? [entries[0][0], 0];
      out.columns[r * perRow + k] = column;
      out.coefficients[r * perRow + k] = coefficient;
    }
    out.right[r] = right;
  });
  return out;
}
const none = emptyRows(0, 1);

describe('least sums of absolute values', () => {
  it('put one unknown at the median of its wishes', () => {
    fc.assert(
      fc.property(seeds, fc.integer({ min: 1, max: 20 }), (seed, half) => {
        const wishes = Float64Array.from({ length: 2 * half + 1 }, gaussianRandom(seededRandom(seed)));
        const terms = rowsOf([...wishes].map((wish) => [[[0, 1]], wish] as const));
        const { x, converged } = leastAbsolute(terms, none, Float64Array.of(0));
        expect(converged).toBe(true);
        expectWithin(x[0], median(wishes), { abs: 1e-5, why: 'gap over the slope of the sum' });
      }),
      { seed: 223, numRuns: 40 },
    );
  });

  it('weigh the wishes', () => {
    const terms = rowsOf([
      [[[0, 1]], 0],
      [[[0, 3]], 3 * 7],
      [[[0, 1]], 10],
    ]);
    const { x, objective } = leastAbsolute(terms, none, Float64Array.of(100));
    expectWithin(x[0], 7, GAP);
    expectWithin(objective, 7 + 3, GAP);
  });

  it('stop at a limit that stands before the best', () => {
    const { x, objective, violation } = leastAbsolute(
      rowsOf([
        [[[0, 1]], 5],
        [
          [
            [0, 1],
            [1, -1],
          ],
          0,
        ],
      ]),
      rowsOf([[[[1, 2]], 4]]),
      Float64Array.of(0, 0),
    );
    // x1 <= 2: x0 may stay at 2 or go to 5, the sum is 3 anywhere between.
    expectWithin(objective, 3, GAP);
    expect(violation).toBeLessThanOrEqual(1e-8);
    expect(x[1]).toBeLessThanOrEqual(2 + 1e-8);
  });

  it('reach zero where everything can be had, without limits and with wide ones', () => {
    const { terms } = noisyLine(40, 1);
    const wide = rowsOf(Array.from({ length: 40 }, (_, t) => [[[t, 1]], 1e3] as const));
    for (const limits of [none, wide]) {
      const { objective, converged } = leastAbsolute(terms, limits, new Float64Array(40));
      expect(converged).toBe(true);
      expectWithin(objective, 0, { abs: 1e-6, why: '1e-10 of the sum at the start' });
    }
  });

  it('have no better neighbour within the limits', () => {
    fc.assert(
      fc.property(seeds, fc.integer({ min: 2, max: 30 }), (seed, n) => {
        const { terms, limits } = noisyLine(n, seed);
        const solved = leastAbsolute(terms, limits, new Float64Array(n));
        expect(solved.converged).toBe(true);
        const next = gaussianRandom(seededRandom(seed + 1));
        for (let trial = 0; trial < 30; trial++) {
          const near = solved.x.map((v, t) => clamp(v + 0.05 * next(), limits.right[2 * t]));
          expect(sumAt(terms, near)).toBeGreaterThanOrEqual(solved.objective - solved.gap - 1e-9);
        }
      }),
      { seed: 224, numRuns: 30 },
    );
  });

  it('do not depend on where the search starts, nor on units', () => {
    const { terms, limits } = noisyLine(60, 3);
    const from = (value: number): number =>
      leastAbsolute(terms, limits, new Float64Array(60).fill(value)).objective;
    expectWithin(from(50), from(0), GAP);
    const scaled = (rows: SparseRows, s: number): SparseRows => ({
      ...rows,
      right: rows.right.map((v) => s * v),
    });
    for (const s of [1e-4, 1e4]) {
      const { objective } = leastAbsolute(scaled(terms, s), scaled(limits, s), new Float64Array(60));
      expectWithin(objective / s, from(0), GAP);
    }
  });

  it('give the same bits twice and leave their input as it was', () => {
    const { terms, limits } = noisyLine(50, 4);
    const start = new Float64Array(50);
    const copy = structuredClone({ terms, limits, start });
    const first = leastAbsolute(terms, limits, start);
    expect(leastAbsolute(terms, limits, start)).toEqual(first);
    expect({ terms, limits, start }).toEqual(copy);
  });

  it('stay numbers at the edge: limits without room, nothing to make small, an unknown that nothing holds', () => {
    const tight = rowsOf([
      [[[0, 1]], 2],
      [[[0, -1]], -2],
    ]);
    const pinned = leastAbsolute(rowsOf([[[[0, 1]], 5]]), tight, Float64Array.of(0));
    expectWithin(pinned.x[0], 2, { abs: 1e-6, why: 'the two limits leave one point' });
    const nothing = leastAbsolute(none, rowsOf([[[[0, 1]], 2]]), Float64Array.of(0, 7));
    expect(nothing.objective).toBe(0);
    expect([...nothing.x].every(Number.isFinite)).toBe(true);
    const loose = leastAbsolute(rowsOf([[[[0, 1]], 5]]), none, Float64Array.of(0, 7));
    expectWithin(loose.x[0], 5, GAP);
    expect(loose.x[1]).toBe(7);
  });

  it('say so when limits contradict each other', () => {
    const contradiction = rowsOf([
      [[[0, 1]], -1],
      [[[0, -1]], -1],
    ]);
    const { converged, violation } = leastAbsolute(
      rowsOf([[[[0, 1]], 0]]),
      contradiction,
      Float64Array.of(0),
    );
    expect(converged).toBe(false);
    expect(violation).toBeGreaterThan(0.9);
  });

  it('refuse what is no number', () => {
    const broken = rowsOf([[[[0, 1]], NaN]]);
    expect(() => leastAbsolute(broken, none, Float64Array.of(0))).toThrow(RangeError);
    expect(() => leastAbsolute(none, broken, Float64Array.of(0))).toThrow('limits must be finite, got NaN');
  });
});

describe('banded systems', () => {
  it('are solved as their dense reading says', () => {
    fc.assert(
      fc.property(seeds, fc.integer({ min: 1, max: 25 }), fc.integer({ min: 0, max: 6 }), (seed, n, half) => {
        const next = gaussianRandom(seededRandom(seed));
        const band = Float64Array.from({ length: n * (half + 1) }, next);
        for (let i = 0; i < n; i++) band[i * (half + 1)] = 2 * half + 4 + Math.abs(next());
        const x = Float64Array.from({ length: n }, next);
        const b = new Float64Array(n);
        for (let i = 0; i < n; i++) {
          b[i] += band[i * (half + 1)] * x[i];
          for (let k = 1; k <= Math.min(half, i); k++) {
            b[i] += band[i * (half + 1) + k] * x[i - k];
            b[i - k] += band[i * (half + 1) + k] * x[i];
          }
        }
        bandedCholeskyInPlace(band, half);
        bandedSolveInPlace(band, half, b);
        b.forEach((value, i) =>
          expectWithin(value, x[i], { abs: 1e-11, why: 'rounding; the diagonal outweighs the rest' }),
        );
      }),
      { seed: 225 },
    );
  });

  it('leave an unknown alone that they do not hold', () => {
    const band = Float64Array.of(4, 0, 0, 0, 9, 0); // diagonal 4, 0, 9 with half bandwidth 1
    const x = Float64Array.of(8, 5, 27);
    bandedCholeskyInPlace(band, 1);
    bandedSolveInPlace(band, 1, x);
    expect([...x]).toEqual([2, 0, 3]);
  });
});

/** Second differences of a noisy line to be made small, each unknown within a limit of its own to both sides. */
function noisyLine(n: number, seed: number): { terms: SparseRows; limits: SparseRows } {
  const next = gaussianRandom(seededRandom(seed));
  const line = Float64Array.from({ length: n }, (_, t) => 0.3 * t + next());
  const differences = Array.from({ length: Math.max(0, n - 2) }, (_, t) => {
    const entries = [[t, 1] as const, [t + 1, -2] as const, [t + 2, 1] as const];
    return [entries, entries.reduce((sum, [column, c]) => sum + c * line[column], 0)] as const;
  });
  const limits = Array.from({ length: n }, () => 0.2 + Math.abs(next())).flatMap((width, t) => [
    [[[t, 1] as const], width] as const,
    [[[t, -1] as const], width] as const,
  ]);
  return { terms: rowsOf(differences), limits: rowsOf(limits) };
}

function sumAt({ perRow, columns, coefficients, right }: SparseRows, x: Float64Array): number {
  return right.reduce((total, d, r) => {
    let residual = -d;
    for (let at = r * perRow; at < (r + 1) * perRow; at++) residual += coefficients[at] * x[columns[at]];
    return total + Math.abs(residual);
  }, 0);
}

const clamp = (value: number, width: number): number => Math.max(-width, Math.min(width, value));
