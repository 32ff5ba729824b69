import { describe, expect, it } from 'vitest';
import {
  CALIBRATION_BOARD,
  blackRectangles,
  boardCoverage,
  boardOutline,
  crossingAt,
  crossingCount,
  fewerTerms,
  isOneToOne,
  isUsableView,
  markerCount,
  pickDifferentViews,
  rotationFromVector,
  termsFor,
  type BoardCrossings,
} from '../../src/optics/index.js';
import { expectWithin } from '../support/expect-within.js';

const BOARD = CALIBRATION_BOARD;
const SIZE = { widthPx: 960, heightPx: 540 };
const EXACT = { abs: 1e-6, why: 'a homography through exact points' };

/** Pixel of a place of the board, in squares, through a pinhole camera of 800 px. */
function pinhole(
  x: number,
  y: number,
  turn: [number, number, number],
  at: [number, number, number],
): [number, number] {
  const r = rotationFromVector(...turn);
  const z = r[6] * x + r[7] * y + at[2];
  return [
    479.5 + (800 * (r[0] * x + r[1] * y + at[0])) / z,
    269.5 + (800 * (r[3] * x + r[4] * y + at[1])) / z,
  ];
}

/** A view of the crossings wanted. */
function view(
  turn: [number, number, number] = [0.3, -0.4, 0.1],
  at: [number, number, number] = [-5, -3, 14],
  wanted: (id: number) => boolean = () => true,
): BoardCrossings {
  const ids = Array.from({ length: crossingCount(BOARD) }, (_, id) => id).filter(wanted);
  const places = ids.map((id) => crossingAt(BOARD, id)).map(({ x, y }) => pinhole(x, y, turn, at));
  return {
    ids: Int32Array.from(ids),
    xPx: Float64Array.from(places, ([x]) => x),
    yPx: Float64Array.from(places, ([, y]) => y),
  };
}

describe('the calibration board', () => {
  const blank = Array.from({ length: markerCount(BOARD) }, () => new Uint8Array(36).fill(1));

  it('has 35 markers and 54 crossings, the first at the far corner of the black square in the top left', () => {
    expect(markerCount(BOARD)).toBe(35);
    expect(crossingCount(BOARD)).toBe(54);
    expect(crossingAt(BOARD, 0)).toEqual({ x: 1, y: 1 });
    expect(crossingAt(BOARD, 53)).toEqual({ x: 9, y: 6 });
  });

  it('is half black squares, and all-black markers fill 0.49 of the white ones', () => {
    const area = blackRectangles(BOARD, blank).reduce((sum, { width, height }) => sum + width * height, 0);
    expectWithin(area, 35 + 35 * 0.49, { abs: 1e-9, why: 'sum of exact areas' });
    expect(blackRectangles(BOARD, blank)[0]).toEqual({ x: 0, y: 0, width: 1, height: 1 });
  });

  it('refuses marker patterns of the wrong number or length', () => {
    expect(() => blackRectangles(BOARD, blank.slice(1))).toThrow(/must hold 35 patterns, got 34/);
    expect(() => blackRectangles(BOARD, [...blank.slice(1), new Uint8Array(4)])).toThrow(/36 cells, got 4/);
  });
});

