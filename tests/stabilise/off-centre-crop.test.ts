import fc from 'fast-check';
import highsModule from 'highs';
import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import type { Camera } from '../../src/optics/index.js';
import {
  exactCrop,
  largestCentredHalfWidth,
  offCentreCrop,
  sourcePlaces,
  turnOfFrame,
  wholeHalfWidth,
  type Corrections,
  type OffCentreCrop,
} from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { correctedPlace, farthestOutside, outline } from './support/plain-correction.js';
import { evenly } from '../support/evenly.js';

/** The package types its module as if it were CommonJS; what is imported is the loader itself. */
const loadHighs = highsModule as unknown as (typeof highsModule)['default'];

const camera = plainCamera(1920, 1080, 1866.7);
/** Tilts and pans of some pixels move the picture and do not bend it. */
const long = plainCamera(1920, 1080, 1e7);
const wide: Camera = {
  ...plainCamera(1920, 1080, 1200),
  centreXPx: 965,
  centreYPx: 531,
  distortion: { k1: -0.12, k2: 0.02, p1: 5e-4, p2: -3e-4, k3: 0 },
};
const FLAT = {
  abs: 0.011,
  why: 'half width given up to end the search and to have the window nearer to the middle, px',
};
const BEST_PX = 0.02;

function shake(...frames: (readonly [number, number, number])[]): Corrections {
  const column = (axis: number) => Float64Array.from(frames, (frame) => frame[axis]);
  return { vibration: { pan: column(0), tilt: column(1), roll: column(2) }, rows: null };
}

/** Shifts of the picture on the long lens, px to the right and down. */
function shifted(...frames: (readonly [number, number])[]): Corrections {
  return shake(...frames.map(([x, y]) => [x / 1e7, -y / 1e7, 0] as const));
}

/** Random shake with rows that turn by lines and parabolas. */
function wobbly(frames: number, seed: number, rad: number, rowRad: number): Corrections {
  const gaussian = gaussianRandom(seededRandom(seed));
  const column = () => Float64Array.from({ length: frames }, () => rad * gaussian());
  const rows = () => {
    const out = new Float64Array(9 * frames);
    for (let t = 0; t < frames; t++) {
      const slope = rowRad * gaussian();
      const bend = rowRad * gaussian();
      for (let k = 0; k < 9; k++) out[9 * t + k] = slope * (k / 4 - 1) + bend * (k / 4 - 1) ** 2;
    }
    return out;
  };
  const vibration = { pan: column(), tilt: column(), roll: column() };
  return { vibration, rows: rowRad > 0 ? { knots: 9, pan: rows(), tilt: rows(), roll: rows() } : null };
}

const halfWidthOf = (crop: OffCentreCrop, each: Camera, shape: number) =>
  wholeHalfWidth(each, shape) / crop.zoom;

/** Borders of all frames, pixel by pixel reading, px from the middle of the frame. */
function plainBorders(
  each: Camera,
  corrections: Corrections,
  perSide: number,
): { x: number[]; y: number[] }[] {
  const [w, h] = [each.widthPx, each.heightPx];
  return Array.from(corrections.vibration.pan, (_, t) => {
    const turn = turnOfFrame(corrections, t);
    const x: number[] = [];
    const y: number[] = [];
    const add = (px: number, py: number) => {
      const { xPx, yPx } = correctedPlace(each, turn, px - 0.5, py - 0.5);
      x.push(xPx - (w - 1) / 2);
      y.push(yPx - (h - 1) / 2);
    };
    for (let k = 0; k < perSide; k++) add((w * k) / perSide, 0);
    for (let k = 0; k < perSide; k++) add(w, (h * k) / perSide);
    for (let k = 0; k < perSide; k++) add(w - (w * k) / perSide, h);
    for (let k = 0; k < perSide; k++) add(0, h - (h * k) / perSide);
    return { x, y };
  });
}

/**
 * The best half width by search over the whole frame: a window that moves by d grows by no more than d (in the norm of the
 * window), so that parts of the frame which cannot hold a better one are left out. Within `tolerancePx`.
 */
