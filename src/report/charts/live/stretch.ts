/** Parts of a horizontal axis: what is shown of it, which samples lie there, where keys step; in the unit of the axis. */
import { bisectCenter, bisectLeft, bisectRight } from 'd3-array';
import { element } from '../svg.js';
import type { PlotArea } from '../axes.js';
import type { ChartView } from './types.js';

/** Two ends of a stretch, the lower first. */
export type Stretch = readonly [from: number, to: number];

/**
 * The part of the whole that a view asks for, cut to the whole; the whole itself where the view names none or one that lies beside it.
 *
 * @example stretchOf([0, 8], { widthPx: 360, from: 6, to: 10 }) // [6, 8]
 */
export function stretchOf(whole: Stretch, view: ChartView): Stretch {
  const from = Math.max(whole[0], view.from ?? whole[0]);
  const to = Math.min(whole[1], view.to ?? whole[1]);
  return from < to ? [from, to] : whole;
}

/** Index of the value nearest to `at`, the lower one of two as near; -1 for an empty list. @param sorted ascending */
export function nearestIndex(sorted: readonly number[], at: number): number {
  return sorted.length === 0 ? -1 : Math.max(0, bisectCenter(sorted, at));
}

/**
 * Indices that draw a stretch: those within it and one beyond each end, so that a curve runs to the edge of its plot.
 *
 * @param sorted ascending
 * @returns first index, and the one after the last; both 0 for an empty list
 */
export function indicesWithin(sorted: readonly number[], [from, to]: Stretch): readonly [number, number] {
  return [Math.max(0, bisectLeft(sorted, from) - 1), Math.min(sorted.length, bisectRight(sorted, to) + 1)];
}

/** More steps than this across one chart are too small to see. */
const MOST_STOPS = 240;

/**
 * Places that keys step through: the values within a stretch, every second, third ... one where there are very many, so that a step
 * can be seen. The last one stays.
 *
 * @param sorted ascending
 */
export function stopsWithin(
  sorted: readonly number[],
  [from, to]: Stretch,
  most: number = MOST_STOPS,
): readonly number[] {
  const within = sorted.slice(bisectLeft(sorted, from), bisectRight(sorted, to));
  const step = Math.max(1, Math.ceil(within.length / most));
  return within.filter((_, i) => i % step === 0 || i === within.length - 1);
}

/** Whether a series is drawn in a view. */
export function isShown(view: ChartView, id: string): boolean {
  return !(view.hidden ?? []).includes(id);
}

/** The series that a view draws. */
export function shownSeries<Series extends { readonly id: string }>(
  series: readonly Series[],
  view: ChartView,
): readonly Series[] {
  return series.filter(({ id }) => isShown(view, id));
}

/** How many ticks a horizontal axis has room for. @param labelPx room for one label and the gap to the next */
export function tickCount({ left, right }: PlotArea, labelPx = 56): number {
  return Math.max(2, Math.floor((right - left) / labelPx));
}

/** What reaches beyond the plot is cut at its edges: curves of a stretch run on outside of it. The children keep their coordinates. */
export function clipped({ left, top, right, bottom }: PlotArea, ...children: readonly string[]): string {
  const [width, height] = [right - left, bottom - top];
  return element(
    'svg',
    { x: left, y: top, width, height, viewBox: [left, top, width, height].join(' '), class: 'clip' },
    ...children,
  );
}
