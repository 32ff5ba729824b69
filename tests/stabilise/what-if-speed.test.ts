import { describe, expect, it } from 'vitest';
import type { Motion } from '../../src/motion/index.js';
import { sixAxes } from '../../src/run/index.js';
import {
  cropAtSpeed,
  exactCrop,
  motionAtSpeed,
  rowChanges,
  speedTable,
  type SpeedMethod,
} from '../../src/stabilise/index.js';
import { vibrationAt } from '../../src/stabilise/path/vibration-at.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { expectWithin } from '../support/expect-within.js';
import { madeMotion, unitShake, type MadeMotion } from './support/made-motion.js';

const camera = plainCamera(960, 540, 933);
const SHAPE = 9 / 16;
/** A floor as a function of the time at the speed of the test pass: long waves and short ones. */
const floorTilt = (s: number): number => 0.001 * unitShake(2)(s) + 0.004 * Math.sin(2 * Math.PI * 0.55 * s);
const floorPan = (s: number): number => 0.03 * s + 0.001 * unitShake(1)(s);
const passAt = (speedFactor: number, more: MadeMotion = {}) =>
  madeMotion({
    durationS: 20 / speedFactor,
    path: { pan: (s) => floorPan(s * speedFactor), tilt: (s) => floorTilt(s * speedFactor) },
    ...more,
  });
const test = { motion: passAt(1), camera, shape: SHAPE, speedMps: 0.4 };

describe('the crop at another speed', () => {
  it.each([0.5, 0.75, 1.5, 2])('is, if all is floor, that of a pass at %s times the speed', (factor) => {
    const predicted = cropAtSpeed(test, factor).allFloor?.cropPercent ?? NaN;
    const cropOf = (motion: Motion): number =>
      cropAtSpeed({ ...test, motion }, 1).allFloor?.cropPercent ?? NaN;
    expectWithin(predicted, cropOf(passAt(factor, { rateHz: 25 * factor })), {
      rel: 1e-9,
      why: 'frames at the same places of the floor',
    });
    const filmed = cropOf(passAt(factor));
    // At the rate of the clip frames hit other places: fewer peaks of the shake when faster, more when slower.
    expect(predicted / filmed).toBeGreaterThan(0.95);
    expect(predicted / filmed).toBeLessThan(1.15);
  });

  it('brings long waves of the floor into the band when faster, and takes them out when slower', () => {
    const crops = speedTable(test).map((row) => row.allFloor?.cropPercent ?? NaN);
    expect(crops[4]).toBeGreaterThan(1.5 * crops[2]);
    expect(crops[0]).toBeLessThan(crops[2]);
  });

  it('is, if all is machine, that of the test pass', () => {
    const crops = speedTable(test).map((row) => row.allMachine?.cropPercent);
    expect(new Set(crops).size).toBe(1);
  });

  it('is the exact crop of the clip at the speed of the test pass, at any smoothing', () => {
    for (const smoothingS of [0.5, 1.25, 2]) {
      const row = cropAtSpeed({ ...test, smoothingS }, 1);
      const vibration = vibrationAt(test.motion, smoothingS).series;
      expect(row.allFloor?.zoom).toBe(exactCrop({ vibration, rows: null }, camera, SHAPE).zoom);
      expect(row.allMachine).toEqual(row.allFloor);
    }
  });

  it('asks the method for corrections and residue of the motion at that speed', () => {
    const method: SpeedMethod = {
      corrections: (motion) => ({
        vibration: motion.vibration,
        rows: rowChanges(motion.path, motion.rateHz, 0.015),
      }),
      residualPx: (motion, _, zoom) => motion.rateHz * zoom,
    };
    const { allFloor, allMachine } = cropAtSpeed({ ...test, method }, 2);
    expect(allFloor?.residualPx).toBe(50 * (allFloor?.zoom ?? NaN));
    expect(allMachine?.residualPx).toBe(25 * (allMachine?.zoom ?? NaN));
    expect(cropAtSpeed(test, 2).allFloor?.residualPx).toBeNull();
  });

  it('costs the shear of the rows of a steady pan in proportion to the speed', () => {
    const motion = madeMotion({ path: { pan: (s) => 0.2 * s } });
    const rows = (each: Motion) => rowChanges(each.path, each.rateHz, 0.015);
    const method: SpeedMethod = {
      corrections: (each) => ({ vibration: each.vibration, rows: rows(each) }),
    };
    const { allFloor, allMachine } = cropAtSpeed({ ...test, motion, method }, 2);
    expectWithin(allFloor?.cropPercent ?? NaN, 2 * (allMachine?.cropPercent ?? NaN), {
      rel: 0.01,
      why: 'small angles',
    });
  });

  it('says how fast, how long, and where the test pass was blind', () => {
    const [half, , same, , twice] = speedTable(test);
    expect([half.speedMps, half.durationS, half.unseenAboveHz]).toEqual([0.2, 40, 6.25]);
    expect([same.speedMps, same.durationS, same.unseenAboveHz]).toEqual([0.4, 20, null]);
    expect([twice.speedMps, twice.durationS, twice.unseenAboveHz]).toEqual([0.8, 10, null]);
    expect(half.assumes).toContain('above 6.3 Hz');
    expect(cropAtSpeed({ ...test, speedMps: null }, 2).speedMps).toBeNull();
  });

  it('refuses speeds at which the band no longer fits the clip', () => {
    const short = { ...test, motion: madeMotion({ durationS: 4 }) };
    // Smoothing of 0.25 s would fit, but the band of 0.8 Hz in which shake is judged does not.
    expect(cropAtSpeed({ ...short, smoothingS: 0.25 }, 1.5).refused).toBe('tooShort');
    expect(cropAtSpeed(short, 1.5)).toMatchObject({ refused: 'tooShort', allFloor: null, allMachine: null });
    expect(cropAtSpeed(short, 1).refused).toBeNull();
    expect(cropAtSpeed(test, 0.05)).toMatchObject({ refused: 'tooSlow', allFloor: null });
    for (const bad of [0, -1, NaN, Infinity]) expect(() => cropAtSpeed(test, bad)).toThrow(RangeError);
  });
});

