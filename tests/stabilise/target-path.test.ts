import { describe, expect, it } from 'vitest';
import { exactZoomForPath, vibrationForMode, type TargetRequest } from '../../src/stabilise/index.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { expectWithin } from '../support/expect-within.js';
import { targetOf } from './support/made-angles.js';
import { madeMotion, unitShake } from './support/made-motion.js';

const SHAPE = 9 / 16;
const camera = plainCamera(1280, 720, 1200);
const ENDS = { abs: 1e-9, why: 'a millionth of a pixel: rounding of a path of a radian' };

function request(motion: TargetRequest['motion'], maxCropPercent = 5): TargetRequest {
  return { motion, camera, rows: null, shape: SHAPE, maxCropPercent };
}

const shaken = madeMotion({
  durationS: 6,
  path: {
    pan: (s) => 0.05 * s + 0.002 * unitShake(1)(s),
    tilt: (s) => 0.002 * unitShake(2)(s),
    roll: (s) => 0.001 * unitShake(3)(s),
  },
});

describe('keeping the move', () => {
  it('leaves a cubic move alone up to the first and the last frame, at any smoothing', () => {
    const cubic = madeMotion({
      durationS: 8,
      path: { pan: (s) => 0.1 * s - 0.03 * s ** 2 + 0.002 * s ** 3, tilt: (s) => 0.01 * (s - 4) ** 3 },
    });
    for (const smoothing of [{}, { smoothingS: 0.5 }, { smoothingS: 2.5 }]) {
      const { vibration } = vibrationForMode('keepMove', { ...request(cubic), ...smoothing });
      for (const t of [0, 1, cubic.timeS.length - 1])
        for (const axis of ['pan', 'tilt', 'roll'] as const) expectWithin(vibration[axis][t], 0, ENDS, axis);
    }
  });

  it('needs no frames before the first or after the last: a clip run backwards gives the same backwards', () => {
    const backwards = madeMotion({
      durationS: 6,
      path: { pan: (_, t) => shaken.path.pan[shaken.timeS.length - 1 - t] },
    });
    const there = vibrationForMode('keepMove', request(shaken)).vibration.pan;
    const back = vibrationForMode('keepMove', request(backwards)).vibration.pan.toReversed();
    there.forEach((value, t) => expectWithin(back[t], value, ENDS));
  });

  it('says its cut-off', () => {
    const kept = vibrationForMode('keepMove', { ...request(shaken), smoothingS: 2 });
    expect(kept).toMatchObject({ mode: 'keepMove', smoothingS: 2, cutoffHz: 0.5 });
    expect(vibrationForMode('keepMove', request(shaken))).toMatchObject({ smoothingS: 1.25, cutoffHz: 0.8 });
  });
});

describe('the other targets', () => {
  it('hold the camera still, and say how far it turned', () => {
    const held = vibrationForMode('holdStill', request(shaken));
    if (held.mode !== 'holdStill') throw new Error('another mode was asked for');
    const { pan } = targetOf(shaken.path, held.vibration);
    pan.forEach((value) => expectWithin(value, pan[0], { abs: 1e-12, why: 'one orientation' }));
    expectWithin(held.rangeRad.pan, Math.max(...shaken.path.pan) - Math.min(...shaken.path.pan), { abs: 0 });
  });

  it('move as smoothly as the crop allows', () => {
    const smooth = vibrationForMode('smoothest', request(shaken, 4));
    if (smooth.mode !== 'smoothest') throw new Error('another mode was asked for');
    expect(smooth.kind).toBe('moving');
    expect(exactZoomForPath(smooth.vibration, camera, SHAPE).cropPercent).toBeLessThanOrEqual(4);
    const kept = vibrationForMode('keepMove', request(shaken)).vibration;
    expect(exactZoomForPath(kept, camera, SHAPE).cropPercent).toBeLessThan(4);
  });
});
