/** A line that stands 30 times above the floor in one resolution cell is found, at its frequency and with its size, in 10 s. Simulated. */
import { beforeAll, describe, expect, it } from 'vitest';
import { expectWithin } from '../../support/expect-within.js';
import { lineFigures, lineTrials, type LineFigures } from '../support/line-trials.js';

const DURATION_S = 10;
const STRENGTH = 30;
const PASSES = 60;

describe.each(['tilt', 'roll', 'vertical'] as const)('a line of strength 30 on %s', (axis) => {
  let seen: LineFigures;
  beforeAll(() => {
    const trials = [0.2, 0.5].flatMap((speedMps) => lineTrials(axis, STRENGTH, PASSES, { speedMps }));
    seen = lineFigures(trials, STRENGTH, DURATION_S);
  }, 60_000);

  it('is found in 9 of 10 passes', () => {
    expect(seen.found).toBeGreaterThanOrEqual(0.9);
  });

  it('is found at its frequency, within 1 / (T sqrt rho) in 95 of 100', () => {
    // To two deviations of about 110 passes.
    expect(seen.near).toBeGreaterThanOrEqual(0.95 - 2 * Math.sqrt((0.95 * 0.05) / seen.count));
  });

  it('is told with its size: no bias beyond 3 per cent, scatter within 1 / sqrt rho, and the deviation that it states', () => {
    // Lines that chance made small are not found at all: that, and the mean of about 110 passes, is allowed for.
    expectWithin(seen.bias, 0, { abs: 0.03 + (2 * seen.spread) / Math.sqrt(seen.count) });
    expect(seen.spread).toBeLessThanOrEqual(1 / Math.sqrt(STRENGTH));
    expect(seen.covered).toBeGreaterThanOrEqual(0.88);
  });
});
