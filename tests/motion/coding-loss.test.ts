/** The possible effect of inter-frame coding: strong where the picture hardly moves, gone where it moves well. */
import { describe, expect, it } from 'vitest';
import { codingLoss } from '../../src/motion/coding-loss.js';
import { sixAxes, type Axis } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';

const CAMERA = {
  widthPx: 960,
  heightPx: 540,
  focalPx: 900,
  centreXPx: 479.5,
  centreYPx: 269.5,
  distortion: null,
};
const DEPTH = { median: 3, meanInverse: 0.3, sdInverse: 0.1 };

/** Sines of given RMS on some axes, rad or metres. */
function shaking(rmsOf: Partial<Record<Axis, number>>) {
  return sixAxes((axis) =>
    Float64Array.from(
      { length: 200 },
      (_, t) => (rmsOf[axis] ?? 0) * Math.SQRT2 * Math.sin((2 * Math.PI * t) / 8),
    ),
  );
}

describe('what coding may have moved between angle and translation', () => {
  it('is a share of the equivalent turn where the picture moves by a tenth of a pixel', () => {
    // 0.37 mm at 3.3 m on 900 px: 0.1 px.
    const { pan, tilt } = codingLoss(shaking({ lateral: 0.37e-3 }), DEPTH, CAMERA, 0);
    const left = 1 / (1 + 0.1 / 0.056);
    expectWithin(pan.turnRad, 0.35 * left * 0.37e-3 * 0.3, { rel: 0.01, why: '0.0999 px for 0.1' });
    expectWithin(pan.translationShare, 0.25 * left, { rel: 0.01, why: '0.0999 px for 0.1' });
    expect(tilt.turnRad).toBe(0);
  });

  it('fades where the camera also turns, because then far points move as well', () => {
    const alone = codingLoss(shaking({ lateral: 0.3e-3 }), DEPTH, CAMERA, 0).pan.turnRad;
    const turning = codingLoss(shaking({ lateral: 0.3e-3, pan: 1e-3 }), DEPTH, CAMERA, 0).pan.turnRad;
    expect(turning).toBeLessThan(alone / 5);
  });

  it('counts in pixels at one width, whatever the analysis width', () => {
    const half = { ...CAMERA, widthPx: 480, focalPx: 450 };
    const motion = shaking({ vertical: 0.3e-3, tilt: 1e-5 });
    expectWithin(
      codingLoss(motion, DEPTH, half, 4).tilt.turnRad,
      codingLoss(motion, DEPTH, CAMERA, 4).tilt.turnRad,
      {
        rel: 1e-12,
      },
    );
  });
});
