/** Crop arithmetic against published relations; the numbers were computed apart from this code. */
import { describe, expect, it } from 'vitest';
import {
  exactZoomForPath,
  horizontalCropPercent,
  largestCentredHalfWidth,
} from '../../src/stabilise/index.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { workedCase } from '../optics/support/worked-case.js';
import { expectWithin } from '../support/expect-within.js';

const DIGITS = { abs: 1e-8, why: 'ten digits are printed in the reference' };

interface CropArithmetic {
  readonly shift_px_for_scale: Readonly<Record<string, readonly [number, number]>>;
  readonly scale_for_rms: Readonly<Record<string, number>>;
  readonly roll_1deg_scale_16x9: number;
  readonly roll_0p5deg_scale_16x9: number;
}
const expected = workedCase<CropArithmetic>('crop-arithmetic').expected;

/** Linear share of a 1920 x 1080 picture that is left when it is moved by whole pixels. */
function shareAfterShift(dx: number, dy: number): number {
  const x = [-960, 960, 960, -960].map((v) => v + dx);
  const y = [-540, -540, 540, 540].map((v) => v + dy);
  return largestCentredHalfWidth(x, y, 9 / 16) / 960;
}

describe('crop arithmetic', () => {
  // Source: plane geometry, scale = 1 - 2d/H; a linear crop window of 0.8 is the one used with
  // Grundmann, Kwatra, Essa, CVPR 2011 (seen in re-implementations, not in the paper). Case "crop-arithmetic".
  it('agrees on the shift that a crop window allows', () => {
    for (const [scale, [dx, dy]] of Object.entries(expected.shift_px_for_scale)) {
      expectWithin(shareAfterShift(dx, 0), Number(scale), DIGITS, 'sideways');
      expectWithin(shareAfterShift(0, -dy), Number(scale), DIGITS, 'up');
      expectWithin(shareAfterShift(-dx, dy), Number(scale), DIGITS, 'both at once');
    }
  });

  // Source: the same relation at three times the RMS of a vertical shake. Case "crop-arithmetic".
  it('agrees on the window of a vertical shake of a given RMS', () => {
    for (const [rmsPx, scale] of Object.entries(expected.scale_for_rms)) {
      expectWithin(shareAfterShift(0, 3 * Number(rmsPx)), scale, DIGITS);
    }
  });

  // Source: plane geometry, largest same-aspect window in a picture turned by t: 1 / (cos t + (W/H) sin t). Case "crop-arithmetic".
  it('agrees on the window of a rolled picture', () => {
    for (const [deg, scale] of [
      [1, expected.roll_1deg_scale_16x9],
      [0.5, expected.roll_0p5deg_scale_16x9],
    ]) {
      const still = Float64Array.of(0);
      const roll = Float64Array.of((deg * Math.PI) / 180);
      const { zoom, cropPercent } = exactZoomForPath(
        { pan: still, tilt: still, roll },
        plainCamera(1920, 1080, 2000),
      );
      expectWithin(1 / zoom, scale, DIGITS);
      expectWithin(cropPercent, 100 * (1 - scale), {
        abs: 1e-6,
        why: 'digits of the reference, in per cent',
      });
    }
  });

  // Source: definition, linear crop of the width.
  it('states crop as a share of the width', () => {
    expectWithin(horizontalCropPercent(1.25), 20, { abs: 1e-12, why: 'definition' });
    expect(horizontalCropPercent(1)).toBe(0);
  });
});
