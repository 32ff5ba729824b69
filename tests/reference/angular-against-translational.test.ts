/**
 * Small angular shake of a dolly stabilises almost for free; shake of the same size in the picture that comes from
 * translation stays in it. Common practice among grips and in post, no source.
 */
import { describe, expect, it } from 'vitest';
import { cameraForFrame } from '../../src/optics/index.js';
import type { Motion } from '../../src/motion/index.js';
import { planStabilisation, residualOf } from '../../src/stabilise/index.js';
import { vibrationAt } from '../../src/stabilise/path/vibration-at.js';
import { ROOM_DEPTH, madeMotion, unitShake } from '../stabilise/support/made-motion.js';
import { residualInput } from '../stabilise/support/residual-case.js';
import { expectWithin } from '../support/expect-within.js';

const HD = { widthPx: 1920, heightPx: 1080 };
const { camera } = cameraForFrame({ focalLengthMm: 35, sensorWidthMm: 36 }, HD, {
  widthPx: 960,
  heightPx: 540,
});
const delivery = { ...HD, maxCropPercent: 3, maxResidualPx: 1, name: null, viewingDistanceHeights: 3.1 };
const SHAKE_RAD = (0.03 * Math.PI) / 180;
/** The same picture motion, made by translation at the mean inverse depth of the scene. */
const SHAKE_M = SHAKE_RAD / ROOM_DEPTH.meanInverse;

describe('angular shake against translational shake of the same size', () => {
  const turning = madeMotion({
    path: { pan: (s) => SHAKE_RAD * unitShake(1)(s), tilt: (s) => SHAKE_RAD * unitShake(2)(s) },
  });
  const moving = madeMotion({
    path: { lateral: (s) => SHAKE_M * unitShake(1)(s), vertical: (s) => SHAKE_M * unitShake(2)(s) },
  });
  const angular = planStabilisation({ motion: turning, camera, delivery });
  const translational = planStabilisation({ motion: moving, camera, delivery });

  it('costs less than 2 % of crop at 0.03 deg RMS on a 35 mm lens, and leaves nothing', () => {
    expect(angular.cropPercent).toBeLessThan(2);
    expect(angular.cropPercent).toBeGreaterThan(0.2);
    expect(angular.residual.total?.rmsPx ?? NaN).toBeLessThan(1e-9);
  });

  it('costs no crop when it is translational, but stays in the picture in full', () => {
    expect(translational.cropPercent).toBeLessThan(1e-9);
    // 0.03 deg on two axes, 1867 px of focal length at delivery size; the spread of depths adds 6 %.
    const sameShakePx = 1920 * (35 / 36) * SHAKE_RAD * Math.SQRT2;
    expectWithin(translational.residual.total?.rmsPx ?? NaN, sameShakePx * Math.hypot(1, 0.36), {
      rel: 0.03,
      why: 'the 0.8 Hz split',
    });
  });

  it('leaves parallax between near and far that no shift of the picture removes', () => {
    const { parallax, translation } = translational.residual.causes;
    const ratio = (parallax?.rmsPx ?? NaN) / (translation?.rmsPx ?? NaN);
    expectWithin(ratio, 0.36 / Math.hypot(1, 0.36), {
      rel: 1e-9,
      why: 'spread against size of inverse depth',
    });
  });

  /** What is left at a smoothing, in a picture enlarged by a zoom. */
  const left = (motion: Motion, smoothingS: number, zoom = 1): number => {
    const correctionsVibration = vibrationAt(motion, smoothingS).series;
    const input = residualInput(motion, { camera, delivery, pxScale: 2 * zoom, correctionsVibration });
    return residualOf(input).total?.rmsPx ?? NaN;
  };

  it('stays when it is translational, however much is smoothed or cropped', () => {
    const usual = left(moving, 1.25);
    expect(usual).toBeGreaterThan(1);
    for (const smoothingS of [0.3, 0.6, 2.5]) {
      expectWithin(left(moving, smoothingS), usual, { rel: 1e-9, why: 'there is no angle to take out' });
    }
    expectWithin(left(moving, 1.25, 1.3), 1.3 * usual, { rel: 1e-9, why: 'a closer crop only enlarges it' });
  });

  it('leaves more of it when it is angular and less is smoothed', () => {
    expect(left(turning, 1.25)).toBeLessThan(1e-9);
    expect(left(turning, 0.25)).toBeGreaterThan(0.3);
    expect(left(turning, 0.2)).toBeGreaterThan(left(turning, 0.25));
  });
});
