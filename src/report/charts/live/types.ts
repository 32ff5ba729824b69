/**
 * What a chart has to offer so that the page can be looked into: the same function draws it into the file and again in the browser,
 * wider, zoomed or with series left out, and tells what stands at a place.
 *
 * How to make a kind: put its data into plain arrays, write `draw(data, view)` as a pure function and name it in `kinds.ts`.
 * - Width: the drawing is `view.widthPx` wide and 1 px of it is 1 px of the screen, so letters keep their size; leave room for
 *   fewer ticks on a narrow one (`tickCount`).
 * - Stretch: `stretchOf(whole, view)` is what the horizontal axis shows, `indicesWithin` are the samples to draw, `thinOut` takes
 *   those indices, and `clipped(area, ...)` cuts what runs beyond the plot. Vertical scales stay those of the whole, so that a
 *   closer look does not change how high a bump seems.
 * - Series: `shownSeries(series, view)`.
 * - Reading: `nearestIndex(sorted, at)` finds the sample; quantities are written with their unit, as everywhere on the page.
 * - Stops: `stopsWithin(sorted, stretch)`.
 * - Words come from texts/. No style attributes and no ids inside the drawing: one page holds it more than once.
 */
import type { PlotArea } from '../axes.js';

/** How a chart is to be drawn. */
export interface ChartView {
  /** Width of the drawing, px of its own box; the height is the chart's affair. Text keeps its size. */
  readonly widthPx: number;
  /** Part of the horizontal axis, in its unit; the whole of it when missing. */
  readonly from?: number;
  readonly to?: number;
  /** Series that are left out, by id. */
  readonly hidden?: readonly string[];
  /** Readings in one line: what else could be told is left out. */
  readonly brief?: boolean;
}

/** One value at a place of the horizontal axis. */
export interface ReadValue {
  /** Id of the series. */
  readonly id: string;
  /** As it is told: name, value and unit. @example "Tilt 0.032°" */
  readonly text: string;
  /** Height of the curve there, px of the drawing; null where there is nothing to mark. */
  readonly yPx: number | null;
}

/** What stands at a place. */
export interface Reading {
  /** The place that was really read (the nearest one with a value), in the unit of the horizontal axis. */
  readonly at: number;
  /** The place in words. @example "1.24 s, 00:00:01:06, 0.37 m" */
  readonly place: string;
  readonly values: readonly ReadValue[];
}

/** A chart as drawn. */
export interface DrawnChart {
  /** SVG text. */
  readonly svg: string;
  /** Inside of the plot, px of the drawing; a cursor reaches from its top to its bottom. */
  readonly area: PlotArea;
  /** What the left and the right end of the area stand for; descending where the axis runs to the left. */
  readonly domain: readonly [number, number];
  /** True when the horizontal axis is logarithmic. */
  readonly log: boolean;
  /** Reads the chart at a place of the horizontal axis; null where there is nothing. */
  readonly read: (at: number) => Reading | null;
  /** Places within the domain that arrow keys step through, ascending. */
  readonly stops: readonly number[];
}

/** A series that can be switched off. */
export interface ChartSeries {
  readonly id: string;
  readonly name: string;
  /** Classes of its line, for the sample beside its switch; no sample when missing. @example "series angular" */
  readonly sample?: string;
}

/** A kind of chart; `Data` must survive JSON (plain arrays, no typed ones). */
export interface ChartKind<Data> {
  readonly draw: (data: Data, view: ChartView) => DrawnChart;
  /** Series with a switch each; empty when there is nothing to switch. */
  readonly series: (data: Data) => readonly ChartSeries[];
  /** Charts with one axis move their cursor (and zoom) together. */
  readonly axis: 'time' | 'distance' | 'frequency' | 'other';
  /** Whether a part of the horizontal axis can be shown. */
  readonly zoom: boolean;
  /** The shortest stretch that can be shown, in the unit of the axis; a part of the whole decides where it is missing. */
  readonly closest?: number;
}
