/** The L1-optimal path against a general-purpose solver of linear programmes, and its weights. */
import { describe, expect, it } from 'vitest';
import { emptyRows, leastAbsolute, type SparseRows } from '../../src/numerics/index.js';
import { smoothnessTerms } from '../../src/stabilise/path/path-smoothness.js';
import { PATH_WEIGHTS, smoothestPath } from '../../src/stabilise/index.js';
import { windowLimits, windowOutline } from '../../src/stabilise/path/window-limits.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { anglesOf, shakenMove } from '../stabilise/support/made-angles.js';
import { expectWithin } from '../support/expect-within.js';
import { optimumByHighs } from '../support/solve-by-highs.js';

const AGREED = { rel: 1e-5, abs: 1e-6, why: 'both solvers stop at relative gaps of about 1e-7' };
const RATE_HZ = 25;
const camera = plainCamera(1280, 720, 1200);
const bent = { ...camera, distortion: { k1: -0.12, k2: 0.02, p1: 5e-4, p2: -3e-4, k3: 0 } };

/** No correction beyond a width of its own, px, on any axis. */
function boxes(frames: number, widthPx: number): SparseRows {
  const limits = emptyRows(6 * frames, 1);
  for (let i = 0; i < 6 * frames; i++) {
    limits.columns[i] = i >> 1;
    limits.coefficients[i] = i % 2 === 0 ? 1 : -1;
    limits.right[i] = widthPx;
  }
  return limits;
}

// Source of the method: Grundmann, Kwatra, Essa, CVPR 2011, a linear programme. Yardstick: HiGHS 1.15 (npm "highs"), simplex.
describe('the L1-optimal path, against HiGHS', () => {
  it.each([2, 3, 4, 5, 17, 60])('agrees on one axis in a box, %i frames', async (frames) => {
    for (const [seed, widthPx] of [
      [1, 0.5],
      [2, 4],
      [3, 30],
    ]) {
      const { pan } = shakenMove(frames, seed);
      const terms = smoothnessTerms(anglesOf(frames, { pan: (t) => pan[t] }), camera, RATE_HZ, PATH_WEIGHTS);
      const limits = boxes(frames, widthPx);
      const own = leastAbsolute(terms, limits, new Float64Array(3 * frames));
      expect(own.converged).toBe(true);
      expectWithin(
        own.objective,
        (await optimumByHighs(terms, limits, 3 * frames)).objective,
        AGREED,
        `box of ${widthPx} px`,
      );
    }
  });

  it.each([
    ['a straight picture', camera, 40],
    ['a bent picture', bent, 30],
  ] as const)('agrees on three axes in a window of 95 %% of %s', async (_picture, lens, frames) => {
    const outline = windowOutline(lens, 640 * 0.95, 9 / 16, lens.distortion === null ? 2 : 5);
    const still = anglesOf(frames, {});
    const limits = windowLimits(outline, { vibration: still, rows: null });
    for (const seed of [1, 2, 3]) {
      const path = shakenMove(frames, seed, { moveRad: 0.1, shakeRad: 0.004 });
      const terms = smoothnessTerms(path, lens, RATE_HZ, PATH_WEIGHTS);
      const own = leastAbsolute(terms, limits!, new Float64Array(3 * frames));
      expect(own.converged).toBe(true);
      expectWithin(own.objective, (await optimumByHighs(terms, limits!, 3 * frames)).objective, AGREED);
    }
  });

  it('finds nothing smoother near the path that was found within a crop', async () => {
    // The upright delivery has much room at its sides: many paths are about equally smooth there, a reserve of up to 1e-3 of
    // the crop makes up for what that leaves open, and straight limits flatter paths that lie far from where they were taken.
    for (const [seed, maxCropPercent, shape, rel] of [
      [4, 2, 9 / 16, 1e-4],
      [5, 8, 9 / 16, 1e-4],
      [14, 1.5, 16 / 9, 1e-3],
    ]) {
      const frames = 40;
      const path = shakenMove(frames, seed, { moveRad: 0.2, shakeRad: 0.003 });
      const found = smoothestPath(path, null, camera, shape, { rateHz: RATE_HZ, maxCropPercent });
      expect(found.kind).toBe('moving');
      const outline = windowOutline(
        camera,
        Math.min(640, 360 / shape) * (1 - maxCropPercent / 100),
        shape,
        2,
      );
      const limits = windowLimits(outline, { vibration: found.vibration, rows: null });
      const terms = smoothnessTerms(path, camera, RATE_HZ, PATH_WEIGHTS);
      expectWithin(found.roughnessPx, (await optimumByHighs(terms, limits!, 3 * frames)).objective, {
        rel,
        why: 'a reserve of 3e-5 of the crop and more, and the square of the last change of the lines',
      });
    }
  });

  // Source: quoted as the paper's in public re-implementations of it; the paper itself was not at hand.
  it('weighs first, second and third derivative 10 to 1 to 100', () => {
    expect(PATH_WEIGHTS).toEqual({ first: 10, second: 1, third: 100 });
  });
});
