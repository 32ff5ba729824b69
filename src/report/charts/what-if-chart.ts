/** Crop in per cent of the frame width over one thing that varies, such as the focal length in mm, with the range of the prediction. */
import { max } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import { boundBeside, limitFigure, percentBeside } from '../../run/index.js';
import { costTexts, whatIfTexts } from '../../texts/index.js';
import { bottomAxis, leftAxis, type PlotArea } from './axes.js';
import { gradeShape } from './grade-shape.js';
import { boxesAlong, limitLabel } from './limit-label.js';
import { boxAround, labelBox, placeLabel, type Box } from './place-label.js';
import { nearestIndex, tickCount } from './live/stretch.js';
import type { ChartKind, ChartView, DrawnChart } from './live/types.js';
import { element, svgRoot, textElement } from './svg.js';
import { gradeWord } from './verdict-badge.js';

/** Grades that a point may have. */
export type PointGrade = 'pass' | 'marginal' | 'fail';

/** One case. */
export interface WhatIfPoint {
  readonly x: number;
  /** What the case is called where its values are told. @example "35 mm lens" */
  readonly name: string;
  readonly percent: number;
  /** Ends of the range; both equal to `percent` where the prediction leaves nothing open. */
  readonly low: number;
  readonly high: number;
  readonly grade: PointGrade;
}

/** A point of its own beside the curve. */
export interface WhatIfMark {
  readonly x: number;
  readonly percent: number;
  readonly name: string;
}

/** What the chart shows. */
export interface WhatIfChartData {
  readonly label: string;
  /** Quantity and unit under the chart. */
  readonly xTitle: string;
  /** In order of growing x. */
  readonly points: readonly WhatIfPoint[];
  readonly limitPercent: number;
  /** The pass as shot, and what was asked; drawn as diamonds with their names. */
  readonly marks: readonly WhatIfMark[];
}

/** From this width on the plot is taller. */
const WIDE_PX = 700;
/** Room around the plot: for the tick labels, the title above and the axis below. */
const LEFT = 38;
const RIGHT = 14;
const TOP = 28;
const AXIS = 38;
/** A curve that climbs far beyond the limit is cut off at this many times it: what matters lies near the limit. */
const MOST_LIMITS = 4;
/** A limit further above the whole curve than this is named at the edge: the curve would be flat. */
const FAR_ABOVE = 2;
/** More than that of the picture nobody gives away. */
const MOST_PERCENT = 50;

/** The chart: band, curve, a shape by grade on each case, the limit dashed, the marks as diamonds. */
export const whatIfCrop: ChartKind<WhatIfChartData> = {
  draw,
  series: () => [],
  axis: 'other',
  zoom: false,
};

