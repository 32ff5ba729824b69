import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Camera } from '../../src/optics/index.js';
import {
  exactCrop,
  exactZoomForPath,
  holdStill,
  pathRoughnessPx,
  pathStretches,
  rowChanges,
  smoothestPath,
  type AngularVibration,
} from '../../src/stabilise/index.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { expectWithin } from '../support/expect-within.js';
import { anglesOf, shakenMove, targetOf } from './support/made-angles.js';
import { evenly } from '../support/evenly.js';

const SHAPE = 9 / 16;
const RATE_HZ = 25;
const camera = plainCamera(1280, 720, 1200);
const wide: Camera = { ...camera, distortion: { k1: -0.12, k2: 0.02, p1: 5e-4, p2: -3e-4, k3: 0 } };
const within = (maxCropPercent: number, rateHz = RATE_HZ) => ({ rateHz, maxCropPercent });
const seeds = fc.integer({ min: 0, max: 1e6 });
/** Room that may be left between the crop and its limit where the limit is used. */
const USED = { abs: 0.01, why: 'a tenth of a pixel' };

/** Largest pan that a window keeps inside the frame, rad: half the view of the frame less half the view of the window. */
const panWithin = (cropPercent: number): number =>
  Math.atan(640 / 1200) - Math.atan((640 * (1 - cropPercent / 100)) / 1200);

