/** The offset between the clocks of a log and a clip, on made-up shake: how exact, how honest, and when none is given. */
import { describe, expect, it } from 'vitest';
import { compareMotionLog, type LogComparison } from '../../src/motion/index.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpComparison, type MadeUpShake } from './support/made-up-log.js';

function compare(shake: MadeUpShake): LogComparison & { trueOffsetS: number } {
  const { motion, log, exposureS, offsetS } = madeUpComparison(shake);
  return { ...compareMotionLog(motion, log, exposureS), trueOffsetS: offsetS };
}

/** Errors over their stated deviation, of some seeds. */
function scores(shake: Omit<MadeUpShake, 'seed'>, count: number): number[] {
  return Array.from({ length: count }, (_, k) => {
    const found = compare({ ...shake, seed: k + 1 });
    expect(found.aligned, found.reason ?? '').toBe(true);
    return ((found.offsetS ?? NaN) - found.trueOffsetS) / (found.offsetSdS ?? NaN);
  });
}

function rootMeanSquare(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);
}

describe('the offset of a motion log', () => {
  it.each([0, 1.37, -1234.5678, 0.0213])('of %d s is found to a hundredth of a frame', (offsetS) => {
    const found = compare({ seed: 3, offsetS });
    expectWithin(found.offsetS ?? NaN, offsetS, { abs: 0.0008, why: 'four stated deviations of 0.2 ms' });
    expect(found.offsetSdS).toBeLessThan(0.0004);
    expect(found.clockRatio).toBeNull();
  });

  it.each<[string, Omit<MadeUpShake, 'seed'>]>([
    ['pictures of common noise', {}],
    ['noisy pictures', { videoNoiseDeg: 0.03 }],
    ['a slow log', { logRateHz: 30 }],
    ['a log that begins within the clip', { marginS: [-3, 1] }],
  ])('has a deviation that covers its error: %s', (_, shake) => {
    const z = scores(shake, 20);
    // Of 20 errors with the right deviation 1.4 pass twice it; a root mean square of 1 scatters by 0.16.
    expect(rootMeanSquare(z)).toBeGreaterThan(0.45);
    expect(rootMeanSquare(z)).toBeLessThan(1.5);
    expect(z.filter((value) => Math.abs(value) > 2).length).toBeLessThanOrEqual(3);
  });

  it('comes with the rate of the clock where that is off, and without where it is not', () => {
    const fast = compare({ seed: 2, durationS: 30, clockRatio: 1.0004 });
    expectWithin((fast.clockRatio ?? NaN) - 1, 4e-4, {
      abs: 5e-5,
      why: '0.2 ms at the ends of 30 s, four times over',
    });
    expectWithin(fast.offsetS ?? NaN, 1.37, { abs: 5e-4, why: 'four stated deviations' });
    expect(compare({ seed: 2, durationS: 30 }).clockRatio).toBeNull();
  });

  it('stays right over 80 s with a clock that is off by 40 ms at both ends', () => {
    const found = compare({ seed: 6, durationS: 80, clockRatio: 1.001, marginS: [5, 5] });
    expectWithin((found.clockRatio ?? NaN) - 1, 1e-3, { abs: 1e-5, why: '0.4 ms at the ends' });
    expectWithin(found.offsetS ?? NaN, 1.37, { abs: 3e-4, why: 'four stated deviations' });
  });

  it('does not mind a sensor that pretends a steady turn', () => {
    const found = compare({ seed: 4, biasDegPerS: 2 });
    expectWithin(found.offsetS ?? NaN, 1.37, { abs: 0.0008, why: 'four stated deviations' });
    expect(found.axes.tilt?.agrees).toBe(true);
  });

  it.each([1, 2, 3])('is refused where the shake is a pure sine (seed %d)', (seed) => {
    const found = compare({ seed, linesHz: [3] });
    expect(found.aligned).toBe(false);
    expect(found.reason).toMatch(/repeats itself/);
    expect(found.offsetS).toBeNull();
    expect(found.axes).toEqual({ pan: null, tilt: null, roll: null });
    expect(found.warnings.map(({ code }) => code)).toEqual(['motion-log-not-aligned']);
  });

  it('is refused for a log of another take, short or long', () => {
    for (const marginS of [
      [2, 2],
      [60, 60],
    ] as const) {
      for (const seed of [1, 2]) {
        const { motion, exposureS } = madeUpComparison({ seed });
        const { log } = madeUpComparison({ seed: seed + 100, marginS });
        const found = compareMotionLog(motion, log, exposureS);
        expect(found.aligned).toBe(false);
        expect(found.reason).toMatch(/agree too little/);
      }
    }
  });

  it('is refused where the pictures show no turning over their noise', () => {
    const silent = { pan: 1e-5, tilt: 1e-5, roll: 1e-5 };
    expect(compare({ seed: 1, rmsDeg: silent }).reason).toMatch(/no turning above its noise floor/);
  });

  it('is refused where the log covers less than half of the clip', () => {
    expect(compare({ seed: 1, marginS: [-4.6, 0] }).aligned).toBe(false);
    expect(compare({ seed: 1, marginS: [-3.8, 0] }).aligned).toBe(true);
  });

  it('is refused for a clip shorter than three seconds', () => {
    expect(compare({ seed: 1, durationS: 2.5 }).reason).toMatch(/shorter than 3 s/);
    expect(compare({ seed: 1, durationS: 3.2 }).aligned).toBe(true);
  });
});
