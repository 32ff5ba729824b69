/**
 * The profile of the floor or rail along the run: height in mm or in against distance, with 95 % bands and numbered bumps; the mean of both
 * wheel lines, and under it each by itself where they are known apart.
 */
import { quantileSorted } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { area as areaPath, line as linePath } from 'd3-shape';
import { floorChartTexts as texts } from '../../texts/index.js';
import { leftAxis, type PlotArea } from './axes.js';
import { heightUnit } from './axis-units.js';
import {
  CLOSEST_M,
  distanceAxis,
  distanceAxisRoom,
  distanceScale,
  placeAlong,
  type AlongRun,
} from './distance-axis.js';
import { heightText } from './floor-strip.js';
import type { StripLine } from './floor-strip-data.js';
import { placeMarks } from './floor-strip-marks.js';
import {
  clipped,
  indicesWithin,
  isShown,
  nearestIndex,
  shownSeries,
  stopsWithin,
  stretchOf,
  type Stretch,
} from './live/stretch.js';
import type { ChartKind, ChartSeries, ChartView, DrawnChart, Reading } from './live/types.js';
import { element, px, svgRoot, textElement } from './svg.js';
import { thinOut } from './thin-out.js';

/** What the profile chart shows. */
export interface ProfileChartData extends AlongRun {
  /** Ascending, m, length n. */
  readonly distanceM: readonly number[];
  /** The mean first, then left and right where they are known apart; heights and half of their 95 % bands of length n. */
  readonly lines: readonly StripLine[];
  /** Worst first, with the number that the list uses; without one the place alone is marked. */
  readonly bumps: readonly { readonly atM: number; readonly mark: string }[];
}

const LEFT = 46;
const RIGHT_MARGIN = 14;
const TOP = 24;
const MAIN_HEIGHT = 130;
const LINES_HEIGHT = 110;
const BETWEEN = 30;
/** The title of the first plot stands over the numbers of the bumps. */
const TITLE_UP = 26;
const MARK_ROW = 13;
/** The scale takes in this share of the bands; where a band is wider it runs out of the plot. */
const BAND_SHARE = 0.9;

type Scale = (value: number) => number;

/** One plot: the curves that share a scale of heights. */
interface Plot {
  readonly area: PlotArea;
  readonly y: Scale;
  readonly lines: readonly StripLine[];
  readonly svg: string;
}

function draw(data: ProfileChartData, view: ChartView): DrawnChart {
  const shown = stretchOf([data.fromM, data.toM], view);
  const right = view.widthPx - RIGHT_MARGIN;
  const marked = data.bumps.length > 0;
  const top = marked ? TOP + TITLE_UP : TOP;
  const main = { left: LEFT, right, top, bottom: top + MAIN_HEIGHT };
  const [mean, ...sides] = data.lines;
  const below = { ...main, top: main.bottom + BETWEEN, bottom: main.bottom + BETWEEN + LINES_HEIGHT };
  const x = distanceScale(main, shown);
  const { unit } = heightUnit(data.units);
  const plots = [
    plotOf(
      data,
      main,
      mean === undefined ? [] : [mean],
      x,
      shown,
      view,
      texts.heightAxis(unit),
      data.bumps.length > 0 ? TITLE_UP : 0,
    ),
    ...(sides.length > 0 ? [plotOf(data, below, sides, x, shown, view, texts.linesAxis(unit))] : []),
  ];
  const last = plots[plots.length - 1].area;
  const area = { ...last, top: main.top };
  const svg = svgRoot(
    view.widthPx,
    last.bottom + distanceAxisRoom(data),
    texts.profileLabel,
    distanceAxis(data, area, shown),
    ...plots.map((plot, i) => bumpLines(data, x, plot.area, i === 0)),
    ...plots.map((plot) => plot.svg),
  );
  return {
    svg,
    area,
    domain: shown,
    log: false,
    read: (at) => read(data, view, plots, at),
    stops: stopsWithin(data.distanceM, shown),
  };
}

function plotOf(
  data: ProfileChartData,
  area: PlotArea,
  lines: readonly StripLine[],
  x: Scale,
  shown: Stretch,
  view: ChartView,
  title: string,
  titleUp = 0,
): Plot {
  const { size } = heightUnit(data.units);
  const [low, high] = reachOf(lines);
  const inUnit = scaleLinear([low / size, high / size], [area.bottom, area.top]).nice(4);
  const y: Scale = (heightMm) => inUnit(heightMm / size);
  const label = inUnit.tickFormat(4);
  const ticks = inUnit.ticks(4).map((value) => ({ at: inUnit(value), label: label(value) }));
  const range = indicesWithin(data.distanceM, shown);
  const visible = shownSeries(lines, view);
  const curves = visible.map((line) => curveOf(line, data.distanceM, x, y, range, area.right - area.left));
  const svg = [
    leftAxis({ ...area, top: area.top - titleUp }, ticks, `${title} (${texts.band})`),
    clipped(area, ...curves.map(({ band }) => band), ...curves.map(({ path }) => path)),
    lines.length > 1 ? names(visible, data.distanceM, x, y, area, range) : '',
  ].join('');
  return { area, y, lines, svg };
}

