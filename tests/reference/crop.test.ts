/** Crop arithmetic against published relations; the numbers were computed apart from this code. */
import { describe, expect, it } from 'vitest';
import {
  exactCrop,
  exactZoomForPath,
  horizontalCropPercent,
  largestCentredHalfWidth,
  offCentreCrop,
  type Corrections,
} from '../../src/stabilise/index.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { workedCase } from '../support/worked-case.js';
import { expectWithin } from '../support/expect-within.js';

const DIGITS = { abs: 1e-8, why: 'ten digits are printed in the reference' };

interface CropArithmetic {
  readonly shift_px_for_scale: Readonly<Record<string, readonly [number, number]>>;
  readonly scale_for_rms: Readonly<Record<string, number>>;
  readonly roll_1deg_scale_16x9: number;
  readonly roll_0p5deg_scale_16x9: number;
}
const expected = workedCase<CropArithmetic>('crop-arithmetic').expected;

const LONG_LENS = plainCamera(1920, 1080, 1e8);
const TINY_TURN = { abs: 1e-7, why: 'tangent of some microradians' };

/** Turns that move the picture of the long lens by whole pixels, right and down. */
function turnedPx(...shifts: (readonly [number, number])[]): Corrections {
  return {
    vibration: {
      pan: Float64Array.from(shifts, ([dx]) => dx / 1e8),
      tilt: Float64Array.from(shifts, ([, dy]) => -dy / 1e8),
      roll: new Float64Array(shifts.length),
    },
    rows: null,
  };
}

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

  // Source: the same relations, with the picture moved as a camera moves it: tiny turns of a very long lens. The windows
  // 0.8, 0.9 and 0.95 leave +-192 x +-108, +-96 x +-54 and +-48 x +-27 px, and 0.64, 0.81 and 0.9025 of the area.
  it('agrees on the shift that a crop window allows, as a turn of the camera', () => {
    for (const [scale, [dx, dy]] of Object.entries(expected.shift_px_for_scale)) {
      for (const turned of [turnedPx([dx, 0]), turnedPx([0, dy]), turnedPx([-dx, dy], [0, -dy])]) {
        const { halfWidthShare, zoom } = exactCrop(turned, LONG_LENS);
        expectWithin(1 / zoom, Number(scale), TINY_TURN);
        expectWithin(halfWidthShare[0] ** 2, Number(scale) ** 2, TINY_TURN, 'area');
      }
    }
  });

  // Source: plane geometry. Frames at 0 and at d share the picture from d to W: centred 1 - 2d/W of it, off-centre 1 - d/W.
  it('agrees that a window off the middle halves the crop of a shift to one side', () => {
    for (const d of [27, 54, 108]) {
      const oneSided = turnedPx([0, 0], [d, 0]);
      expectWithin(1 / exactCrop(oneSided, LONG_LENS).zoom, 1 - (2 * d) / 1920, TINY_TURN);
      const { zoom, offsetXPx } = offCentreCrop(oneSided, LONG_LENS);
      expectWithin(1 / zoom, 1 - d / 1920, { abs: 1.2e-5, why: 'the search ends within 0.01 px of 960' });
      expectWithin(Math.abs(offsetXPx), d / 2, { abs: 0.02, why: 'the same' });
    }
  });

  // Source: common practice, no source: "small angular vibration costs near-zero crop".
  it('agrees that small angular vibration costs next to no crop', () => {
    const rad = (0.01 * Math.PI) / 180;
    const small = Float64Array.from({ length: 250 }, (_, t) => rad * Math.SQRT2 * Math.sin(2.1 * t));
    const vibration = { pan: small, tilt: small.map((v) => -v), roll: small };
    for (const focalPx of [1300, 1900, 4500]) {
      // 24, 35 and 85 mm on a full frame at 1920 px: below one per cent on short lenses, below three on a long one.
      const { cropPercent } = exactCrop({ vibration, rows: null }, plainCamera(1920, 1080, focalPx));
      expect(cropPercent).toBeLessThan(focalPx < 2000 ? 1.2 : 3);
    }
  });

  // Source: definition, linear crop of the width.
  it('states crop as a share of the width', () => {
    expectWithin(horizontalCropPercent(1.25), 20, { abs: 1e-12, why: 'definition' });
    expect(horizontalCropPercent(1)).toBe(0);
  });
});