describe('views of a board', () => {
  it('carry the outline of the pattern, also where only a part of the crossings is seen', () => {
    for (const wanted of [() => true, (id: number) => id < 31]) {
      const outline = boardOutline(BOARD, view([0.3, -0.4, 0.1], [-5, -3, 14], wanted));
      [
        [0, 0],
        [10, 0],
        [10, 7],
        [0, 7],
      ].forEach(([x, y], i) => {
        const [px, py] = pinhole(x, y, [0.3, -0.4, 0.1], [-5, -3, 14]);
        expectWithin(outline[2 * i], px, EXACT, `x of corner ${i}`);
        expectWithin(outline[2 * i + 1], py, EXACT, `y of corner ${i}`);
      });
    }
  });

  it('are usable with 12 crossings in three rows and columns, and not on a single line', () => {
    expect(isUsableView(BOARD, view())).toBe(true);
    expect(
      isUsableView(
        BOARD,
        view(undefined, undefined, (id) => id < 18),
      ),
    ).toBe(false);
    expect(
      isUsableView(
        BOARD,
        view(undefined, undefined, (id) => id % 9 < 3 && id < 27),
      ),
    ).toBe(false);
  });

  it('are picked once each, the furthest next, and repeats of a still board are left out', () => {
    const still = view();
    const near = view([0.3, -0.4, 0.1], [-4.98, -3, 14]);
    const side = view([0.3, -0.4, 0.1], [-7, -3, 14]);
    const tilted = view([-0.5, 0.3, 0], [-5, -3, 14]);
    const views = [still, near, side, still, tilted];
    const outlines = views.map((v) => boardOutline(BOARD, v));
    const picked = pickDifferentViews(views, outlines, 30, 20);
    expect(picked.slice().sort()).toEqual([0, 2, 4]);
    expect(pickDifferentViews(views, outlines, 2, 20)).toHaveLength(2);
  });

  it('cover the cells that hold a crossing, and reach out to the outermost one in each quarter', () => {
    const one = {
      ids: Int32Array.of(0, 1),
      xPx: Float64Array.of(-0.5 + 1e-9, 719.5),
      yPx: Float64Array.of(-0.5 + 1e-9, 404.5),
    };
    const coverage = boardCoverage([one, one], SIZE);
    expectWithin(coverage.share, 2 / 144, { abs: 1e-12, why: 'two cells of 16 x 9' });
    expectWithin(coverage.reach['top left'], 1, { abs: 1e-6, why: 'the very corner' });
    expectWithin(coverage.reach['bottom right'], 0.5, { abs: 1e-6, why: 'half way out' });
    expect(coverage.reach['top right']).toBe(0);
  });
});

describe('terms of the distortion model', () => {
  const sure = { k1: 0.001, k2: 0.001, p1: 0.0001, p2: 0.0001, k3: 0.001 };
  const all = { k2: true, k3: true, decentring: true };

  it('stay where each is far from zero and the views reach the corners', () => {
    const lens = { k1: -0.2, k2: 0.05, p1: 0.001, p2: 0, k3: -0.01 };
    expect(fewerTerms(all, lens, sure, 0.8)).toBe(all);
  });

  it('go one at a time: k3 first, then decentring, then k2', () => {
    const lens = { k1: -0.2, k2: 0.001, p1: 0.0001, p2: 0, k3: 0.001 };
    const first = fewerTerms(all, lens, sure, 0.8);
    expect(first).toEqual({ k2: true, k3: false, decentring: true });
    const second = fewerTerms(first, lens, sure, 0.8);
    expect(second).toEqual({ k2: true, k3: false, decentring: false });
    expect(fewerTerms(second, lens, sure, 0.8)).toEqual({ k2: false, k3: false, decentring: false });
  });

  it('are not even tried where the views stay near the middle, however sure they would look', () => {
    expect(termsFor(0.95)).toEqual(all);
    expect(termsFor(0.6)).toEqual({ k2: true, k3: false, decentring: true });
    expect(termsFor(0.4)).toEqual({ k2: false, k3: false, decentring: true });
  });

  it('go where they would fold the corners of the picture over', () => {
    const folding = { k1: -0.2, k2: 0.05, p1: 0.001, p2: 0, k3: -0.6 };
    expect(isOneToOne(folding, 0.86)).toBe(false);
    expect(fewerTerms(all, folding, sure, 0.86).k3).toBe(false);
  });

  it('fold where the closed form says: k1 = -0.3 shows nothing beyond 0.7027', () => {
    // r (1 - 0.3 r^2) peaks at r = 1/sqrt(0.9).
    const barrel = { k1: -0.3, k2: 0, p1: 0, p2: 0, k3: 0 };
    expect(isOneToOne(barrel, 0.7)).toBe(true);
    expect(isOneToOne(barrel, 0.71)).toBe(false);
  });
});