function searched(
  borders: readonly { x: number[]; y: number[] }[],
  each: Camera,
  shape: number,
  tolerancePx: number,
) {
  const whole = wholeHalfWidth(each, shape);
  const room = (cx: number, cy: number) =>
    borders.reduce(
      (least, { x, y }) =>
        Math.min(
          least,
          largestCentredHalfWidth(
            x.map((v) => v - cx),
            y.map((v) => v - cy),
            shape,
          ),
        ),
      whole,
    );
  let best = room(0, 0);
  let cells = [{ cx: 0, cy: 0, half: each.widthPx / 2 }];
  while (cells.length > 0) {
    const next: typeof cells = [];
    for (const { cx, cy, half } of cells) {
      const here = room(cx, cy);
      best = Math.max(best, here);
      // Outside a border the room is 0 although it may lie just beside one: only the distance counts there.
      if (Math.min(whole, here + half) <= best + tolerancePx) continue;
      for (const [i, j] of [
        [-1, -1],
        [-1, 1],
        [1, -1],
        [1, 1],
      ])
        next.push({ cx: cx + (i * half) / 2, cy: cy + (j * half * shape) / 2, half: half / 2 });
    }
    cells = next.filter(({ half }) => half > tolerancePx / 4);
  }
  return best;
}

describe('the crop off the middle', () => {
  it('costs nothing when all frames are shifted alike: the window goes along', () => {
    const result = offCentreCrop(shifted([30, -20], [30, -20]), long);
    expectWithin(result.offsetXPx, 30, FLAT);
    expectWithin(result.offsetYPx, -20, FLAT);
    expectWithin(result.zoom, 1, { abs: 1.2e-5, why: 'as above, over the half width' });
    expectWithin(exactCrop(shifted([30, -20]), long).zoom, 1 / (1 - 40 / 1080), {
      abs: 1e-6,
      why: 'centred',
    });
  });

  it('is half of the centred one when half of the frames are shifted by d px: 1 - d/W against 1 - 2d/W', () => {
    const corrections = shifted([0, 0], [48, 0]);
    const result = offCentreCrop(corrections, long);
    expectWithin(960 / exactCrop(corrections, long).zoom, 960 - 48, FLAT);
    expectWithin(960 / result.zoom, 960 - 24, FLAT);
    expectWithin(result.offsetXPx, 24, FLAT);
    expectWithin(result.offsetYPx, 0, FLAT, 'stays in the middle where it is free to');
  });

  it('gains nothing on shifts to both sides', () => {
    const corrections = shifted([-20, 0], [20, 0], [0, 10], [0, -10]);
    const result = offCentreCrop(corrections, long);
    expectWithin(result.zoom, exactCrop(corrections, long).zoom, { abs: 1e-9, why: 'the very same window' });
    expectWithin(Math.hypot(result.offsetXPx, result.offsetYPx), 0, FLAT);
  });

  it('finds the window where the centred one would lie beyond the border altogether', () => {
    const corrections = shifted([1000, 0], [990, 0]);
    expect(exactCrop(corrections, long).coverable).toBe(false);
    const result = offCentreCrop(corrections, long);
    expect(result.coverable).toBe(true);
    expectWithin(result.offsetXPx, 995, FLAT);
    expectWithin(960 / result.zoom, 955, FLAT);
  });

  it('is the optimum of the linear programme over all sides of all frames, by HiGHS', async () => {
    const highs = await loadHighs();
    for (const seed of [1, 2, 3, 4, 5, 6]) {
      for (const shape of [9 / 16, 1 / 2.39, 16 / 9]) {
        const corrections = wobbly(12, seed, 0.01, 0);
        // Inner side of each edge, clockwise in x right, y down: n . (c + corner) <= n . p for the farthest corner.
        const limits = plainBorders(camera, corrections, 1).flatMap(({ x, y }) =>
          x.map((_, i) => {
            const j = (i + 1) % 4;
            const [nx, ny] = [y[j] - y[i], x[i] - x[j]];
            const length = Math.hypot(nx, ny);
            const terms = [nx, ny, Math.abs(nx) + shape * Math.abs(ny)].map((v) => v / length);
            const limit = (nx * x[i] + ny * y[i]) / length;
            return `${terms[0]} x + ${terms[1]} y + ${terms[2]} a <= ${limit}`.replaceAll('+ -', '- ');
          }),
        );
        const solution = highs.solve(
          `Maximize\n a\nSubject To\n${limits.join('\n')}\nBounds\n x free\n y free\n 0 <= a <= ${wholeHalfWidth(camera, shape)}\nEnd`,
        );
        expect(solution.Status).toBe('Optimal');
        expectWithin(
          halfWidthOf(offCentreCrop(corrections, camera, shape), camera, shape),
          solution.ObjectiveValue,
          FLAT,
        );
      }
    }
  });

  it.each([
    ['rows that turn', camera, 9 / 16],
    ['a bent lens and rows that turn', wide, 9 / 16],
    ['a bent lens and rows that turn, flat delivery', wide, 1 / 2.39],
    ['a bent lens and rows that turn, upright delivery', wide, 16 / 9],
  ])('is within 0.02 px of the best window that a search of the whole frame finds: %s', (_, each, shape) => {
    for (const seed of [11, 12, 13]) {
      const corrections = wobbly(3, seed, 0.006, 0.0015);
      const best = searched(plainBorders(each, corrections, 64), each, shape, BEST_PX / 2);
      const found = halfWidthOf(offCentreCrop(corrections, each, shape), each, shape);
      expect(found).toBeGreaterThan(best - BEST_PX);
      expect(found).toBeLessThan(best + BEST_PX);
    }
  });

  it('gives a window that comes from inside every frame, to 0.02 px', () => {
    for (const each of [camera, wide]) {
      for (const seed of [21, 22, 23]) {
        const corrections = wobbly(40, seed, 0.004, 0.001);
        const shape = 9 / 16;
        const result = offCentreCrop(corrections, each, shape);
        const { xPx, yPx } = outline(
          each,
          { ...result, halfWidthPx: halfWidthOf(result, each, shape), shape },
          500,
        );
        const outX = new Float64Array(xPx.length);
        const outY = new Float64Array(xPx.length);
        let outside = -Infinity;
        for (let t = 0; t < 40; t++) {
          sourcePlaces(turnOfFrame(corrections, t), each, xPx, yPx, outX, outY);
          outside = Math.max(outside, farthestOutside(each, outX, outY));
        }
        expect(outside).toBeLessThan(BEST_PX);
        expect(outside).toBeGreaterThan(-BEST_PX);
      }
    }
  });

  it('is never worse than the centred one', () => {
    const angle = evenly(-0.03, 0.03);
    const path = fc.array(fc.tuple(angle, angle, angle), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(
        path,
        fc.constantFrom(camera, wide),
        fc.constantFrom(9 / 16, 1 / 2.39, 16 / 9),
        (frames, each, shape) => {
          const corrections = shake(...frames);
          expect(offCentreCrop(corrections, each, shape).zoom).toBeLessThanOrEqual(
            exactCrop(corrections, each, shape).zoom + 1e-12,
          );
        },
      ),
      { seed: 220, numRuns: 25 },
    );
  });

  it('says so when no window can be cut, and keeps the whole picture without a frame', () => {
    expect(offCentreCrop(shake([3.1, 0, 0]), camera)).toMatchObject({
      coverable: false,
      offsetXPx: 0,
      offsetYPx: 0,
    });
    const apart = offCentreCrop(shifted([1000, 0], [-1000, 0]), long);
    expect(apart.coverable).toBe(false);
    expectWithin(apart.zoom, 20, { abs: 1e-9, why: 'limit of the zoom' });
    expect(offCentreCrop(shake(), camera)).toEqual({
      offsetXPx: 0,
      offsetYPx: 0,
      zoom: 1,
      cropPercent: 0,
      coverable: true,
    });
  });
});
