import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { exactCrop, type Corrections } from '../../src/stabilise/index.js';
import { angleErrors95, cropReserve } from '../../src/stabilise/what-if/crop-reserve.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { expectWithin } from '../support/expect-within.js';
import { madeMotion, unitShake } from './support/made-motion.js';
import { sineOn } from './support/shakes.js';

const camera = plainCamera(960, 540, 933);
const SHAPE = 9 / 16;
const ROUNDING = { rel: 1e-9, why: 'double rounding' };
const still = sineOn('pan', 0);

describe('the reserve beyond the exact crop', () => {
  it('is half a source pixel at the side where it costs most when the angles are exact', () => {
    const exact = madeMotion();
    const hd = cropReserve(exact, still, camera, SHAPE, { widthPx: 1920, heightPx: 1080 });
    expectWithin(hd.share, 0.5 / 540, ROUNDING);
    expectWithin(hd.measuringShare, 0, { abs: 1e-12, why: 'double rounding' });
    expectWithin(cropReserve(exact, still, camera, SHAPE).share, 0.5 / 270, ROUNDING);
    // A square window of a wide picture: both sides alike.
    expectWithin(cropReserve(exact, still, camera, 1).share, 0.5 / 270, ROUNDING);
  });

  it('adds the crop of the 95 % error of the angles: the dearer of pan and tilt, and roll in squares', () => {
    const noisy = madeMotion({ noiseSd: { pan: 3e-5, tilt: 3e-5, roll: 5e-5 } });
    const band = Math.sqrt(1 - 0.8 / 12.5); // share of the noise that the high-pass keeps
    const halfHeight = Math.atan(270 / 933);
    const tilt = 1 - Math.tan(halfHeight - 1.96 * 3e-5 * band) / Math.tan(halfHeight);
    const roll = (16 / 9) * 1.96 * 5e-5 * band;
    expectWithin(cropReserve(noisy, still, camera, SHAPE).measuringShare, Math.hypot(tilt, roll), {
      rel: 2e-4,
      why: 'roll by its small-angle formula',
    });
  });

  it('counts what the interval of an axis leaves open, in proportion to the largest correction', () => {
    const motion = madeMotion({ path: { tilt: (s) => 0.002 * unitShake(1)(s) } });
    const rms = motion.axes.tilt.rms ?? NaN;
    const tilt = { ...motion.axes.tilt, ci95: [0.96 * rms, 1.05 * rms] as const };
    const open = { ...motion, axes: { ...motion.axes, tilt } };
    expectWithin(angleErrors95(open, sineOn('tilt', 0.01).vibration).tilt, 0.05 * 0.01, ROUNDING);
  });

  it('takes the floor alone where an axis lies below it', () => {
    const motion = madeMotion({ noiseSd: { pan: 1e-5 }, status: { pan: 'below' } });
    expectWithin(angleErrors95(motion, motion.vibration).pan, 1.96 * motion.axes.pan.floor, ROUNDING);
  });

  it('grows with the focal length as the crop of pan and tilt does', () => {
    const noisy = madeMotion({ noiseSd: { pan: 3e-5, tilt: 3e-5 } });
    const at = (focalPx: number) =>
      cropReserve(noisy, still, plainCamera(960, 540, focalPx), SHAPE).measuringShare;
    expectWithin(at(8000) / at(4000), 2, { rel: 0.01, why: 'long lenses, where tan and angle agree' });
  });

  it('covers what the true path needs in at least 19 of 20 clips measured with noise', () => {
    const sd = 2e-4; // ten times the usual, so that noise matters beside half a pixel
    const truth = madeMotion({
      path: { pan: (s) => 0.004 * unitShake(1)(s), tilt: (s) => 0.003 * unitShake(2)(s) },
    });
    const needed = exactCrop({ vibration: truth.vibration, rows: null }, camera, SHAPE).cropPercent;
    const said = madeMotion({ noiseSd: { pan: sd, tilt: sd, roll: sd } });
    const gaussian = gaussianRandom(seededRandom(11));
    const trials = 60;
    let covered = 0;
    for (let trial = 0; trial < trials; trial++) {
      const noisy = (column: Float64Array) => column.map((value) => value + sd * gaussian());
      const { pan, tilt, roll } = truth.vibration;
      const measured: Corrections = {
        vibration: { pan: noisy(pan), tilt: noisy(tilt), roll: noisy(roll) },
        rows: null,
      };
      const { measuringShare } = cropReserve(said, measured, camera, SHAPE);
      const crop = exactCrop(measured, camera, SHAPE).cropPercent;
      if (crop + 100 * measuringShare >= needed) covered++;
    }
    expect(covered).toBeGreaterThanOrEqual(0.95 * trials);
  });
});