function curveOf(
  { id, heightMm, bandMm }: StripLine,
  distanceM: readonly number[],
  x: Scale,
  y: Scale,
  [first, end]: readonly [number, number],
  columns: number,
): { readonly band: string; readonly path: string } {
  const indices = thinOut(heightMm, columns, first, end);
  const band = areaPath<number>()
    .x((i) => x(distanceM[i]))
    .y0((i) => y(heightMm[i] - bandMm[i]))
    .y1((i) => y(heightMm[i] + bandMm[i]))
    .digits(2)(indices);
  const path = linePath<number>()
    .x((i) => x(distanceM[i]))
    .y((i) => y(heightMm[i]))
    .digits(2)(indices);
  return {
    band: element('path', { class: id === 'mean' ? 'noise-band' : 'noise-band side-band', d: band ?? '' }),
    path: element('path', { class: SAMPLES[id], d: path ?? '' }),
  };
}

const SAMPLES = {
  mean: 'floor-line-mean',
  left: 'floor-line',
  right: 'floor-line-right',
} as const;

/** The names of two lines where they are farthest apart, above the higher one and below the lower one. */
function names(
  lines: readonly StripLine[],
  distanceM: readonly number[],
  x: Scale,
  y: Scale,
  area: PlotArea,
  [first, end]: readonly [number, number],
): string {
  const [one, other] = lines;
  if (one === undefined) return '';
  const apart = (i: number): number =>
    other === undefined ? Math.abs(one.heightMm[i]) : Math.abs(one.heightMm[i] - other.heightMm[i]);
  let best = -1;
  for (let i = first; i < end; i++) {
    const at = x(distanceM[i]);
    const fits = at > area.left + 24 && at < area.right - 24;
    if (fits && (best < 0 || apart(i) > apart(best))) best = i;
  }
  if (best < 0) return '';
  const highest = Math.max(...lines.map(({ heightMm }) => heightMm[best]));
  return lines
    .map(({ id, heightMm }) => {
      const up = lines.length === 1 || heightMm[best] === highest;
      const at = y(heightMm[best]) + (up ? -5 : 13);
      const within = Math.min(Math.max(at, area.top + 10), area.bottom - 3);
      return textElement(
        { class: 'line-name', x: x(distanceM[best]), y: within, 'text-anchor': 'middle' },
        texts[id],
      );
    })
    .join('');
}

function bumpLines({ bumps }: ProfileChartData, x: Scale, area: PlotArea, numbered: boolean): string {
  const inside = bumps
    .map(({ atM, mark }) => ({ x: x(atM), mark }))
    .filter(({ x: at }) => at >= area.left && at <= area.right);
  const placed = numbered ? placeMarks(inside) : [];
  return [
    ...inside.map(({ x: at, mark }) => {
      const short = mark === '' ? area.bottom - 6 : area.top - (numbered ? 4 : 0);
      return element('path', { class: 'bump', d: `M${px(at)} ${px(short)}V${px(area.bottom)}` });
    }),
    ...placed.map(({ x: at, mark, row }) =>
      textElement(
        { class: 'peak-label', x: at, y: area.top - 8 - MARK_ROW * row, 'text-anchor': 'middle' },
        mark,
      ),
    ),
  ].join('');
}

function read(
  { distanceM, ...run }: ProfileChartData,
  view: ChartView,
  plots: readonly Plot[],
  at: number,
): Reading | null {
  const i = nearestIndex(distanceM, at);
  if (i < 0) return null;
  const values = plots.flatMap(({ lines, y, area }) =>
    lines
      .filter(({ id }) => isShown(view, id))
      .map(({ id, heightMm, bandMm }) => ({
        id,
        text: heightText(texts[id], heightMm[i], bandMm[i]),
        yPx: Math.min(Math.max(y(heightMm[i]), area.top), area.bottom),
      })),
  );
  return { at: distanceM[i], place: placeAlong(run, distanceM[i]), values };
}

/** Heights of all lines with most of their bands, mm. */
function reachOf(lines: readonly StripLine[]): [number, number] {
  const heights = lines.flatMap(({ heightMm }) => heightMm);
  const bands = lines.flatMap(({ bandMm }) => bandMm).sort((a, b) => a - b);
  if (heights.length === 0) return [-1, 1];
  const room = quantileSorted(bands, BAND_SHARE) ?? 0;
  const low = heights.reduce((least, height) => Math.min(least, height), Infinity) - room;
  const high = heights.reduce((most, height) => Math.max(most, height), -Infinity) + room;
  return high > low ? [low, high] : [low - 1, high + 1];
}

/** The kind of the chart: one axis with the strip, a part of the run can be shown. */
export const profile: ChartKind<ProfileChartData> = {
  draw,
  series: ({ lines }) =>
    lines.map(({ id }): ChartSeries => {
      const name = { mean: texts.meanLine, left: texts.leftLine, right: texts.rightLine }[id];
      return { id, name, sample: SAMPLES[id] };
    }),
  axis: 'distance',
  zoom: true,
  closest: CLOSEST_M,
};
