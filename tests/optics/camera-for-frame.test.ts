import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cameraForFrame } from '../../src/optics/index.js';
import { expectWithin } from '../support/expect-within.js';
import { evenly } from '../support/evenly.js';

const HD = { widthPx: 1920, heightPx: 1080 };
const HALF = { widthPx: 960, heightPx: 540 };
const ROUNDING = { rel: 1e-12, why: 'double rounding' };

describe('the camera of a frame', () => {
  it('takes the focal length from millimetres at the width of the frame', () => {
    const { camera, assumed } = cameraForFrame({ focalLengthMm: 50, sensorWidthMm: 36 }, HD, HALF);
    expectWithin(camera.focalPx, (50 * 960) / 36, ROUNDING);
    expect(camera.centreXPx).toBe(479.5);
    expect(camera.centreYPx).toBe(269.5);
    expect(assumed).toEqual([]);
  });

  it('scales a focal length in source pixels to the frame, and prefers it to millimetres', () => {
    const rig = { focalPx: 2000, focalLengthMm: 50, sensorWidthMm: 36 };
    expect(cameraForFrame(rig, HD, HALF).camera.focalPx).toBe(1000);
    expect(cameraForFrame(rig, HD, HD).camera.focalPx).toBe(2000);
    // Calibrated on 4K, measured on an HD proxy.
    expect(cameraForFrame({ ...rig, focalPxWidth: 3840 }, HD, HALF).camera.focalPx).toBe(500);
  });

  it('assumes 35 mm on full frame aloud when nothing is known', () => {
    const { camera, assumed } = cameraForFrame({}, HD, HALF);
    expectWithin(camera.focalPx, (35 * 960) / 36, ROUNDING);
    expect(assumed.map((entry) => entry.name)).toEqual(['focalLengthMm', 'sensorWidthMm', 'lensDistortion']);
    expect(assumed[0].matters).toContain('every angle scales with it');
  });

  it('assumes only what is missing', () => {
    const names = (rig: object): string[] => cameraForFrame(rig, HD, HALF).assumed.map((entry) => entry.name);
    expect(names({ focalLengthMm: 85 })).toEqual(['sensorWidthMm']);
    expect(names({ sensorWidthMm: 24.89 })).toEqual(['focalLengthMm']);
    expect(names({ focalLengthMm: 24, sensorWidthMm: 36 })).toEqual(['lensDistortion']);
    expect(names({ focalPx: 4000 })).toEqual([]);
    const lensDistortion = { k1: -0.1, k2: 0, p1: 0, p2: 0, k3: 0 };
    expect(names({ focalLengthMm: 18, sensorWidthMm: 36, lensDistortion })).toEqual([]);
  });

  it('lays the sensor along the height of an upright picture, and says so', () => {
    const upright = { widthPx: 540, heightPx: 960 };
    const { camera, assumed } = cameraForFrame({ focalLengthMm: 50, sensorWidthMm: 36 }, upright, upright);
    expectWithin(camera.focalPx, (50 * 960) / 36, ROUNDING);
    expect(assumed.map((entry) => entry.name)).toEqual(['sensor orientation']);
  });

  it('sees the same angles at every analysis size', () => {
    fc.assert(
      fc.property(fc.integer({ min: 160, max: 3840 }), evenly(8, 200), (widthPx, f) => {
        const frame = { widthPx, heightPx: Math.round((widthPx * 9) / 16) };
        const rig = { focalLengthMm: f, sensorWidthMm: 24.89 };
        const { camera } = cameraForFrame(rig, HD, frame);
        expectWithin(camera.focalPx / camera.widthPx, f / 24.89, ROUNDING);
      }),
      { seed: 201 },
    );
  });

  it('refuses a distortion that would show a place of the picture twice', () => {
    // r (1 - 0.5 r^2) peaks at r = sqrt(2/3) with 0.544; the corner of this view lies at 0.688.
    const lensDistortion = { k1: -0.5, k2: 0, p1: 0, p2: 0, k3: 0 };
    expect(() => cameraForFrame({ focalPx: 1600, lensDistortion }, HD, HALF)).toThrow(
      /folds the picture over/,
    );
    expect(cameraForFrame({ focalPx: 2600, lensDistortion }, HD, HALF).camera.distortion).toBe(
      lensDistortion,
    );
  });

  it('leaves the rig as it was and refuses an empty picture', () => {
    const rig = Object.freeze({ focalLengthMm: 35 });
    cameraForFrame(rig, HD, HALF);
    expect(() => cameraForFrame(rig, { widthPx: 0, heightPx: 1080 }, HALF)).toThrow(RangeError);
    expect(() => cameraForFrame(rig, HD, { widthPx: 960, heightPx: NaN })).toThrow(RangeError);
  });
});
