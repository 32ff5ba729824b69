import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Camera } from '../../src/optics/index.js';
import {
  cropAtFocal,
  exactCrop,
  focalTable,
  longestFocalWithinLimits,
  planStabilisation,
  rowChanges,
  type Corrections,
} from '../../src/stabilise/index.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { expectWithin } from '../support/expect-within.js';
import { madeMotion, unitShake } from './support/made-motion.js';
import { sineOn } from './support/shakes.js';
import { evenly } from '../support/evenly.js';

const ROUNDING = { abs: 1e-9, why: 'double rounding' };
const DEG = Math.PI / 180;
const camera = plainCamera(960, 540, 933);
const bent: Camera = { ...camera, distortion: { k1: -0.1, k2: 0.01, p1: 0, p2: 0, k3: 0 } };
const SHAPE = 9 / 16;
const motion = madeMotion({
  path: {
    pan: (s) => 0.02 * s + 0.1 * DEG * unitShake(1)(s),
    tilt: (s) => 0.15 * DEG * unitShake(2)(s),
    roll: (s) => 0.05 * DEG * unitShake(3)(s),
  },
});
const corrections: Corrections = {
  vibration: motion.vibration,
  rows: rowChanges(motion.path, motion.rateHz, 0.012),
};
const factor = evenly(0.3, 5);

describe('the crop on another lens', () => {
  it('of a pan of amplitude A is 1 - tan(h - A) / tan(h), h half the field of view at that focal length', () => {
    fc.assert(
      fc.property(factor, evenly(1e-4, 0.02), (k, amplitude) => {
        const half = Math.atan(480 / (k * 933));
        expectWithin(
          cropAtFocal(sineOn('pan', amplitude), camera, SHAPE, k).cropPercent,
          100 * (1 - Math.tan(half - amplitude) / Math.tan(half)),
          ROUNDING,
        );
      }),
      { seed: 204 },
    );
  });

  it('is that of the plan at the focal length used, bit for bit, lens distortion and rows included', () => {
    for (const each of [camera, bent])
      expect(cropAtFocal(corrections, each, SHAPE, 1)).toEqual(exactCrop(corrections, each, SHAPE));
    const delivery = {
      widthPx: 1920,
      heightPx: 1080,
      maxCropPercent: 3,
      maxResidualPx: 1,
      name: null,
      viewingDistanceHeights: 3.1,
    };
    const short = madeMotion({ durationS: 4, path: { tilt: (s) => 0.003 * unitShake(2)(s) } });
    const plan = planStabilisation({ motion: short, camera: bent, delivery });
    expect(cropAtFocal({ vibration: short.vibration, rows: null }, bent, SHAPE, 1).zoom).toBe(plan.zoom);
  });

  it('leaves the distortion of the lens used behind', () => {
    expect(cropAtFocal(corrections, bent, SHAPE, 1.5)).toEqual(cropAtFocal(corrections, camera, SHAPE, 1.5));
  });

  it('grows with the focal length of lenses that see less than 90 deg', () => {
    const usual = evenly(0.6, 5);
    fc.assert(
      fc.property(usual, evenly(1, 1.5), (k, more) => {
        expect(cropAtFocal(corrections, camera, SHAPE, k * more).zoom).toBeGreaterThanOrEqual(
          cropAtFocal(corrections, camera, SHAPE, k).zoom - 1e-12,
        );
      }),
      { seed: 205, numRuns: 10 },
    );
  });

  it('refuses a focal length that is none', () => {
    for (const bad of [0, -1, NaN, Infinity])
      expect(() => cropAtFocal(corrections, camera, SHAPE, bad)).toThrow(RangeError);
  });
});

describe('the table of focal lengths', () => {
  const input = { corrections, camera, shape: SHAPE, focalLengthMm: 32 };

  it('holds the usual ones and the one used, from short to long', () => {
    const rows = focalTable(input);
    expect(rows.map((row) => row.focalLengthMm)).toEqual([18, 25, 32, 35, 50, 75, 100]);
    expect(rows.filter((row) => row.used).map((row) => row.focalLengthMm)).toEqual([32]);
    for (const row of rows) {
      expectWithin(row.focalFactor, (row.focalLengthMm ?? NaN) / 32, ROUNDING);
      expect(row.zoom).toBe(cropAtFocal(corrections, camera, SHAPE, row.focalFactor).zoom);
      expect(row.residualPx).toBeNull();
    }
  });

  it('does not list a usual focal length twice, and goes by factors when millimetres are not known', () => {
    expect(focalTable({ ...input, focalLengthMm: 35 })).toHaveLength(6);
    const rows = focalTable({ ...input, focalLengthMm: null });
    expect(rows.map((row) => row.focalFactor)).toEqual([0.5, 0.75, 1, 1.5, 2, 3]);
    expect(rows.every((row) => row.focalLengthMm === null)).toBe(true);
    expect(rows[2].cropPercent).toBe(exactCrop(corrections, camera, SHAPE).cropPercent);
  });

  it('asks for the residue with the camera and the zoom of each lens', () => {
    const rows = focalTable({ ...input, residualPx: (each, zoom) => each.focalPx * zoom });
    for (const row of rows) expectWithin(row.residualPx ?? NaN, 933 * row.focalFactor * row.zoom, ROUNDING);
  });
});

describe('the longest lens within limits', () => {
  const input = { corrections: sineOn('tilt', 0.002), camera, shape: SHAPE, focalLengthMm: 35 };

  it('uses up the accepted crop to the last bit and says so', () => {
    const longest = longestFocalWithinLimits(input, { maxCropPercent: 2, maxResidualPx: 1 });
    const k = longest?.focalFactor ?? NaN;
    expect(longest?.limitedBy).toBe('crop');
    expectWithin(longest?.focalLengthMm ?? NaN, 35 * k, ROUNDING);
    const half = Math.atan(270 / (k * 933));
    expectWithin(100 * (1 - Math.tan(half - 0.002) / Math.tan(half)), 2, {
      abs: 1e-7,
      why: 'a billionth of the focal length',
    });
    expect(longest?.cropPercent).toBeLessThanOrEqual(2);
    expect(cropAtFocal(input.corrections, camera, SHAPE, 1.0001 * k).cropPercent).toBeGreaterThan(2);
  });

  it('stops earlier where the residue reaches its limit first', () => {
    const residualPx = (each: Camera, zoom: number) => (0.7 * each.focalPx * zoom) / 933;
    const longest = longestFocalWithinLimits(
      { ...input, residualPx },
      { maxCropPercent: 10, maxResidualPx: 1 },
    );
    expect(longest?.limitedBy).toBe('residual');
    expectWithin(longest?.residualPx ?? NaN, 1, { abs: 1e-8, why: 'a billionth of the focal length' });
  });

  it('knows when no lens breaks the limits and when none keeps them', () => {
    const limits = { maxCropPercent: 2, maxResidualPx: 1 };
    const still = longestFocalWithinLimits({ ...input, corrections: sineOn('pan', 0) }, limits);
    expect(still).toMatchObject({ focalFactor: 10, limitedBy: null, cropPercent: 0 });
    // 1 deg of roll costs 3 % on any lens.
    expect(longestFocalWithinLimits({ ...input, corrections: sineOn('roll', DEG) }, limits)).toBeNull();
  });
});
