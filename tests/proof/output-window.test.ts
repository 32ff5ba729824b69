/** Sizes of the output and where its pixels lie, and how exactly a grid of places stands for all of them. */
import { describe, expect, it } from 'vitest';
import { cameraPlaces, outputWindow, zoomAt } from '../../src/proof/output-window.js';
import { SourceGrid } from '../../src/proof/source-grid.js';
import { turnOfFrame } from '../../src/stabilise/index.js';
import { GRID_STEP_PX } from '../../src/vision/index.js';
import { expectWithin } from '../support/expect-within.js';
import { BARREL, cameraOf, rolling, shake, steady, viewOf } from './support/made-view.js';

const HD = { widthPx: 1920, heightPx: 1080 };
const camera = cameraOf(960, 540);
const still = steady(3, 0, 0, 0);

describe('the output', () => {
  it.each([
    ['the shape of the clip', HD, 9 / 16, 1920, 1080],
    ['upright', HD, 16 / 9, 608, 1080],
    ['square', HD, 1, 1080, 1080],
    ['wide', HD, 1 / 2.39, 1920, 804],
    ['a clip of odd sides', { widthPx: 853, heightPx: 481 }, 9 / 16, 852, 480],
  ])(
    'is the largest even rectangle of its shape inside the source: %s',
    (_, source, shape, widthPx, heightPx) => {
      const of = cameraOf(source.widthPx, source.heightPx);
      expect(outputWindow(source, viewOf(still, of, { shape }))).toMatchObject({ widthPx, heightPx });
    },
  );

  it('keeps stored pixels that are not square: what is square when shown is not as stored', () => {
    const stored = { widthPx: 1440, heightPx: 1080 };
    expect(outputWindow(stored, viewOf(still, camera))).toMatchObject(stored);
    const square = outputWindow(stored, viewOf(still, camera, { shape: 1 }));
    expect(square).toMatchObject({ widthPx: 810, heightPx: 1080 });
    // Shown, an output pixel is as wide as a stored one: 1920 / 1440.
    expectWithin(square.cameraPerPxX / square.cameraPerPxY, 4 / 3, { rel: 1e-12, why: 'rounding' });
  });

  it('shows no more than the window, whatever was rounded', () => {
    for (let k = 0; k < 40; k++) {
      const shape = 0.4 + 0.04 * k;
      const output = outputWindow(HD, viewOf(still, camera, { shape }));
      const half = Math.min(480, 270 / shape) / 1.1;
      const corner = cameraPlaces(
        output,
        1.1,
        Float64Array.of(output.widthPx - 0.5),
        Float64Array.of(output.heightPx - 0.5),
      );
      expect(corner.xPx[0] - 479.5).toBeLessThan(half + 1e-9);
      expect(corner.yPx[0] - 269.5).toBeLessThan(half * shape + 1e-9);
      // Of two sides one is filled, the other misses a rounding of a pixel at most.
      const missing = Math.max(
        (half - (corner.xPx[0] - 479.5)) / half,
        1 - (corner.yPx[0] - 269.5) / half / shape,
      );
      expect(missing).toBeLessThan(2 / 600);
    }
  });

  it('moves with a window off the middle and shrinks with the zoom', () => {
    const window = { kind: 'offCentre', offsetXPx: 12, offsetYPx: -7, zoom: 1.25 } as const;
    const output = outputWindow(HD, viewOf(still, camera, { window }));
    const at = cameraPlaces(output, 1.25, Float64Array.of(-0.5, 959.5), Float64Array.of(-0.5, 539.5));
    expectWithin(at.xPx[0], 479.5 + 12 - 480 / 1.25, { abs: 1e-9, why: 'rounding' });
    expectWithin(at.yPx[0], 269.5 - 7 - 270 / 1.25, { abs: 1e-9, why: 'rounding' });
    expectWithin(at.xPx[1], 491.5, { abs: 1e-9, why: 'rounding' });
    expectWithin(at.yPx[1], 262.5, { abs: 1e-9, why: 'rounding' });
  });

  it('refuses a shape that is none', () => {
    expect(() => outputWindow(HD, viewOf(still, camera, { shape: 0 }))).toThrow(
      /shape must be above 0, got 0/,
    );
    expect(() => outputWindow(HD, viewOf(still, camera, { shape: 1e5 }))).toThrow(/leaves nothing/);
  });
});

describe('a moving zoom', () => {
  it('is straight between its times and held before and after them', () => {
    const window = { kind: 'moving', zoom: Float64Array.of(1.1, 1.2, 1.4) } as const;
    const timeS = Float64Array.of(1, 2, 4);
    const at = [0, 1, 1.5, 2, 3, 4, 9].map((s) => zoomAt(window, timeS, s));
    at.forEach((zoom, k) =>
      expectWithin(zoom, [1.1, 1.1, 1.15, 1.2, 1.3, 1.4, 1.4][k], { abs: 1e-12, why: 'rounding' }),
    );
  });
});

describe('places on a grid', () => {
  it('stand for all pixels to 0.01 px, for luma and for chroma of half the density', () => {
    // Five degrees in all, on a strongly bent lens with a fast change over the rows: more than any shot worth stabilising.
    const of = cameraOf(960, 540, BARREL);
    const corrections = rolling(shake(20, 6));
    const output = outputWindow(HD, viewOf(corrections, of));
    for (const perSample of [1, 2]) {
      const cellPx = perSample * GRID_STEP_PX;
      const columns = Math.floor(1919 / cellPx);
      const count = columns * Math.floor(1079 / cellPx);
      /** A point in every cell, at shares u and v of the way across and down it. */
      const pointOfCells = (u: number, v: number): SourceGrid =>
        new SourceGrid(HD, output, of, {
          xPx: Float64Array.from({ length: count }, (_, i) => cellPx * ((i % columns) + u)),
          yPx: Float64Array.from({ length: count }, (_, i) => cellPx * (Math.floor(i / columns) + v)),
        });
      const corners = [pointOfCells(0, 0), pointOfCells(1, 0), pointOfCells(0, 1), pointOfCells(1, 1)];
      let worst = 0;
      for (const [u, v] of [
        [0.5, 0],
        [0, 0.5],
        [0.5, 0.5],
        [0.25, 0.5],
      ]) {
        const inside = pointOfCells(u, v);
        for (let t = 0; t < 20; t += 3) {
          const turn = turnOfFrame(corrections, t);
          const [a, b, c, d] = corners.map((corner) => corner.places(turn, 1.3));
          const between = (k: 'xPx' | 'yPx', i: number): number =>
            (1 - v) * ((1 - u) * a[k][i] + u * b[k][i]) + v * ((1 - u) * c[k][i] + u * d[k][i]);
          const exact = inside.places(turn, 1.3);
          for (let i = 0; i < count; i++) {
            const off = Math.hypot(between('xPx', i) - exact.xPx[i], between('yPx', i) - exact.yPx[i]);
            worst = Math.max(worst, off / perSample);
          }
        }
      }
      expectWithin(worst, 0, { abs: 0.01, why: 'a tenth of what tracking can see in a frame' });
    }
  });
});
