/** Logs whose clock runs at another rate than the clip's: told as that, and allowed for. */
import { describe, expect, it } from 'vitest';
import { compareMotionLog, type LogComparison } from '../../src/motion/index.js';
import { expectWithin } from '../support/expect-within.js';
import { holedLog } from './support/holed-log.js';
import { madeUpComparison, type MadeUpShake } from './support/made-up-log.js';

function compare(shake: MadeUpShake): LogComparison {
  const { motion, log, exposureS } = madeUpComparison(shake);
  return compareMotionLog(motion, log, exposureS);
}

describe('the clock of a motion log', () => {
  it.each([
    [6, 1.01],
    [6, 0.99],
    [20, 1.01],
    [60, 0.99],
  ])('of a clip of %d s that runs at %d is told, and the angles then agree', (durationS, clockRatio) => {
    for (const seed of durationS > 20 ? [1] : [1, 2, 3]) {
      const found = compare({ seed, durationS, clockRatio });
      expect(found.aligned, found.reason ?? '').toBe(true);
      expectWithin((found.clockRatio ?? NaN) - 1, clockRatio - 1, {
        abs: 6e-3 / durationS,
        why: '3 ms over the clip, ten times what the offset is known to',
      });
      expectWithin(found.offsetS ?? NaN, 1.37, { abs: 4 * (found.offsetSdS ?? NaN), why: 'its deviation' });
      for (const axis of Object.values(found.axes)) {
        expect(axis?.agrees).toBe(true);
        expectWithin(axis?.gain ?? NaN, 1, { abs: 0.02, why: 'the rates are right, the stamps are not' });
      }
      expect(found.warnings.map(({ code }) => code)).toEqual(['motion-log-clock']);
      expect(found.warnings[0].text).toContain(`1.0 % ${clockRatio > 1 ? 'fast' : 'slow'}`);
    }
  });

  it('is told across a gap', () => {
    const { motion, log, exposureS } = madeUpComparison({ seed: 2, durationS: 6, clockRatio: 0.99 });
    const found = compareMotionLog(motion, holedLog(log, [[3.9, 4.2]]), exposureS);
    expectWithin(found.clockRatio ?? NaN, 0.99, { abs: 1e-3, why: 'four deviations of 0.02 %' });
    expect(found.warnings.map(({ code }) => code)).toEqual(['motion-log-gap', 'motion-log-clock']);
  });

  it.each<[string, Omit<MadeUpShake, 'seed'>]>([
    ['short clips', { durationS: 4 }],
    ['noisy pictures', { videoNoiseDeg: 0.03 }],
    ['a slow log', { logRateHz: 30 }],
  ])('is left alone where it is right: %s', (_, shake) => {
    for (let seed = 1; seed <= 10; seed++) expect(compare({ ...shake, seed }).clockRatio).toBeNull();
  });
});