function draw(data: WhatIfChartData, { widthPx }: ChartView): DrawnChart {
  const { label, xTitle, points, limitPercent, marks } = data;
  const plot: PlotArea = {
    left: LEFT,
    top: TOP,
    right: widthPx - RIGHT,
    bottom: TOP + (widthPx >= WIDE_PX ? 230 : 184),
  };
  const xs = [...points.map(({ x }) => x), ...marks.map(({ x }) => x)];
  const x = scaleLinear([0, max(xs) ?? 1], [plot.left, plot.right]).nice(6);
  const { above, top } = reachOf(data);
  const y = scaleLinear([0, top || 1], [plot.bottom, plot.top]).nice(5);
  const [, roof] = y.domain();
  const held = (percent: number): number => y(Math.min(percent, roof));
  const band = area<WhatIfPoint>()
    .x((point) => x(point.x))
    .y0(({ low }) => held(low))
    .y1(({ high }) => held(high))
    .digits(2)([...points]);
  const curve = line<WhatIfPoint>()
    .x((point) => x(point.x))
    .y(({ percent }) => held(percent))
    .digits(2)([...points]);
  const open = points.some(({ low, high }) => high > low);
  const spots = points.map((point) => ({ x: x(point.x), y: held(point.percent) }));
  const diamonds = marks.map(({ x: at, percent, name }) => ({ name, x: x(at), y: held(percent) }));
  const covered = [
    ...boxesAlong(spots),
    ...spots.map((spot) => boxAround(spot, 5)),
    ...diamonds.map((mark) => boxAround(mark, 8)),
  ];
  const limitY = above ? plot.top : y(limitPercent);
  const limit = limitLabel(
    { text: costTexts.limit(limitFigure(Number(limitPercent.toPrecision(3))), '%', above), y: limitY },
    plot,
    covered,
  );
  const svg = svgRoot(
    widthPx,
    plot.bottom + AXIS,
    label,
    leftAxis(
      plot,
      y.ticks(5).map((value) => ({ at: y(value), label: String(value) })),
      costTexts.cropAxis,
    ),
    bottomAxis(
      plot,
      x.ticks(Math.min(8, tickCount(plot))).map((value) => ({ at: x(value), label: String(value) })),
      xTitle,
    ),
    open && band !== null ? element('path', { class: 'open-band', d: band }) : '',
    above ? '' : element('line', { class: 'limit', x1: plot.left, x2: plot.right, y1: limitY, y2: limitY }),
    limit.svg,
    element('path', { class: 'series angular', d: curve ?? '' }),
    ...diamonds.map((mark) => element('path', { class: 'chosen', d: diamond(mark.x, mark.y) })),
    ...points.map((point) =>
      point.percent > roof
        ? element('path', { class: 'grade-line', d: beyond(x(point.x), plot.top) })
        : gradeShape(point.grade, x(point.x), y(point.percent)),
    ),
    ...markNames(diamonds, plot, [limit.box, ...covered]),
  );
  const stops = points.map((point) => point.x);
  return {
    svg,
    area: plot,
    domain: [x.domain()[0], x.domain()[1]],
    log: false,
    read: (at) => {
      const index = nearestIndex(stops, at);
      if (index < 0) return null;
      const point = points[index];
      return {
        at: point.x,
        place: point.name,
        values: [{ id: 'crop', text: readWords(point, limitPercent), yPx: held(point.percent) }],
      };
    },
    stops,
  };
}

/** How high the chart reaches, and whether the limit lies beyond that. */
function reachOf({ points, marks, limitPercent }: WhatIfChartData): { above: boolean; top: number } {
  const highestMark = max(marks, ({ percent }) => percent) ?? 0;
  const highest = Math.max(max(points, ({ high }) => high) ?? 0, highestMark);
  if (highest > 0 && limitPercent > FAR_ABOVE * highest) return { above: true, top: 1.2 * highest };
  const shown = Math.max(highestMark, MOST_LIMITS * limitPercent);
  const top = Math.max(1.2 * limitPercent, Math.min(1.05 * highest, 1.2 * shown));
  return { above: false, top: Math.min(MOST_PERCENT, top) };
}

function readWords({ percent, low, high, grade }: WhatIfPoint, limit: number): string {
  const range = low < high ? costTexts.readRange(percentBeside(low, limit), boundBeside(high, limit)) : '';
  return whatIfTexts.readCrop(percentBeside(percent, limit), range, gradeWord(grade).toLowerCase());
}

/** The names of the marks, each where it covers neither a point nor another mark or its name. */
function markNames(
  marks: readonly { readonly name: string; readonly x: number; readonly y: number }[],
  within: PlotArea,
  taken: readonly Box[],
): string[] {
  const covered = [...taken];
  return marks.map((mark) => {
    const place = placeLabel(mark.name, mark, within, covered);
    covered.push(labelBox(mark.name, place));
    const { x, y, anchor } = place;
    return textElement({ class: 'peak-label', x, y, 'text-anchor': anchor }, mark.name);
  });
}

/** An arrow head at the upper edge: the point lies above it. */
function beyond(x: number, top: number): string {
  return `M${(x - 3.5).toFixed(2)} ${(top + 4).toFixed(2)}l3.5 -4l3.5 4m-3.5 -4v9`;
}

function diamond(x: number, y: number): string {
  return `M${x.toFixed(2)} ${(y - 8).toFixed(2)}l8 8l-8 8l-8 -8z`;
}
