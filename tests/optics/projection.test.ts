import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyHomography,
  multiply3,
  normalisePoints,
  pixelOfNormalised,
  projectPoint,
  rotationFromAngles,
  rotationFromVector,
  rotationHomography,
} from '../../src/optics/index.js';
import { expectWithin } from '../support/expect-within.js';
import { plainCamera } from './support/plain-camera.js';
import { evenly } from '../support/evenly.js';

const ROUNDING = { abs: 1e-9, why: 'double rounding at pixel scale' };
const camera = plainCamera();
const wide = { ...camera, distortion: { k1: -0.12, k2: 0.02, p1: 0.001, p2: -0.0005, k3: 0 } };
const angle = evenly(-1, 1);

describe('projection', () => {
  it('puts a point straight ahead in the middle and points to the right and below to larger pixels', () => {
    expect(projectPoint(camera, 0, 0, 2)).toEqual({ xPx: 479.5, yPx: 269.5 });
    expect(projectPoint(camera, 1, 0.5, 2)).toEqual({ xPx: 479.5 + 480, yPx: 269.5 + 240 });
  });

  it('shows nothing of what lies beside or behind the camera', () => {
    expect(projectPoint(camera, 1, 0, 0)).toBeNull();
    expect(projectPoint(camera, 1, 0, -1)).toBeNull();
  });

  it('comes back from pixels to rays, with and without distortion', () => {
    const xPx = Float64Array.of(0, 479.5, 959, 100);
    const yPx = Float64Array.of(0, 269.5, 539, 400);
    for (const each of [camera, wide]) {
      const { x, y } = normalisePoints(each, xPx, yPx);
      for (let i = 0; i < xPx.length; i++) {
        const pixel = pixelOfNormalised(each, x[i], y[i]);
        expectWithin(pixel.xPx, xPx[i], ROUNDING, 'xPx');
        expectWithin(pixel.yPx, yPx[i], ROUNDING, 'yPx');
      }
    }
  });

  it('refuses columns of unequal length', () => {
    expect(() => normalisePoints(camera, [1, 2], [1])).toThrow(RangeError);
  });
});

describe('rotations', () => {
  it('keep lengths and undo each other', () => {
    fc.assert(
      fc.property(angle, angle, angle, (a, b, c) => {
        const product = multiply3(rotationFromVector(a, b, c), rotationFromVector(-a, -b, -c));
        product.forEach((value, i) =>
          expectWithin(value, i % 4 === 0 ? 1 : 0, { abs: 1e-14, why: 'double rounding' }),
        );
      }),
      { seed: 203 },
    );
  });

  it('follow the signs of the operator: the world moves against the camera', () => {
    const small = 1e-3;
    const seen = (pan: number, tilt: number, roll: number, x: number, y: number) => {
      const pixel = applyHomography(rotationHomography(camera, rotationFromAngles(pan, tilt, roll)), x, y);
      if (!pixel) throw new Error('behind the camera');
      return pixel;
    };
    expect(seen(small, 0, 0, 479.5, 269.5).xPx).toBeLessThan(479.5); // pan right: the scene goes left
    expect(seen(0, small, 0, 479.5, 269.5).yPx).toBeGreaterThan(269.5); // tilt up: the scene goes down
    expect(seen(0, 0, small, 959, 269.5).yPx).toBeLessThan(269.5); // roll clockwise: the right side goes up
  });

  it('join the series of small angles to the exact form without a step', () => {
    const below = rotationFromVector(0, 0, 0.999e-4);
    expectWithin(below[3], Math.sin(0.999e-4), { rel: 1e-14, why: 'double rounding' });
    const above = rotationFromVector(0, 0, 1.001e-4);
    expectWithin(above[3], Math.sin(1.001e-4), { rel: 1e-14, why: 'double rounding' });
  });

  it('give no pixel for a point that a homography sends behind the camera', () => {
    const turned = rotationHomography(camera, rotationFromVector(0, 2, 0));
    expect(applyHomography(turned, 479.5, 269.5)).toBeNull();
  });
});
