/** Whether log and pictures agree, under the right names, and what the log adds where it is the better instrument. */
import { describe, expect, it } from 'vitest';
import { compareMotionLog, motionLogSection, type LogComparison } from '../../src/motion/index.js';
import { exposureGain } from '../../src/optics/index.js';
import { motionLogSchema, type AngularAxis } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { DEG, floorDeg, madeUpComparison, type MadeUpShake } from './support/made-up-log.js';

type Rates = Partial<Record<AngularAxis, Float64Array>>;

const SIZES = { pan: 0.04, tilt: 0.03, roll: 0.06 };
const negative = (column: Float64Array): Float64Array => column.map((v) => -v);
const scaled = (column: Float64Array, factor: number): Float64Array => column.map((v) => factor * v);

/** Compares after something was done to the columns of the log. */
function compare(
  shake: MadeUpShake,
  change: (rates: Required<Rates>) => Rates = (rates) => rates,
): LogComparison {
  const { motion, log, exposureS } = madeUpComparison({ rmsDeg: SIZES, ...shake });
  const ratesRadPerS = change(log.ratesRadPerS as Required<Rates>);
  return compareMotionLog(motion, { ...log, ratesRadPerS }, exposureS);
}

describe('log and pictures of the same shake', () => {
  it('agree on every axis, with a gain of 1 inside its interval in nearly all of 60 cases', () => {
    const axes = Array.from({ length: 20 }, (_, k) => compare({ seed: k + 1 }).axes).flatMap((a) =>
      Object.values(a),
    );
    expect(axes.filter((axis) => axis?.agrees)).toHaveLength(60);
    const covered = axes.filter((axis) => {
      const [low, high] = axis?.gainCi95 ?? [NaN, NaN];
      return low <= 1 && high >= 1;
    });
    expect(covered.length).toBeGreaterThan(52);
  });

  it('have the RMS that was put in, and a difference of the noise of both', () => {
    const { axes } = compare({ seed: 1 });
    for (const axis of ['pan', 'tilt', 'roll'] as const) {
      // The shake reaches down to 0.5 Hz, so some of it lies below the band.
      expect(axes[axis]?.rmsLog).toBeLessThan(SIZES[axis] * DEG * 1.02);
      expect(axes[axis]?.rmsLog).toBeGreaterThan(0.5 * SIZES[axis] * DEG);
      expectWithin(axes[axis]?.rmsVideo ?? NaN, axes[axis]?.rmsLog ?? NaN, {
        rel: 0.02,
        why: 'noise of 0.003 deg on 0.03',
      });
      expectWithin(axes[axis]?.rmsDifference ?? NaN, floorDeg(0.003) * DEG, {
        rel: 0.25,
        why: '170 samples of noise, and what the high-pass does at its edge',
      });
    }
  });

  it('compare only the axes that the log has', () => {
    const { aligned, axes } = compare({ seed: 2 }, ({ pan }) => ({ pan }));
    expect(aligned).toBe(true);
    expect(axes.pan?.agrees).toBe(true);
    expect([axes.tilt, axes.roll]).toEqual([null, null]);
  });

  it('free the gain of noise on either side', () => {
    const mean = (shake: Omit<MadeUpShake, 'seed'>): number => {
      const gains = Array.from({ length: 10 }, (_, k) =>
        Object.values(compare({ ...shake, rmsDeg: {}, seed: k + 1 }).axes).map((axis) => axis?.gain ?? NaN),
      ).flat();
      return gains.reduce((a, b) => a + b, 0) / gains.length;
    };
    // Plain regression would give 0.8 for the first and 1.2 for its inverse.
    expectWithin(mean({ videoNoiseDeg: 0.02 }), 1, { abs: 0.02, why: '30 gains that scatter by 6 %' });
    expectWithin(mean({ logNoiseDegPerS: 1 }), 1, { abs: 0.03, why: '30 gains that scatter by 8 %' });
  });

  it('differ where the log is 6 % off on pan and tilt, and only there', () => {
    const { axes, warnings } = compare({ seed: 1 }, ({ pan, tilt, roll }) => ({
      pan: scaled(pan, 1.06),
      tilt: scaled(tilt, 1.06),
      roll,
    }));
    expect([axes.pan?.agrees, axes.tilt?.agrees, axes.roll?.agrees]).toEqual([false, false, true]);
    expect(warnings.map(({ code }) => code)).toEqual(['motion-log-differs', 'motion-log-focal-length']);
    expect(warnings[0].text).toBe(
      'On pan and tilt the motion log and the picture differ by more than the noise of both.',
    );
    for (const axis of [axes.pan, axes.tilt])
      expectWithin(axis?.gain ?? NaN, 1.06, { abs: 0.03, why: 'the interval of one gain' });
  });

  it('differ where translation leaked into pan', () => {
    const { motion, log, exposureS } = madeUpComparison({ seed: 8, rmsDeg: SIZES });
    const leak = madeUpComparison({ seed: 9, rmsDeg: { pan: 0.02 } }).motion.path.pan;
    const path = { ...motion.path, pan: motion.path.pan.map((v, t) => v + leak[t]) };
    const vibration = {
      ...motion.vibration,
      pan: motion.vibration.pan.map((v, t) => v + leak[t]),
    };
    const { axes } = compareMotionLog({ ...motion, path, vibration }, log, exposureS);
    expect([axes.pan?.agrees, axes.roll?.agrees]).toEqual([false, true]);
  });

  it('say little of an axis that is quiet in both', () => {
    const { axes } = compare({ seed: 3, rmsDeg: { pan: 1e-5, tilt: 0.03, roll: 0.06 } });
    expect(axes.pan?.gain).toBeNull();
    expect(axes.pan?.agrees).toBe(true);
  });
});

