import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  indicesWithin,
  nearestIndex,
  shownSeries,
  stopsWithin,
  stretchOf,
  thinOut,
} from '../../src/report/charts/index.js';
import { pxAt, valueAt, type DrawnAxis } from '../../src/report/page-script/place.js';
import { placeAfter, stepOf } from '../../src/report/page-script/step.js';
import { aside, between, closer, wider, type ZoomAxis } from '../../src/report/page-script/zoom.js';
import { expectWithin } from '../support/expect-within.js';

/** Rounding of a few steps of arithmetic on values up to a hundred. */
const ROUNDING = { abs: 1e-9 };
const AREA = { left: 40, top: 20, right: 340, bottom: 160 };
const LINEAR: ZoomAxis = { whole: [0, 8], log: false };
const LOG: ZoomAxis = { whole: [1, 16], log: true };

describe('a stretch of an axis', () => {
  it('is cut to the whole, and is the whole where it lies beside it', () => {
    expect(stretchOf([0, 8], { widthPx: 360, from: 6, to: 10 })).toEqual([6, 8]);
    expect(stretchOf([0, 8], { widthPx: 360, from: 9, to: 10 })).toEqual([0, 8]);
    expect(stretchOf([0, 8], { widthPx: 360 })).toEqual([0, 8]);
  });

  it('is drawn with one sample beyond each end, so that curves reach the edges', () => {
    expect(indicesWithin([0, 1, 2, 3, 4, 5], [1.5, 3.5])).toEqual([1, 5]);
    expect(indicesWithin([0, 1, 2], [-1, 9])).toEqual([0, 3]);
    expect(indicesWithin([], [0, 1])).toEqual([0, 0]);
  });

  it('is stepped through sample by sample, in wider steps where there are very many, the last one kept', () => {
    expect(stopsWithin([0, 1, 2, 3, 4], [1, 3])).toEqual([1, 2, 3]);
    const stops = stopsWithin(
      Array.from({ length: 1001 }, (_, i) => i),
      [0, 1000],
      100,
    );
    expect(stops.length).toBeLessThanOrEqual(101);
    expect([stops[0], stops[1], stops[stops.length - 1]]).toEqual([0, 11, 1000]);
  });

  it('keeps the highest and the lowest sample when a part of a long series is thinned', () => {
    const values = Array.from({ length: 5000 }, (_, i) => (i === 3100 ? 9 : i === 100 ? 99 : Math.sin(i)));
    const kept = thinOut(values, 50, 2000, 4000);
    expect(kept).toContain(3100);
    expect([kept[0], kept[kept.length - 1]]).toEqual([2000, 3999]);
    expect(kept.length).toBeLessThanOrEqual(102);
  });
});

describe('what is read', () => {
  it('is the sample nearest to a place', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 1, maxLength: 20 }),
        fc.integer({ min: -60, max: 60 }),
        (values, at) => {
          const sorted = [...values].sort((a, b) => a - b);
          const least = Math.min(...sorted.map((value) => Math.abs(value - at)));
          expect(Math.abs(sorted[nearestIndex(sorted, at)] - at)).toBe(least);
        },
      ),
      { seed: 7 },
    );
    expect(nearestIndex([], 1)).toBe(-1);
  });

  it('leaves out the series that are switched off', () => {
    const series = [{ id: 'a' }, { id: 'b' }];
    expect(shownSeries(series, { widthPx: 360, hidden: ['a'] })).toEqual([{ id: 'b' }]);
    expect(shownSeries(series, { widthPx: 360 })).toEqual(series);
  });

  it.each<[string, DrawnAxis]>([
    ['a linear', { area: AREA, domain: [2, 10], log: false }],
    ['a logarithmic', { area: AREA, domain: [0.5, 50], log: true }],
    ['a reversed logarithmic', { area: AREA, domain: [3, 0.03], log: true }],
  ])('stands where the pointer is on %s axis', (_, axis) => {
    for (const x of [AREA.left, 100, 222.5, AREA.right])
      expectWithin(pxAt(axis, valueAt(axis, x)) ?? Number.NaN, x, ROUNDING);
  });

  it('is the end where the pointer is beside the plot, and nothing stands for a value beside it', () => {
    const axis: DrawnAxis = { area: AREA, domain: [2, 10], log: false };
    expect([valueAt(axis, 0), valueAt(axis, 999)]).toEqual([2, 10]);
    expect([pxAt(axis, 1.9), pxAt(axis, 10.1)]).toEqual([null, null]);
  });

  it('goes on by keys and stops at the ends; the first key begins at the first place', () => {
    const stops = [0, 1, 2, 3];
    expect(placeAfter(stops, 1.2, stepOf('ArrowRight') ?? 0)).toBe(2);
    expect(placeAfter(stops, 2, stepOf('PageUp') ?? 0)).toBe(3);
    expect(placeAfter(stops, 2, stepOf('Home') ?? 0)).toBe(0);
    expect(placeAfter(stops, null, stepOf('ArrowRight') ?? 0)).toBe(0);
    expect(placeAfter(stops, null, stepOf('End') ?? 0)).toBe(3);
    expect(placeAfter([], null, 1)).toBeNull();
    expect(stepOf('a')).toBeNull();
  });
});

describe('looking closer', () => {
  it('halves what is shown around the place that is read, which stays where it was', () => {
    expect(closer(LINEAR, null, 6)).toEqual([3, 7]);
    expect(closer(LINEAR, null, null)).toEqual([2, 6]);
    const [from, to] = closer(LOG, null, 4) ?? [0, 0];
    expectWithin(from, 2, ROUNDING);
    expectWithin(to, 8, ROUNDING);
  });

  it('never gets closer than a 256th of the whole', () => {
    let shown: readonly [number, number] | null = null;
    for (let i = 0; i < 20; i++) shown = closer(LINEAR, shown, 3);
    const [from, to] = shown ?? [0, 0];
    expectWithin(to - from, 8 / 256, ROUNDING);
  });

  it('never gets closer than an axis allows', () => {
    const axis = { ...LINEAR, closest: 0.5 };
    expect(between(axis, 3, 3)).toEqual([2.75, 3.25]);
    expect(closer(axis, [3, 3.6], null)?.map((end) => Number(end.toFixed(6)))).toEqual([3.05, 3.55]);
    expect(closer({ ...LINEAR, closest: 99 }, null, null)).toBeNull();
  });

  it('is undone by looking wider, back to the whole', () => {
    expect(wider(LINEAR, [3, 7], 6)).toBeNull();
    expect(wider(LINEAR, [6, 8], null)).toEqual([4, 8]);
  });

  it('goes aside by half of what is shown and stays within the whole', () => {
    expect(aside(LINEAR, [2, 4], 1)).toEqual([3, 5]);
    expect(aside(LINEAR, [0.5, 2.5], -1)).toEqual([0, 2]);
    expect(aside(LINEAR, null, 1)).toBeNull();
  });

  it('shows what was dragged over, in either direction', () => {
    expect(between(LINEAR, 5, 3)).toEqual([3, 5]);
    expect(between(LINEAR, 0, 8)).toBeNull();
  });
});
