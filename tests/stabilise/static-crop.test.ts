/** One window for all frames, found from few of them: bit for bit that of the exact crop of every frame. */
import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import type { Camera } from '../../src/optics/index.js';
import { exactCrop, rowChanges, staticCrop, type AngularVibration } from '../../src/stabilise/index.js';

const gaussian = gaussianRandom(seededRandom(5));
const FRAMES = 80;
const series = (rad: number): Float64Array => Float64Array.from({ length: FRAMES }, () => rad * gaussian());
const shake = (rad: number): AngularVibration => ({
  pan: series(rad),
  tilt: series(rad / 2),
  roll: series(2 * rad),
});
const camera = (focalPx: number, distortion: Camera['distortion']): Camera => ({
  ...{ widthPx: 960, heightPx: 540, focalPx, centreXPx: 484, centreYPx: 269.5, distortion },
});
const BARREL = { k1: -0.18, k2: 0.04, k3: 0, p1: 0.001, p2: -0.002 };

describe('the crop of one window', () => {
  // Shake from a hardly visible one to one that leaves no picture; portrait, square and wide windows.
  it.each(
    [1e-4, 3e-3, 0.03, 0.3].flatMap((rad) => [9 / 16, 16 / 9, 0.42].map((shape) => [rad, shape] as const)),
  )('is that of all frames looked at one by one: %f rad, shape %f', (rad, shape) => {
    for (const lens of [camera(1500, null), camera(500, null), camera(700, BARREL)])
      for (const rows of [null, rowChanges(shake(rad), 25, 0.015)]) {
        const corrections = { vibration: shake(rad), rows };
        const { halfWidthShare, ...exact } = exactCrop(corrections, lens, shape);
        expect(halfWidthShare).toHaveLength(FRAMES);
        expect(staticCrop(corrections, lens, shape)).toEqual(exact);
      }
  });

  it('names the first of frames that need the same', () => {
    const zero = new Float64Array(3);
    const vibration = { pan: Float64Array.of(0, 0.01, 0.01), tilt: zero, roll: zero };
    expect(staticCrop({ vibration, rows: null }, camera(900, null), 9 / 16).worstFrame).toBe(1);
  });

  it('is none where there are no frames', () => {
    const none = new Float64Array(0);
    const corrections = { vibration: { pan: none, tilt: none, roll: none }, rows: null };
    expect(staticCrop(corrections, camera(900, null), 9 / 16)).toEqual({
      ...{ leastShare: 1, zoom: 1, cropPercent: 0, worstFrame: -1, coverable: true },
    });
  });
});