describe('a motion at another speed', () => {
  const splitAnew = { rel: 1e-9, why: 'the same samples split at the same cut-off' };

  it('is the motion itself at the speed of the test pass, and leaves it as it was at any other', () => {
    expect(motionAtSpeed(test.motion, 1)).toBe(test.motion);
    const before = sixAxes((axis) => test.motion.vibration[axis].slice());
    motionAtSpeed(test.motion, 2);
    expect(test.motion.vibration).toEqual(before);
  });

  it.each([0.5, 2])('is that of a pass at %s times the speed: series, rate, band and figures', (factor) => {
    const noiseSd = { tilt: 1e-4 };
    const played = motionAtSpeed(passAt(1, { noiseSd }), factor);
    const rolled = passAt(factor, { rateHz: 25 * factor, noiseSd });
    expect(played.rateHz).toBe(rolled.rateHz);
    expect(played.bandHz).toEqual(rolled.bandHz);
    expect(Math.abs(played.trimFrames - rolled.trimFrames)).toBeLessThanOrEqual(1);
    played.vibration.tilt.forEach((value, t) =>
      expectWithin(value, rolled.vibration.tilt[t], { abs: 1e-11, why: 'rounding of the smoother' }),
    );
    played.timeS.forEach((value, t) => expectWithin(value, rolled.timeS[t], { abs: 1e-9, why: 'rounding' }));
    const [ours, theirs] = [played.axes.tilt, rolled.axes.tilt];
    expectWithin(ours.plainFloor, theirs.plainFloor, splitAnew);
    for (const name of ['rms', 'rawRms', 'maximum', 'peakToPeak'] as const)
      expectWithin(ours[name] ?? NaN, theirs[name] ?? NaN, {
        rel: 0.01,
        why: 'half a second left out at the ends may differ by a sample',
      });
  });

  it('keeps intervals and bounds in proportion to the figures', () => {
    const rms = test.motion.axes.tilt.rms ?? NaN;
    const tilt = { ...test.motion.axes.tilt, ci95: [0.9 * rms, 1.2 * rms] as const };
    const played = motionAtSpeed({ ...test.motion, axes: { ...test.motion.axes, tilt } }, 2).axes.tilt;
    expect(played.rms).toBeGreaterThan(1.5 * rms); // the long waves come into the band
    expectWithin((played.ci95?.[1] ?? NaN) / (played.rms ?? NaN), 1.2, splitAnew);
    expectWithin(played.below / (played.rms ?? NaN), tilt.below / rms, splitAnew);
  });

  it('knows nothing more than the clip did, and stands for a clip without frames', () => {
    const blind = motionAtSpeed(passAt(1, { depth: null }), 2);
    expect(blind.axes.lateral).toMatchObject({ status: 'notObservable', rms: null, ci95: null });
    expect(motionAtSpeed(madeMotion({ durationS: 0 }), 2).timeS).toHaveLength(0);
    expect(() => motionAtSpeed(test.motion, 0.05)).toThrow(RangeError); // no band is left
  });
});
