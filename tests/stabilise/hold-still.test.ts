import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gaussianRandom, mean, seededRandom } from '../../src/numerics/index.js';
import type { Camera } from '../../src/optics/index.js';
import { exactCrop, exactZoomForPath, holdStill, rowChanges } from '../../src/stabilise/index.js';
import type { AngularVibration, RowChanges } from '../../src/stabilise/index.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { expectWithin } from '../support/expect-within.js';
import { anglesOf, shakenMove, targetOf } from './support/made-angles.js';

const SHAPE = 9 / 16;
const camera = plainCamera(1280, 720, 1200);
const wide: Camera = { ...camera, distortion: { k1: -0.12, k2: 0.02, p1: 5e-4, p2: -3e-4, k3: 0 } };
const seeds = fc.integer({ min: 0, max: 1e6 });

function about(path: AngularVibration, target: readonly [number, number, number]): AngularVibration {
  const [pan, tilt, roll] = target;
  return {
    pan: path.pan.map((v) => v - pan),
    tilt: path.tilt.map((v) => v - tilt),
    roll: path.roll.map((v) => v - roll),
  };
}

/** The crop cannot be made smaller by turning the target a little: many small turns are tried. */
function expectLeast(path: AngularVibration, rows: RowChanges | null, lens: Camera, percent: number): void {
  const held = holdStill(path, rows, lens, SHAPE);
  const least = exactCrop({ vibration: held, rows }, lens, SHAPE).cropPercent;
  const next = gaussianRandom(seededRandom(7));
  for (let trial = 0; trial < 60; trial++) {
    const size = 10 ** (-2 - (trial % 5));
    const turned = about(held, [size * next(), size * next(), size * next()]);
    expect(exactCrop({ vibration: turned, rows }, lens, SHAPE).cropPercent).toBeGreaterThanOrEqual(
      least - percent,
    );
  }
}

describe('holding still', () => {
  it('takes the same orientation out of every frame', () => {
    const path = shakenMove(80, 1);
    const target = targetOf(path, holdStill(path, null, camera, SHAPE));
    for (const column of Object.values(target))
      column.forEach((value) => expectWithin(value, column[0], { abs: 1e-15, why: 'rounding' }));
  });

  it('of a camera that stands costs nothing, whichever way it looks', () => {
    const standing = anglesOf(20, { pan: () => 0.7, tilt: () => -0.2, roll: () => 0.1 });
    const held = holdStill(standing, null, camera, SHAPE);
    expectWithin(exactZoomForPath(held, camera).cropPercent, 0, { abs: 1e-9, why: 'rounding' });
  });

  it('of a pure pan lies midway between its ends, however long it stays at one of them', () => {
    const held = holdStill(anglesOf(50, { pan: (t) => (t === 0 ? 0.08 : 0) }), null, camera, SHAPE);
    // The first frame counts as much as the 49 others: half of the pan to each side.
    expectWithin(held.pan[0], 0.04, { abs: 1e-7, why: 'solver gap' });
    const half = Math.atan(640 / 1200);
    expectWithin(
      exactZoomForPath(held, camera).cropPercent,
      100 * (1 - (1200 * Math.tan(half - 0.04)) / 640),
      { abs: 1e-4, why: 'solver gap at 0.1 px' },
    );
  });

  it('counts the last frame as it counts the first', () => {
    const path = shakenMove(60, 2);
    const reversed = {
      pan: path.pan.toReversed(),
      tilt: path.tilt.toReversed(),
      roll: path.roll.toReversed(),
    };
    expectWithin(
      exactZoomForPath(holdStill(reversed, null, camera, SHAPE), camera).cropPercent,
      exactZoomForPath(holdStill(path, null, camera, SHAPE), camera).cropPercent,
      { abs: 1e-5, why: 'solver gap' },
    );
  });

  it('needs no more crop than the mean, the middle of the range or the first frame as target', () => {
    fc.assert(
      fc.property(seeds, fc.integer({ min: 1, max: 60 }), (seed, frames) => {
        const path = shakenMove(frames, seed, { shakeRad: 0.01 });
        const { cropPercent } = exactZoomForPath(holdStill(path, null, camera, SHAPE), camera, SHAPE);
        const middle = (v: Float64Array): number => (Math.min(...v) + Math.max(...v)) / 2;
        for (const of of [mean, middle, (v: Float64Array) => v[0]]) {
          const other = about(path, [of(path.pan), of(path.tilt), of(path.roll)]);
          expect(cropPercent).toBeLessThanOrEqual(exactZoomForPath(other, camera, SHAPE).cropPercent + 1e-9);
        }
      }),
      { seed: 219, numRuns: 30 },
    );
  });

  it('needs the least crop there is, on straight and bent pictures and with turning rows', () => {
    for (const seed of [3, 4, 5]) expectLeast(shakenMove(80, seed, { shakeRad: 0.004 }), null, camera, 1e-6);
    const path = shakenMove(60, 6, { shakeRad: 0.004 });
    // Points along the sides stand for a bent outline: a hundredth of a pixel.
    expectLeast(path, null, wide, 2e-3);
    expectLeast(path, rowChanges(path, 25, 0.015), wide, 2e-3);
  });

  it('beats the middle of the range where pan and roll come together', () => {
    const path = anglesOf(40, { pan: (t) => (t === 5 ? 0.02 : 0), roll: (t) => (t === 30 ? 0.05 : 0) });
    const held = exactZoomForPath(holdStill(path, null, camera, SHAPE), camera).cropPercent;
    expect(held).toBeLessThan(exactZoomForPath(about(path, [0.01, 0, 0.025]), camera).cropPercent - 0.1);
  });

  it('stays a number when the camera turns away from all it saw', () => {
    for (const turn of [0.7, 1.7, 3.1, 20]) {
      const held = holdStill(anglesOf(100, { pan: (t) => (turn * t) / 99 }), null, wide, SHAPE);
      expect(held.pan.every(Number.isFinite)).toBe(true);
      expect(exactZoomForPath(held, wide).coverable).toBe(false);
    }
  });

  it('takes any number of frames and leaves its input as it was', () => {
    expect(holdStill(anglesOf(0, {}), null, camera, SHAPE).pan.length).toBe(0);
    expect([...holdStill(anglesOf(1, { tilt: () => 0.3 }), null, camera, SHAPE).tilt]).toEqual([0]);
    const path = shakenMove(30, 8);
    const held = holdStill(path, null, camera, SHAPE);
    expect(path).toEqual(shakenMove(30, 8));
    expect(holdStill(path, null, camera, SHAPE)).toEqual(held);
  });

  it('refuses columns of different lengths and a shape that is none', () => {
    const broken = { ...shakenMove(5, 1), roll: new Float64Array(4) };
    expect(() => holdStill(broken, null, camera, SHAPE)).toThrow(RangeError);
    expect(() => holdStill(shakenMove(5, 1), null, camera, 0)).toThrow('shape must be positive, got 0');
  });
});