describe('columns that are not what they say', () => {
  it.each<[string, (rates: Required<Rates>) => Rates, RegExp, readonly AngularAxis[]]>([
    [
      'pan and tilt exchanged',
      ({ pan, tilt, roll }) => ({ pan: tilt, tilt: pan, roll }),
      /its pan is the camera's tilt, its tilt is the camera's pan/,
      ['roll'],
    ],
    [
      'roll with the sign turned',
      ({ pan, tilt, roll }) => ({ pan, tilt, roll: negative(roll) }),
      /its roll runs against the picture/,
      ['pan', 'tilt'],
    ],
    [
      'all signs turned',
      ({ pan, tilt, roll }) => ({ pan: negative(pan), tilt: negative(tilt), roll: negative(roll) }),
      /its pan runs against.*its tilt runs against.*its roll runs against/,
      [],
    ],
    [
      'three axes round the corner, one with its sign turned',
      ({ pan, tilt, roll }) => ({ pan: tilt, tilt: roll, roll: negative(pan) }),
      /its roll is the camera's pan with the sign turned/,
      [],
    ],
    ['a lone pan that is tilt', ({ tilt }) => ({ pan: tilt }), /its pan is the camera's tilt/, []],
  ])('are told in plain words and not used: %s', (_, change, words, used) => {
    for (const seed of [1, 2]) {
      const found = compare({ seed }, change);
      expect(found.reason).toMatch(words);
      expectWithin(found.offsetS ?? NaN, 1.37, { abs: 0.003, why: 'four deviations of a lone axis' });
      const compared = (['pan', 'tilt', 'roll'] as const).filter((axis) => found.axes[axis] !== null);
      expect(compared).toEqual(used);
      expect(found.warnings[0]?.code).toBe('motion-log-axes');
    }
  });

  it('are told when they hold another unit', () => {
    const change = (factor: number) => (rates: Required<Rates>) => ({
      pan: scaled(rates.pan, factor),
      tilt: scaled(rates.tilt, factor),
      roll: scaled(rates.roll, factor),
    });
    const slow = compare({ seed: 1 }, change(Math.PI / 180));
    expect(slow.reason).toMatch(/rad\/s under names that end in DegPerS/);
    expect(slow.axes).toEqual({ pan: null, tilt: null, roll: null });
    expect(slow.beyond).toBeNull();
    expect(compare({ seed: 1 }, change(180 / Math.PI)).reason).toMatch(
      /deg\/s under names that end in RadPerS/,
    );
  });
});

describe('above half the frame rate', () => {
  const above = { freqHz: 40, rmsDeg: 0.01 };

  it('a log that is the better instrument shows a line, and what becomes of it in the pictures', () => {
    const { beyond } = compare({ seed: 1, above });
    expect(beyond?.bandHz[0]).toBeCloseTo(12.5, 9);
    expect(beyond?.bandHz[1]).toBeCloseTo(90, 6);
    const tilt = beyond?.axes.tilt;
    expectWithin(tilt?.dominantHz ?? NaN, 40, { abs: 0.5, why: 'ordinates are smoothed over 1 Hz' });
    expectWithin((tilt?.rms ?? NaN) / DEG, 0.01, { rel: 0.03, why: 'a line 20 times over its noise' });
    const gain = exposureGain(40, 0.02);
    expectWithin((tilt?.folded ?? NaN) / DEG, 0.01 * gain, { rel: 0.05, why: 'sinc of 40 Hz over 20 ms' });
    expectWithin((tilt?.blurred ?? NaN) / DEG, 0.01 * Math.sqrt(1 - gain ** 2), {
      rel: 0.05,
      why: 'the rest',
    });
    expect(beyond?.axes.roll?.rms).toBeNull();
    expect(beyond?.axes.roll?.dominantHz).toBeNull();
  });

  it('the bound of an axis without shake there holds its true 0', () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const { beyond } = compare({ seed });
      for (const axis of Object.values(beyond?.axes ?? {})) {
        expect(axis?.rms).toBeNull();
        expect(axis?.below).toBeLessThan(3e-6);
        expect(axis?.below).toBeGreaterThan(0);
      }
    }
  });

  it('a log that is noisier than the pictures says nothing', () => {
    expect(compare({ seed: 1, above, logNoiseDegPerS: 1 }).beyond).toBeNull();
  });

  it('a log that is no faster than the pictures says nothing', () => {
    expect(compare({ seed: 1, logRateHz: 30 }).beyond).toBeNull();
  });
});

describe('the section of the run document', () => {
  it('holds degrees and fits its schema', () => {
    const comparison = compare({ seed: 1, above: { freqHz: 40, rmsDeg: 0.01 } });
    const section = motionLogSchema.parse(motionLogSection(comparison, 'head.csv'));
    expectWithin(section.axes.tilt?.rmsLogDeg ?? NaN, (comparison.axes.tilt?.rmsLog ?? NaN) / DEG, {
      rel: 1e-12,
    });
    expect(section.beyondNyquist?.axes.tilt?.rmsDeg).toBeGreaterThan(0.009);
    expect(section.beyondNyquist?.axes.roll).toMatchObject({ rmsDeg: null, dominantHz: null });
    const without = motionLogSchema.parse(motionLogSection(compare({ seed: 1, linesHz: [3] }), 'head.csv'));
    expect(without).toMatchObject({ aligned: false, offsetS: null, beyondNyquist: null });
  });

  it('is the same twice, and leaves its input alone', () => {
    const { motion, log, exposureS } = madeUpComparison({ seed: 1 });
    const before = structuredClone({ motion, log });
    const first = compareMotionLog(motion, log, exposureS);
    expect(compareMotionLog(motion, log, exposureS)).toEqual(first);
    expect({ motion, log }).toEqual(before);
  });
});
