/**
 * Warps of a turning camera: H = K R K^-1 (Hartley & Zisserman, Multiple View Geometry, 2nd ed., chapter 8), so warps follow each other,
 * undo each other and keep straight lines as their rotations do, and no depth enters.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyHomography,
  multiply3,
  projectPoint,
  rotationFromAngles,
  rotationFromVector,
  rotationHomography,
} from '../../src/optics/index.js';
import { expectWithin } from '../support/expect-within.js';
import { plainCamera } from './support/plain-camera.js';
import { evenly } from '../support/evenly.js';

const turn = evenly(-0.3, 0.3);
const rotation = fc.tuple(turn, turn, turn).map((angles) => rotationFromAngles(...angles));
const camera = fc
  .tuple(fc.integer({ min: 64, max: 8192 }), fc.integer({ min: 64, max: 8192 }), evenly(0.7, 6))
  .map(([widthPx, heightPx, perSide]) =>
    plainCamera(widthPx, heightPx, perSide * Math.max(widthPx, heightPx)),
  );
/** A place in the middle half of the picture, in shares of its sides: a turn of 0.3 rad leaves it in front of any of the cameras. */
const place = fc.tuple(evenly(0.25, 0.75), evenly(0.25, 0.75));

/** A billionth of a picture side; products of three matrices of pixels. */
const NEAR = 1e-9;

function expectPlace(
  got: { xPx: number; yPx: number } | null,
  wanted: { xPx: number; yPx: number } | null,
  sidePx: number,
): void {
  if (got === null || wanted === null) throw new Error('behind the camera');
  expectWithin(got.xPx, wanted.xPx, { abs: NEAR * sidePx }, 'xPx');
  expectWithin(got.yPx, wanted.yPx, { abs: NEAR * sidePx }, 'yPx');
}

const transposed = (r: ArrayLike<number>): number[] => [0, 3, 6, 1, 4, 7, 2, 5, 8].map((i) => r[i]);

describe('a warp', () => {
  it('is undone by the warp of the turn back', () => {
    fc.assert(
      fc.property(camera, rotation, place, (lens, r, [u, v]) => {
        const [xPx, yPx] = [u * lens.widthPx, v * lens.heightPx];
        const there = applyHomography(rotationHomography(lens, r), xPx, yPx);
        const back = applyHomography(
          rotationHomography(lens, transposed(r)),
          there?.xPx ?? NaN,
          there?.yPx ?? NaN,
        );
        expectPlace(back, { xPx, yPx }, Math.max(lens.widthPx, lens.heightPx));
      }),
      { seed: 101, numRuns: 300 },
    );
  });

  it('after another is the warp of both turns', () => {
    const less = evenly(-0.15, 0.15);
    const small = fc.tuple(less, less, less).map((angles) => rotationFromAngles(...angles));
    fc.assert(
      fc.property(camera, small, small, place, (lens, first, second, [u, v]) => {
        const [xPx, yPx] = [u * lens.widthPx, v * lens.heightPx];
        const one = applyHomography(rotationHomography(lens, first), xPx, yPx);
        const two = applyHomography(rotationHomography(lens, second), one?.xPx ?? NaN, one?.yPx ?? NaN);
        const both = applyHomography(rotationHomography(lens, multiply3(second, first)), xPx, yPx);
        const product = multiply3(rotationHomography(lens, second), rotationHomography(lens, first));
        const side = Math.max(lens.widthPx, lens.heightPx);
        expectPlace(two, both, side);
        expectPlace(applyHomography(product, xPx, yPx), both, side);
      }),
      { seed: 102, numRuns: 300 },
    );
  });

  it('moves the picture of a point as turning moves the point, at any distance', () => {
    fc.assert(
      fc.property(camera, rotation, place, evenly(0.1, 1000), (lens, r, [u, v], farM) => {
        const x = ((u * lens.widthPx - lens.centreXPx) / lens.focalPx) * farM;
        const y = ((v * lens.heightPx - lens.centreYPx) / lens.focalPx) * farM;
        const turned = [0, 3, 6].map((row) => r[row] * x + r[row + 1] * y + r[row + 2] * farM) as [
          number,
          number,
          number,
        ];
        const before = projectPoint(lens, x, y, farM);
        const warped = applyHomography(rotationHomography(lens, r), before?.xPx ?? NaN, before?.yPx ?? NaN);
        expectPlace(warped, projectPoint(lens, ...turned), Math.max(lens.widthPx, lens.heightPx));
      }),
      { seed: 103, numRuns: 300 },
    );
  });

  it('keeps straight lines straight', () => {
    fc.assert(
      fc.property(camera, rotation, place, place, evenly(0, 1), (lens, r, a, b, share) => {
        const h = rotationHomography(lens, r);
        const warped = [0, share, 1].map((s) =>
          applyHomography(
            h,
            (a[0] + s * (b[0] - a[0])) * lens.widthPx,
            (a[1] + s * (b[1] - a[1])) * lens.heightPx,
          ),
        );
        const [p, q, e] = warped.map((at) => at ?? { xPx: NaN, yPx: NaN });
        const side = Math.max(lens.widthPx, lens.heightPx);
        const area = (q.xPx - p.xPx) * (e.yPx - p.yPx) - (q.yPx - p.yPx) * (e.xPx - p.xPx);
        expectWithin(area / side ** 2, 0, { abs: NEAR });
      }),
      { seed: 104, numRuns: 300 },
    );
  });

  it('does not depend on the size of the pixels', () => {
    fc.assert(
      fc.property(rotation, place, evenly(0.1, 10), (r, [u, v], scale) => {
        const [one, other] = [1, scale].map((s) => {
          const lens = plainCamera(1920 * s, 1080 * s, 1800 * s);
          const at = applyHomography(
            rotationHomography(lens, r),
            lens.centreXPx + (u - 0.5) * lens.widthPx,
            lens.centreYPx + (v - 0.5) * lens.heightPx,
          );
          return {
            xPx: ((at?.xPx ?? NaN) - lens.centreXPx) / lens.widthPx,
            yPx: ((at?.yPx ?? NaN) - lens.centreYPx) / lens.heightPx,
          };
        });
        expectPlace(other, one, 1);
      }),
      { seed: 105, numRuns: 200 },
    );
  });
});

describe('a rotation', () => {
  it('keeps lengths and handedness, and turns about its own axis add up', () => {
    const axis = fc.tuple(turn, turn, turn).filter((w) => Math.hypot(...w) > 1e-3);
    const size = evenly(-4, 4);
    fc.assert(
      fc.property(axis, size, size, (w, a, b) => {
        const by = (s: number): Float64Array => rotationFromVector(s * w[0], s * w[1], s * w[2]);
        const r = by(a);
        multiply3(r, transposed(r)).forEach((value, i) =>
          expectWithin(value, i % 4 === 0 ? 1 : 0, { abs: 1e-13 }),
        );
        const determinant =
          r[0] * (r[4] * r[8] - r[5] * r[7]) -
          r[1] * (r[3] * r[8] - r[5] * r[6]) +
          r[2] * (r[3] * r[7] - r[4] * r[6]);
        expectWithin(determinant, 1, { abs: 1e-13 });
        const both = multiply3(by(b), r);
        by(a + b).forEach((value, i) => expectWithin(both[i], value, { abs: 1e-12 }));
      }),
      { seed: 106, numRuns: 200 },
    );
    expect(rotationFromVector(0, 0, 0)).toEqual(Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1));
  });
});
