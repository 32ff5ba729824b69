/**
 * What the crop of a clip does not depend on, and what it must grow with. That the window fits every frame and a hair more shows a border,
 * that added frames and stronger shake never need less, and that the size of the pixels does not matter, stands in `exact-crop.test.ts`.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Camera } from '../../src/optics/index.js';
import { fourthDifferenceVibration } from '../../src/numerics/index.js';
import { applyHomography } from '../../src/optics/index.js';
import {
  correctionHomographies,
  exactCrop,
  holdStill,
  offCentreCrop,
  type AngularVibration,
  type Corrections,
} from '../../src/stabilise/index.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { expectWithin } from '../support/expect-within.js';
import { shakenMove } from './support/made-angles.js';
import { evenly } from '../support/evenly.js';

type Frame = readonly [pan: number, tilt: number, roll: number];

/** Double rounding. */
const ROUNDING = { abs: 1e-10 };
/** The search for the window ends within 0.02 px of the widest one, and moves off the middle for 0.005 px of it. */
const SEARCH_PX = 0.025;

const camera = plainCamera(1280, 720, 1200);
/** Bends alike on all sides: a lens without decentring. */
const bent: Camera = { ...camera, distortion: { k1: -0.12, k2: 0.02, p1: 0, p2: 0, k3: 0 } };

const angle = evenly(-0.05, 0.05);
const frames = fc.array(fc.tuple(angle, angle, angle), { minLength: 1, maxLength: 6 });
const lens = fc.constantFrom(camera, bent);
const shape = fc.constantFrom(9 / 16, 1 / 2.39, 16 / 9, 1);

function correcting(path: readonly Frame[]): Corrections {
  const column = (axis: number): Float64Array => Float64Array.from(path, (frame) => frame[axis]);
  return { vibration: { pan: column(0), tilt: column(1), roll: column(2) }, rows: null };
}

const mirrored = (path: readonly Frame[]): Frame[] => path.map(([pan, tilt, roll]) => [-pan, tilt, -roll]);
const upsideDown = (path: readonly Frame[]): Frame[] => path.map(([pan, tilt, roll]) => [pan, -tilt, -roll]);

describe('the crop', () => {
  it('is the same for the clip in a mirror, left for right or top for bottom', () => {
    fc.assert(
      fc.property(frames, lens, shape, (path, each, delivery) => {
        const { zoom } = exactCrop(correcting(path), each, delivery);
        for (const other of [mirrored(path), upsideDown(path)])
          expectWithin(exactCrop(correcting(other), each, delivery).zoom, zoom, ROUNDING);
      }),
      { seed: 111, numRuns: 60 },
    );
  });

  it('is the same in any order of the frames, and each frame keeps its own need', () => {
    fc.assert(
      fc.property(
        frames.chain((path) =>
          fc.tuple(fc.constant(path), fc.shuffledSubarray([...path.keys()], { minLength: path.length })),
        ),
        lens,
        ([path, order], each) => {
          const plain = exactCrop(correcting(path), each);
          const shuffled = exactCrop(correcting(order.map((t) => path[t])), each);
          expect(shuffled.zoom).toBe(plain.zoom);
          expect([...shuffled.halfWidthShare]).toEqual(order.map((t) => plain.halfWidthShare[t]));
          // The worst of a set is the worst of its frames taken one by one.
          const alone = path.map((frame) => exactCrop(correcting([frame]), each).zoom);
          expect(plain.zoom).toBe(Math.max(...alone));
          expect(alone[plain.worstFrame]).toBe(plain.zoom);
        },
      ),
      { seed: 112, numRuns: 60 },
    );
  });

  it('never falls when one axis shakes more: the same shake times a factor, on a straight lens', () => {
    fc.assert(
      fc.property(frames, evenly(1, 3), fc.nat(2), shape, (path, factor, axis, delivery) => {
        // One axis alone: with several at once a turn about a slanted axis may bring one corner back.
        const only = path.map(
          (frame) => [0, 0, 0].map((_, i) => (i === axis ? frame[axis] : 0)) as unknown as Frame,
        );
        const more = only.map((frame) => frame.map((value) => factor * value) as unknown as Frame);
        const { zoom } = exactCrop(correcting(only), camera, delivery);
        expect(exactCrop(correcting(more), camera, delivery).zoom).toBeGreaterThanOrEqual(zoom - 1e-12);
      }),
      { seed: 113, numRuns: 100 },
    );
  });

  it('shows no border at its zoom and one at a hair less, by where the warps put the corners of the recorded frame', () => {
    // A window whose corners lie inside the warped frame, four-sided and convex, lies inside it whole.
    const furthest = (path: readonly Frame[], zoom: number): number => {
      const warps = correctionHomographies(correcting(path).vibration, camera);
      let most = -Infinity;
      for (let t = 0; t < path.length; t++) {
        const corners = [
          [-0.5, -0.5],
          [1279.5, -0.5],
          [1279.5, 719.5],
          [-0.5, 719.5],
        ].map(([x, y]) => applyHomography(warps.subarray(9 * t, 9 * t + 9), x, y) ?? { xPx: NaN, yPx: NaN });
        corners.forEach((from, i) => {
          const to = corners[(i + 1) % 4];
          const length = Math.hypot(to.xPx - from.xPx, to.yPx - from.yPx);
          for (const [u, v] of [
            [-1, -1],
            [1, -1],
            [1, 1],
            [-1, 1],
          ]) {
            const x = 639.5 + (u * 640) / zoom - from.xPx;
            const y = 359.5 + (v * 360) / zoom - from.yPx;
            // Positive to the left of a side that runs with the clock: outside.
            most = Math.max(most, ((to.yPx - from.yPx) * x - (to.xPx - from.xPx) * y) / length);
          }
        });
      }
      return most;
    };
    fc.assert(
      fc.property(frames, (path) => {
        fc.pre(path.some((frame) => Math.hypot(...frame) > 1e-6));
        const { zoom } = exactCrop(correcting(path), camera);
        expect(furthest(path, zoom)).toBeLessThan(1e-6);
        expect(furthest(path, zoom * (1 - 1e-5))).toBeGreaterThan(1e-4);
      }),
      { seed: 114, numRuns: 150 },
    );
  });
});

