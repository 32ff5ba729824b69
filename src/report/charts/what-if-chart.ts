/** Crop in per cent of the frame width over one thing that varies, such as the focal length in mm, with the range of the prediction. */
import { max } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import { bottomAxis, leftAxis, type PlotArea } from './axes.js';
import { boxAround, labelBox, placeLabel, type Box } from './place-label.js';
import { element, svgRoot, textElement } from './svg.js';

/** Grades that a point may have. */
export type PointGrade = 'pass' | 'marginal' | 'fail';

/** One case. */
export interface WhatIfPoint {
  readonly x: number;
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

const WIDTH = 360;
const HEIGHT = 250;
const PLOT: PlotArea = { left: 38, top: 28, right: 352, bottom: 212 };
/** A curve that climbs far beyond the limit is cut off at this many times it: what matters lies near the limit. */
const MOST_LIMITS = 4;
/** A limit further above the whole curve than this is named at the edge: the curve would be flat. */
const FAR_ABOVE = 2;
/** More than that of the picture nobody gives away. */
const MOST_PERCENT = 50;

/** Draws crop over x: band, curve, a shape by grade on each case, the limit dashed, the marks as diamonds. @returns SVG text, 360 x 250 */
export function whatIfChart({ label, xTitle, points, limitPercent, marks }: WhatIfChartData): string {
  const xs = [...points.map(({ x }) => x), ...marks.map(({ x }) => x)];
  const x = scaleLinear([0, max(xs) ?? 1], [PLOT.left, PLOT.right]).nice(6);
  const highest = Math.max(max(points, ({ high }) => high) ?? 0, max(marks, ({ percent }) => percent) ?? 0);
  const above = highest > 0 && limitPercent > FAR_ABOVE * highest;
  const shown = Math.max(max(marks, ({ percent }) => percent) ?? 0, MOST_LIMITS * limitPercent);
  const top = above
    ? 1.2 * highest
    : Math.min(MOST_PERCENT, Math.max(1.2 * limitPercent, Math.min(1.05 * highest, 1.2 * shown)));
  const y = scaleLinear([0, top || 1], [PLOT.bottom, PLOT.top]).nice(5);
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
  const limitAtTop = above || y(limitPercent) - PLOT.top < 14;
  const limitText = `limit ${Number(limitPercent.toPrecision(3))} %${above ? ' (above)' : ''}`;
  const limitY = above ? PLOT.top : y(limitPercent);
  const limitAt = { x: PLOT.left + 4, y: limitY + (limitAtTop ? 12 : -4), anchor: 'start' } as const;
  return svgRoot(
    WIDTH,
    HEIGHT,
    label,
    leftAxis(
      PLOT,
      y.ticks(5).map((value) => ({ at: y(value), label: String(value) })),
      'crop, % of width',
    ),
    bottomAxis(
      PLOT,
      x.ticks(6).map((value) => ({ at: x(value), label: String(value) })),
      xTitle,
    ),
    open && band !== null ? element('path', { class: 'open-band', d: band }) : '',
    above ? '' : element('line', { class: 'limit', x1: PLOT.left, x2: PLOT.right, y1: limitY, y2: limitY }),
    textElement({ class: 'limit-label', x: limitAt.x, y: limitAt.y }, limitText),
    element('path', { class: 'series angular', d: curve ?? '' }),
    ...marks.map((mark) => element('path', { class: 'chosen', d: diamond(x(mark.x), held(mark.percent)) })),
    ...points.map((point) =>
      point.percent > roof
        ? element('path', { class: 'grade-line', d: beyond(x(point.x), PLOT.top) })
        : gradeShape(point.grade, x(point.x), y(point.percent)),
    ),
    ...markNames(
      marks.map(({ x: at, percent, name }) => ({ name, x: x(at), y: held(percent) })),
      [
        labelBox(limitText, limitAt),
        ...points.map((point) => boxAround({ x: x(point.x), y: held(point.percent) }, 5)),
      ],
    ),
  );
}

/** The names of the marks, each where it covers neither a point nor another mark or its name. */
function markNames(
  marks: readonly { readonly name: string; readonly x: number; readonly y: number }[],
  points: readonly Box[],
): string[] {
  const covered = [...points, ...marks.map((mark) => boxAround(mark, 8))];
  return marks.map((mark) => {
    const place = placeLabel(mark.name, mark, PLOT, covered);
    covered.push(labelBox(mark.name, place));
    const { x, y, anchor } = place;
    return textElement({ class: 'peak-label', x, y, 'text-anchor': anchor }, mark.name);
  });
}

/** The shape of a grade in a line of text or a table: the one that stands in the charts. @returns SVG text, 12 x 12 */
export function gradeMark(grade: PointGrade): string {
  return element(
    'svg',
    { class: 'grade-mark', viewBox: '0 0 12 12', 'aria-hidden': 'true' },
    gradeShape(grade, 6, 6),
  );
}

function gradeShape(grade: PointGrade, x: number, y: number): string {
  const at = `${x.toFixed(2)} ${y.toFixed(2)}`;
  if (grade === 'pass') return element('circle', { class: 'grade-fill', cx: x, cy: y, r: 3.4 });
  if (grade === 'marginal') return element('path', { class: 'grade-fill', d: `M${at}m0 -4.6l4.6 8h-9.2z` });
  return element('path', { class: 'grade-line', d: `M${at}m-3.4 -3.4l6.8 6.8m0 -6.8l-6.8 6.8` });
}

/** An arrow head at the upper edge: the point lies above it. */
function beyond(x: number, top: number): string {
  return `M${(x - 3.5).toFixed(2)} ${(top + 4).toFixed(2)}l3.5 -4l3.5 4m-3.5 -4v9`;
}

function diamond(x: number, y: number): string {
  return `M${x.toFixed(2)} ${(y - 8).toFixed(2)}l8 8l-8 8l-8 -8z`;
}
