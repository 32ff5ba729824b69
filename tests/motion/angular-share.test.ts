import { describe, expect, it } from 'vitest';
import { angularShare, angularShareOfRotation } from '../../src/motion/angular-share.js';
import { sixAxes, type Axis } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';

/** A lens so long that x^2 and xy do not matter: image motion of pan is the angle, that of lateral is d q. */
const CAMERA = {
  widthPx: 960,
  heightPx: 540,
  focalPx: 1e5,
  centreXPx: 479.5,
  centreYPx: 269.5,
  distortion: null,
};
const QUIET = { plain: new Float64Array(36), wide: new Float64Array(36) };
const N = 120;

function shaking(amplitudes: Partial<Record<Axis, number>>) {
  return sixAxes((axis) =>
    Float64Array.from({ length: N }, (_, t) => (amplitudes[axis] ?? 0) * Math.sin(0.9 * t)),
  );
}

describe('the angular share of the picture vibration', () => {
  it('is one for pan alone, zero for lateral alone, one half when both move the picture alike', () => {
    const share = (pan: number, lateral: number): number =>
      angularShare(shaking({ pan, lateral }), QUIET, CAMERA, 0.25, N).value ?? NaN;
    expect(share(1e-3, 0)).toBe(1);
    expect(share(0, 2e-3)).toBe(0);
    // Mean square inverse depth 0.25: 2 mm moves the picture by 1e-3.
    expectWithin(share(1e-3, 2e-3), 0.5, { abs: 1e-4, why: 'field of half a degree' });
  });

  it('counts depth spread as parallax: a scene of two depths has more translation energy than its mean depth', () => {
    const flat = angularShare(shaking({ pan: 1e-3, lateral: 2e-3 }), QUIET, CAMERA, 0.25, N).value ?? NaN;
    const deep =
      angularShare(shaking({ pan: 1e-3, lateral: 2e-3 }), QUIET, CAMERA, 0.25 + 0.09, N).value ?? NaN;
    expectWithin(deep, 1 / (1 + 4 * 0.34), { abs: 1e-3, why: 'closed form' });
    expect(deep).toBeLessThan(flat);
  });

  it('takes the noise off both sides and says nothing when all is noise', () => {
    const noise = new Float64Array(36);
    noise[21] = 1e-6 / 2; // lateral: as much noise as the whole sine of 1e-3
    const noisy = { plain: noise, wide: noise };
    const share = angularShare(shaking({ pan: 2e-3, lateral: 1e-3 }), noisy, CAMERA, 1, N);
    expectWithin(share.value ?? NaN, 1, { abs: 0.02, why: 'N sine samples are not quite whole periods' });
    expect(share.ci95?.[0]).toBeLessThan(0.95);
    expect(angularShare(shaking({ lateral: 1e-3 }), noisy, CAMERA, 1, N)).toEqual({
      value: null,
      ci95: null,
    });
  });

  it('is near one for a clip that rotation explains, less what the residual could hide', () => {
    const { value, ci95 } = angularShareOfRotation(shaking({ pan: 1e-3 }), QUIET, CAMERA, 5e-9, N);
    expect(value).toBe(1);
    expectWithin(ci95?.[0] ?? NaN, 1 / (1 + (2 * 5e-9) / 5e-7), { abs: 1e-3, why: 'closed form' });
  });
});
