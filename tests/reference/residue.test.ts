/** Facts of the trade about what stabilising can and cannot take out. Common practice, no source. */
import { describe, expect, it } from 'vitest';
import { exactZoomForPath, residualOf } from '../../src/stabilise/index.js';
import type { Residual } from '../../src/stabilise/residual-types.js';
import { expectWithin } from '../support/expect-within.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { madeMotion, unitShake, type MadeMotion } from '../stabilise/support/made-motion.js';
import { residualInput } from '../stabilise/support/residual-case.js';
import { vibrationAt } from '../../src/stabilise/vibration-at.js';

const camera = plainCamera(1920, 1080, 1867);
const delivery = { widthPx: 1920, heightPx: 1080 };

/** Stabilised at a smoothing and the zoom which that needs. */
function stabilised(made: MadeMotion, smoothingS = 1.25): { zoom: number; left: Residual } {
  const motion = madeMotion(made);
  const correctionsVibration = vibrationAt(motion, smoothingS).series;
  const { zoom } = exactZoomForPath(correctionsVibration, camera);
  const left = residualOf(residualInput(motion, { camera, delivery, pxScale: zoom, correctionsVibration }));
  return { zoom, left };
}

describe('what stabilising can take out', () => {
  const sideways: MadeMotion = { path: { lateral: (s) => 2e-3 * unitShake(1)(s) } };
  const turning: MadeMotion = {
    path: {
      pan: (s) => 2e-4 * unitShake(1)(s),
      tilt: (s) => 5e-4 * unitShake(2)(s),
      roll: (s) => 2e-4 * unitShake(3)(s),
    },
  };

  // Common practice, no source.
  it('leaves a sideways shake whatever is cropped: near and far part company', () => {
    const usual = stabilised(sideways);
    expect(usual.left.causes.translation?.rmsPx).toBeGreaterThan(1);
    expect(usual.left.causes.parallax?.rmsPx).toBeGreaterThan(0.4);
    for (const smoothingS of [0.3, 0.6, 2.5]) {
      const other = stabilised(sideways, smoothingS);
      expectWithin(other.left.total?.rmsPx ?? NaN, usual.left.total?.rmsPx ?? NaN, {
        rel: 1e-9,
        why: 'no angle to take out',
      });
    }
    // Zooming further only enlarges it.
    const motion = madeMotion(sideways);
    const closer = residualOf(residualInput(motion, { camera, delivery, pxScale: 1.3 }));
    expectWithin(closer.total?.rmsPx ?? NaN, 1.3 * (usual.left.total?.rmsPx ?? NaN), {
      rel: 1e-9,
      why: 'in proportion',
    });
  });

  // Common practice, no source.
  it('takes a shake that only turns the camera out to nothing, for a crop next to nothing', () => {
    const { zoom, left } = stabilised(turning);
    expect(zoom).toBeLessThan(1.01);
    expect(left.total?.rmsPx).toBeLessThan(1e-6);
    // The same shake in the picture before: about a pixel.
    const none = madeMotion(turning).timeS.map(() => 0);
    const before = residualOf(
      residualInput(madeMotion(turning), {
        camera,
        delivery,
        correctionsVibration: { pan: none, tilt: none, roll: none },
      }),
    );
    expect(before.total?.rmsPx).toBeGreaterThan(0.9);
  });

  // Common practice, no source.
  it('leaves more of a turning shake the less it smooths, for less crop', () => {
    const strong = stabilised(turning);
    const weak = stabilised(turning, 0.25);
    expect(weak.zoom).toBeLessThan(strong.zoom);
    expect(weak.left.total?.rmsPx).toBeGreaterThan(0.3);
  });
});