describe('the smoothest path within a crop', () => {
  it('is the locked-off one, at its own least crop, when that fits', () => {
    const path = shakenMove(60, 1, { moveRad: 0, shakeRad: 0.002 });
    const found = smoothestPath(path, null, camera, SHAPE, within(10));
    expect(found.kind).toBe('still');
    expect(found.vibration).toEqual(holdStill(path, null, camera, SHAPE));
    expect(found.cropPercent).toBeLessThan(10);
    expect(found.stretches).toEqual({ still: 1, even: 0, accelerated: 0, other: 0 });
  });

  it('of a camera that stands is what was filmed, at no crop', () => {
    const found = smoothestPath(anglesOf(30, { pan: () => 0.4 }), null, camera, SHAPE, within(5));
    expectWithin(found.cropPercent, 0, { abs: 1e-9, why: 'rounding' });
  });

  it('of an even pan is an even pan that the window makes shorter at both ends', () => {
    const turn = 0.2;
    const frames = 100;
    const path = anglesOf(frames, { pan: (t) => (turn * t) / (frames - 1) });
    const found = smoothestPath(path, null, camera, SHAPE, within(4));
    // Closed form: the window starts as far right as it may and ends as far left, in a straight line.
    const spared = panWithin(4);
    expectWithin(found.roughnessPx, 10 * 1200 * (turn - 2 * spared), {
      rel: 1e-5,
      why: 'reserve of 3e-5 of the crop',
    });
    const { pan } = targetOf(path, found.vibration);
    pan.forEach((value, t) =>
      expectWithin(value, spared + ((turn - 2 * spared) * t) / (frames - 1), {
        abs: 2e-6,
        why: '0.002 px: reserve and gap of the solver',
      }),
    );
    expect(found.stretches.even).toBe(1);
  });

  it('keeps an even pan even, and an evenly accelerated one so, when only the higher derivatives count', () => {
    const frames = 80;
    const even = anglesOf(frames, { pan: (t) => 0.003 * t, tilt: (t) => -0.001 * t });
    const second = { first: 0, second: 1, third: 0 };
    const kept = smoothestPath(even, null, camera, SHAPE, { ...within(3), weights: second });
    expectWithin(kept.roughnessPx, 0, { abs: 1e-6, why: 'rounding of 300 px of pan' });
    const faster = anglesOf(frames, { pan: (t) => 4e-5 * t * t });
    const third = { first: 0, second: 0, third: 1 };
    const keptToo = smoothestPath(faster, null, camera, SHAPE, { ...within(3), weights: third });
    expectWithin(keptToo.roughnessPx, 0, { abs: 1e-6, why: 'rounding of 300 px of pan' });
    expect(pathStretches(targetOf(faster, keptToo.vibration), camera).other).toBe(0);
  });

  it('is made of still, even and evenly accelerated stretches', () => {
    const path = shakenMove(200, 2);
    const found = smoothestPath(path, null, camera, SHAPE, within(5));
    const { still, even, accelerated, other } = found.stretches;
    expectWithin(still + even + accelerated + other, 1, { abs: 1e-12 });
    expect(pathStretches(path, camera).other).toBeGreaterThan(0.95);
    expect(other).toBeLessThan(0.1);
    expect(found.roughnessPx).toBeLessThan(0.05 * found.roughnessBeforePx);
  });

  it('uses the whole limit and never more, in any frame, whatever the lens', () => {
    for (const [lens, seed] of [
      [camera, 3],
      [wide, 4],
    ] as const) {
      for (const limit of [0.5, 3, 12]) {
        const path = shakenMove(100, seed, { moveRad: 0.2, shakeRad: 0.003 });
        const found = smoothestPath(path, null, lens, SHAPE, within(limit));
        expect(found.kind).toBe('moving');
        expect(found.cropPercent).toBeLessThanOrEqual(limit);
        expectWithin(found.cropPercent, limit, USED);
        expect(found.cropPercent).toBe(exactZoomForPath(found.vibration, lens, SHAPE).cropPercent);
      }
    }
  });

  it.each([0, 99])(
    'holds the limit in frame %i, where a knock leaves it no neighbour on one side',
    (knocked) => {
      const path = anglesOf(100, {
        pan: (t) => (t === knocked ? 0.15 : 0),
        roll: (t) => (t === knocked ? 0.02 : 0),
      });
      const found = smoothestPath(path, null, camera, SHAPE, within(4));
      const { halfWidthShare } = exactZoomForPath(found.vibration, camera, SHAPE);
      expect(100 * (1 - halfWidthShare[knocked])).toBeLessThanOrEqual(4 + 1e-9);
      expectWithin(100 * (1 - halfWidthShare[knocked]), 4, USED);
      // A window of this size cannot hide the knock: what is left of it has to be in the path.
      expect(Math.abs(path.pan[knocked] - found.vibration.pan[knocked])).toBeGreaterThan(0.05);
    },
  );

  it('gets no rougher when more crop is allowed', () => {
    fc.assert(
      fc.property(seeds, evenly(0.2, 8), evenly(1.05, 3), (seed, limit, factor) => {
        const path = shakenMove(40, seed, { moveRad: 0.1, shakeRad: 0.003 });
        const narrow = smoothestPath(path, null, camera, SHAPE, within(limit));
        const loose = smoothestPath(path, null, camera, SHAPE, within(limit * factor));
        expect(narrow.cropPercent).toBeLessThanOrEqual(limit);
        expect(loose.roughnessPx).toBeLessThanOrEqual(narrow.roughnessPx * (1 + 1e-4) + 1e-6);
        expect(narrow.roughnessPx).toBeLessThanOrEqual(narrow.roughnessBeforePx * (1 + 1e-6));
      }),
      { seed: 209, numRuns: 20 },
    );
  });

  it('is the same path backwards when the clip runs backwards', () => {
    const path = shakenMove(80, 5);
    const back: AngularVibration = {
      pan: path.pan.toReversed(),
      tilt: path.tilt.toReversed(),
      roll: path.roll.toReversed(),
    };
    const forwards = smoothestPath(path, null, camera, SHAPE, within(3));
    const backwards = smoothestPath(back, null, camera, SHAPE, within(3));
    expectWithin(backwards.roughnessPx, forwards.roughnessPx, { rel: 1e-5, why: 'solver gap' });
  });

  it('does not depend on the frame rate', () => {
    const at = (rateHz: number): AngularVibration => {
      const move =
        (share: number) =>
        (t: number): number => {
          const timeS = t / rateHz;
          const shake =
            Math.sin(2 * Math.PI * 1.7 * timeS) + 0.7 * Math.sin(2 * Math.PI * 2.9 * timeS + share);
          return share * 0.06 * (Math.sin(timeS) + timeS / 3) + 0.002 * shake;
        };
      return anglesOf(6 * rateHz + 1, { pan: move(1), tilt: move(0.3), roll: move(0.1) });
    };
    const slow = smoothestPath(at(50), null, camera, SHAPE, within(4, 50));
    const fast = smoothestPath(at(100), null, camera, SHAPE, within(4, 100));
    expectWithin(fast.roughnessBeforePx, slow.roughnessBeforePx, {
      rel: 0.03,
      why: 'differences stand for derivatives',
    });
    expectWithin(fast.roughnessPx, slow.roughnessPx, { rel: 0.05, why: 'the bends lie between frames' });
    const [slowPan, fastPan] = [targetOf(at(50), slow.vibration).pan, targetOf(at(100), fast.vibration).pan];
    slowPan.forEach((pan, t) =>
      expectWithin(1200 * fastPan[2 * t], 1200 * pan, {
        abs: 3,
        why: 'a twentieth of the room of 26 px to each side',
      }),
    );
  });

  it('follows rows that turn, and raises the limit where they alone need more', () => {
    const path = shakenMove(80, 6, { moveRad: 0.1, shakeRad: 0.003 });
    const rows = rowChanges(path, RATE_HZ, 0.02);
    const found = smoothestPath(path, rows, camera, SHAPE, within(5));
    expect(found.limitRaised).toBe(false);
    expect(found.cropPercent).toBeLessThanOrEqual(5);
    expect(found.cropPercent).toBe(
      exactCrop({ vibration: found.vibration, rows }, camera, SHAPE).cropPercent,
    );
    const poor = smoothestPath(path, rows, camera, SHAPE, within(0.05));
    expect(poor.limitRaised).toBe(true);
    expect(poor.limitPercent).toBeGreaterThan(0.05);
    expect(poor.cropPercent).toBeLessThanOrEqual(poor.limitPercent);
  });

  it('keeps the path as filmed when no crop is allowed', () => {
    const path = shakenMove(40, 7);
    const found = smoothestPath(path, null, camera, SHAPE, within(0));
    expect(found).toMatchObject({ kind: 'asFilmed', cropPercent: 0, limitPercent: 0, limitRaised: false });
    expect(found.roughnessPx).toBe(found.roughnessBeforePx);
    expect(found.vibration).toEqual(anglesOf(40, {}));
  });

  it('takes clips of any number of frames, and turns of any size', () => {
    for (const frames of [0, 1, 2, 3, 4, 5]) {
      const found = smoothestPath(shakenMove(frames, 8, { shakeRad: 0.02 }), null, camera, SHAPE, within(1));
      expect(found.cropPercent).toBeLessThanOrEqual(1);
      expect(found.vibration.pan.length).toBe(frames);
    }
    const round = anglesOf(60, { pan: (t) => (6.3 * t) / 59, tilt: (t) => 0.3 * Math.sin(t) });
    const found = smoothestPath(round, null, wide, SHAPE, within(10));
    expect(found.cropPercent).toBeLessThanOrEqual(10);
    expect(found.roughnessPx).toBeLessThan(found.roughnessBeforePx);
  });

  it('gives the same bits twice and leaves its input as it was', () => {
    const path = shakenMove(50, 9);
    const found = smoothestPath(path, null, camera, SHAPE, within(2));
    expect(smoothestPath(path, null, camera, SHAPE, within(2))).toEqual(found);
    expect(path).toEqual(shakenMove(50, 9));
  });

  it('refuses rates and limits that are none', () => {
    const path = shakenMove(5, 1);
    expect(() => smoothestPath(path, null, camera, SHAPE, within(5, 0))).toThrow(RangeError);
    expect(() => smoothestPath(path, null, camera, SHAPE, within(-1))).toThrow(
      'maxCropPercent must lie in 0..50, got -1',
    );
    expect(() => smoothestPath(path, null, camera, SHAPE, within(NaN))).toThrow(RangeError);
  });
});

describe('roughness', () => {
  it('is ten times the way on an even pan, and nothing on one frame', () => {
    const pan = anglesOf(11, { pan: (t) => 0.01 * t });
    expectWithin(pathRoughnessPx(pan, camera, RATE_HZ), 10 * 1200 * 0.1, { rel: 1e-9, why: 'definition' });
    expect(pathRoughnessPx(anglesOf(1, { pan: () => 5 }), camera, RATE_HZ)).toBe(0);
  });

  it('tells stretches that stand, move evenly and speed up', () => {
    const path = anglesOf(90, {
      tilt: (t) => (t < 30 ? 0 : t < 60 ? 0.001 * (t - 30) : 0.03 + 0.001 * (t - 60) + 1e-4 * (t - 60) ** 2),
    });
    const { still, even, accelerated, other } = pathStretches(path, camera);
    // Differences reach back over three frames at most: that many frames at each joint belong to neither.
    for (const share of [still, even, accelerated]) expectWithin(share, 1 / 3, { abs: 3 / 90 + 1e-9 });
    expect(other).toBeLessThan(0.06);
  });
});
