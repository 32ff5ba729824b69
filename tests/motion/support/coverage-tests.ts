/** The promise of the stated intervals and bounds as tests; in files of their own by lens, so that two cores share the work. */
import { describe, expect, it } from 'vitest';
import { AXES } from '../../../src/run/index.js';
import { coverageOf, share } from './coverage.js';

/** Tests that the 95 % intervals and the bounds hold the true vibration about that often, over passes number from..to-1. */
export function testCoverage(
  title: string,
  from: number,
  to: number,
  focalLengthsMm: readonly number[],
): void {
  describe(title, () => {
    const coverage = coverageOf(from, to, focalLengthsMm);

    it('hardly a pass is refused', () => {
      expect(coverage.refused).toBeLessThanOrEqual(5);
    });

    it('intervals hold the truth in 90 to 99 of 100 axes', () => {
      // 400 intervals and more: counting scatters by 1 %.
      expect(coverage.intervals.total).toBeGreaterThan(400);
      expect(share(coverage.intervals)).toBeGreaterThan(0.9);
      expect(share(coverage.intervals)).toBeLessThan(0.99);
    });

    it('bounds of axes below their noise hold the truth in at least 90 of 100', () => {
      // A bound is one-sided, of two deviations.
      expect(coverage.bounds.total).toBeGreaterThan(80);
      expect(share(coverage.bounds)).toBeGreaterThan(0.9);
    });

    it('no axis is worse off than the others', () => {
      // A hundred passes: counting scatters by 2 % per axis.
      for (const axis of AXES) expect(share(coverage.axes[axis]), axis).toBeGreaterThan(0.9);
    });
  });
}