describe('the crop off the middle', () => {
  it('follows the clip into a mirror, into another order and into other pixels', () => {
    fc.assert(
      fc.property(frames, evenly(0.3, 3), (path, scale) => {
        const plain = offCentreCrop(correcting(path), camera);
        const widthPx = camera.widthPx / plain.zoom;
        const near = { abs: (2 * SEARCH_PX) / widthPx, why: 'search of the window' };
        const rel = (zoom: number): number => zoom / plain.zoom - 1;
        expectWithin(rel(offCentreCrop(correcting(mirrored(path)), camera).zoom), 0, near, 'mirrored');
        expectWithin(rel(offCentreCrop(correcting(path.toReversed()), camera).zoom), 0, near, 'reversed');
        const scaled = plainCamera(1280 * scale, 720 * scale, 1200 * scale);
        const other = offCentreCrop(correcting(path), scaled);
        expectWithin(rel(other.zoom), 0, { abs: (2 * SEARCH_PX) / (widthPx * Math.min(1, scale)) }, 'scaled');
      }),
      { seed: 115, numRuns: 25 },
    );
  });

  it('never falls when a frame is added', () => {
    fc.assert(
      fc.property(frames, fc.tuple(angle, angle, angle), (path, extra) => {
        const before = offCentreCrop(correcting(path), camera).zoom;
        const after = offCentreCrop(correcting([...path, extra]), camera).zoom;
        expect(after / before).toBeGreaterThan(1 - (2 * SEARCH_PX) / (camera.widthPx / before));
      }),
      { seed: 116, numRuns: 12 },
    );
  });
});

describe('smoothing', () => {
  const total = (vibration: AngularVibration): number =>
    Object.values(vibration).reduce(
      (sum, column) => column.reduce((all, value) => all + value * value, sum),
      0,
    );

  it('that is weaker never takes out more, in the sum of squares', () => {
    // The misfit of penalised least squares grows with its weight (Tikhonov). Its largest frame may not, and so may not the crop.
    fc.assert(
      fc.property(fc.nat(1e6), evenly(0.3, 4), evenly(1, 3), (seed, cutoffHz, times) => {
        const path = shakenMove(80, seed, { shakeRad: 0.004 });
        const at = (hz: number): AngularVibration => ({
          pan: fourthDifferenceVibration(path.pan, 25, hz),
          tilt: fourthDifferenceVibration(path.tilt, 25, hz),
          roll: fourthDifferenceVibration(path.roll, 25, hz),
        });
        expect(total(at(Math.min(10, cutoffHz * times)))).toBeLessThanOrEqual(
          total(at(cutoffHz)) * (1 + 1e-9),
        );
      }),
      { seed: 117, numRuns: 60 },
    );
  });

  it('to a stand needs the same whichever way the camera looks at the start, and in a mirror', () => {
    fc.assert(
      fc.property(fc.nat(1e6), evenly(-2, 2), (seed, aside) => {
        const path = shakenMove(30, seed, { moveRad: 0, shakeRad: 0.004 });
        const cost = (given: AngularVibration): number =>
          exactCrop({ vibration: holdStill(given, null, camera, 9 / 16), rows: null }, camera).cropPercent;
        const flip = { pan: path.pan.map((v) => -v), tilt: path.tilt, roll: path.roll.map((v) => -v) };
        const plain = cost(path);
        expectWithin(cost({ ...path, pan: path.pan.map((v) => v + aside) }), plain, {
          abs: 1e-5,
          why: 'solver gap',
        });
        expectWithin(cost(flip), plain, { abs: 1e-5, why: 'solver gap' });
      }),
      { seed: 118, numRuns: 15 },
    );
  });
});
