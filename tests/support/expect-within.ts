/** Compares numbers with a named physical tolerance, so that a failure says how far off the value is and why that matters. */
import { expect } from 'vitest';

/** Exactly one of the two: an absolute tolerance in the unit of the value, or a relative one. */
export interface Tolerance {
  readonly abs?: number;
  readonly rel?: number;
  /** Where the tolerance comes from; printed on failure. */
  readonly why?: string;
}

/** Fails unless |actual - expected| is within the tolerance; NaN never passes. */
export function expectWithin(actual: number, expected: number, tolerance: Tolerance, what = 'value'): void {
  const allowed = Math.max(tolerance.abs ?? 0, (tolerance.rel ?? 0) * Math.abs(expected));
  const off = Math.abs(actual - expected);
  expect(
    off <= allowed,
    `${what}: got ${actual}, expected ${expected} within ${allowed} (off by ${off})${tolerance.why ? `; ${tolerance.why}` : ''}`,
  ).toBe(true);
}
