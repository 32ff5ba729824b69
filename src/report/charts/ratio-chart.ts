/**
 * Ratios of one setup over another with their 95 % ranges on a log axis around 1: left the first is smoother, right the second.
 *
 * What is clear is drawn in full with a triangle that points to the smoother side; what is not is a grey dashed bar with an empty
 * circle, and a square where both are the same within 10 %: shapes say it without colour. A grey field about 1 holds the differences
 * that are too small to be told.
 */
import { scaleLog, type ScaleLogarithmic } from 'd3-scale';
import { figure } from '../../run/index.js';
import { comparedRatioTexts } from '../../texts/index.js';
import type { PlotArea } from './axes.js';
import { nearestIndex } from './live/stretch.js';
import type { ChartKind, ChartView, DrawnChart, Reading } from './live/types.js';
import { rangeBar, ratioMark } from './ratio-marks.js';
import { element, svgRoot, textElement } from './svg.js';
import { shorten } from './text-fit.js';

/** One row. */
export interface RatioRow {
  readonly name: string;
  /** A over B; null where nothing was compared, and where one side under its noise is smoother by its bound. */
  readonly ratio: number | null;
  readonly ci95: readonly [number, number] | null;
  /** Both as printed beside the row; an empty range is left out. */
  readonly value: string;
  readonly range: string;
  /** What the row says, in a few words. */
  readonly says: string;
  readonly mark: RatioMark;
  /** The smallest factor that can be told from 1, above 1; null where it is not shown. */
  readonly least: number | null;
}

/** What a row says. */
export type RatioMark = 'aSmoother' | 'bSmoother' | 'same' | 'unclear' | 'none';

/** What the chart shows. */
export interface RatioChartData {
  readonly label: string;
  readonly a: string;
  readonly b: string;
  readonly rows: readonly RatioRow[];
  /** The axis runs from 1/span to span, so that several charts can share it; see {@link ratioSpan}. */
  readonly span: number;
}

/** From the plot to the figures, px: a mark at its edge has room. */
const GAP = 10;
/** Room at the right for the printed figures, px. */
const FIGURES = 94;
const TOP = 44;
const ROW = 34;
const AXIS = 34;
/** Ranges beyond this factor are cut with an arrow, unless a ratio itself lies farther out. */
const WIDEST = 10;
/** Ratios beyond this factor have their mark at the end of the axis. */
const WIDEST_RATIO = 1000;
/** Room for the mark of the ratio that lies farthest out, as a factor. */
const MARK_ROOM = 1.2;
const NARROWEST = 1.6;
/** Room for one character of a name, px, and for the shortest names. */
const CHARACTER = 7.6;
const LEAST_NAME = 40;
/** Least room between the ticks, px. */
const TICK_ROOM = 30;
const CAPTION_CHARS = 28;
const NAME_CHARS = 12;
/** Of each name in the title of the axis. */
const AXIS_CHARS = 16;

/** The factor that holds every range of the rows, 1.6 to 10, and every ratio of them, however far out. */
export function ratioSpan(rows: readonly Pick<RatioRow, 'ratio' | 'ci95'>[]): number {
  const away = (value: number): number => Math.max(value, 1 / value);
  const ratios = rows.flatMap(({ ratio }) => (ratio === null ? [] : [away(ratio)]));
  const ends = rows.flatMap(({ ci95 }) => (ci95 ?? []).map(away));
  const ranges = Math.min(WIDEST, Math.max(NARROWEST, ...ratios, ...ends) * 1.06);
  return Math.max(ranges, Math.min(WIDEST_RATIO, Math.max(1, ...ratios) * MARK_ROOM));
}

/** The chart; higher with more rows. */
export const ratioChart: ChartKind<RatioChartData> = { draw, series: () => [], axis: 'other', zoom: false };

function draw({ label, a, b, rows, span }: RatioChartData, { widthPx }: ChartView): DrawnChart {
  const longest = Math.min(NAME_CHARS, Math.max(...rows.map(({ name }) => name.length), 0));
  const left = Math.max(LEAST_NAME, 8 + CHARACTER * longest);
  const area: PlotArea = {
    left,
    top: TOP - 6,
    right: Math.max(left + 60, widthPx - FIGURES),
    bottom: TOP + ROW * rows.length,
  };
  const domain = [1 / span, span] as const;
  const x = scaleLog(domain, [area.left, area.right]).clamp(true);
  const middle = (row: number): number => TOP + ROW * (row + 0.5);
  const svg = svgRoot(
    widthPx,
    area.bottom + AXIS,
    label,
    ...rows.map(({ least }, i) => (least === null ? '' : untold(least, middle(i), x))),
    sideNames(a, b, x(1), widthPx),
    ratioAxis(area, span, x, comparedRatioTexts.chart.axis(shorten(a, AXIS_CHARS), shorten(b, AXIS_CHARS))),
    ...rows.map((row, i) => drawRow(row, { a, b }, middle(i), area, x)),
  );
  const placed = rows.flatMap((row, i) =>
    row.ratio === null
      ? []
      : [{ row, yPx: middle(i), at: Math.min(domain[1], Math.max(domain[0], row.ratio)) }],
  );
  const stops = [...new Set(placed.map(({ at }) => at))].sort((p, q) => p - q);
  const read = (at: number): Reading | null => {
    const nearest = nearestIndex(stops, at);
    if (nearest < 0) return null;
    const here = placed.filter((one) => one.at === stops[nearest]);
    return {
      at: stops[nearest],
      place: here.map(({ row }) => row.name).join(', '),
      values: here.map(({ row: { name, value, range, says }, yPx }) => ({
        id: name,
        text: comparedRatioTexts.chart.read(value, range, says),
        yPx,
      })),
    };
  };
  return { svg, area, domain, log: true, read, stops };
}

/** The field about 1 that holds what cannot be told. */
function untold(least: number, y: number, x: ScaleLogarithmic<number, number>): string {
  const [from, to] = [x(1 / least), x(least)];
  return element('rect', {
    class: 'untold',
    x: from,
    y: y - ROW / 2 + 3,
    width: to - from,
    height: ROW - 6,
  });
}

/** Which setup lies to which side. */
function sideNames(a: string, b: string, one: number, widthPx: number): string {
  const caption = (name: string, word: string, end: boolean): string => {
    const at = { x: end ? one - 8 : one + 8, 'text-anchor': end ? 'end' : 'start' };
    const room = Math.floor(((end ? one : widthPx - one) - 8) / CHARACTER);
    return [
      textElement({ ...at, class: 'side-name', y: 14 }, shorten(name, Math.min(CAPTION_CHARS, room))),
      textElement({ ...at, y: 28 }, word),
    ].join('');
  };
  const { leftSmoother, rightSmoother } = comparedRatioTexts.chart;
  return caption(a, leftSmoother, true) + caption(b, rightSmoother, false);
}

function ratioAxis(
  { left, top, right, bottom }: PlotArea,
  span: number,
  x: ScaleLogarithmic<number, number>,
  title: string,
): string {
  const ticks = ratioTicks(span, x).map((tick) =>
    [
      element('line', {
        class: tick === 1 ? 'ratio-one' : 'grid',
        x1: x(tick),
        x2: x(tick),
        y1: tick === 1 ? 6 : top,
        y2: bottom,
      }),
      textElement({ class: 'tick-label', x: x(tick), y: bottom + 15, 'text-anchor': 'middle' }, figure(tick)),
    ].join(''),
  );
  return [
    ...ticks,
    element('line', { class: 'axis', x1: left, x2: right, y1: bottom, y2: bottom }),
    textElement(
      { class: 'axis-title', x: (left + right) / 2, y: bottom + 29, 'text-anchor': 'middle' },
      title,
    ),
  ].join('');
}

/** Ticks at ratios that are easy to say, the same factor to both sides, as far as their labels have room. */
function ratioTicks(span: number, x: ScaleLogarithmic<number, number>): number[] {
  const factors =
    span < 2
      ? [1.2, 1.5]
      : span < 3.2
        ? [1.5, 2, 3]
        : span < 5
          ? [2, 4]
          : span < 40
            ? [2, 5, 10, 20]
            : [5, 20, 100, 500];
  let last = x(1);
  const within = factors.filter((factor) => {
    const room = factor <= span * 1.001 && x(factor) - last >= TICK_ROOM;
    if (room) last = x(factor);
    return room;
  });
  return [...within.map((factor) => 1 / factor).reverse(), 1, ...within];
}

/** In place of figures: which side is smoother by its bound, the name above the word, or that nothing was compared. */
function withoutRatio(
  mark: RatioMark,
  { a, b }: Pick<RatioChartData, 'a' | 'b'>,
  x: number,
  y: number,
): string {
  if (mark !== 'aSmoother' && mark !== 'bSmoother')
    return textElement({ x, y: y + 4 }, comparedRatioTexts.notCompared);
  const name = shorten(mark === 'aSmoother' ? a : b, NAME_CHARS);
  return [
    textElement({ class: 'row-value clear', x, y: y - 1 }, name),
    textElement({ x, y: y + 12 }, comparedRatioTexts.chart.smoother),
  ].join('');
}

function drawRow(
  { name, ratio, ci95, value, range, mark }: RatioRow,
  sides: Pick<RatioChartData, 'a' | 'b'>,
  y: number,
  { left, right }: PlotArea,
  x: ScaleLogarithmic<number, number>,
): string {
  const clear = mark === 'aSmoother' || mark === 'bSmoother';
  const title = textElement({ class: 'row-name', x: 0, y: y + 4 }, shorten(name, NAME_CHARS));
  if (ratio === null) return title + withoutRatio(mark, sides, right + GAP, y);
  const [low, high] = x.domain();
  const outside = { low: ci95 !== null && ci95[0] < low, high: ci95 !== null && ci95[1] > high };
  return [
    title,
    ci95 === null ? '' : rangeBar([x(ci95[0]), x(ci95[1])], outside, clear, y),
    ratioMark(mark, Math.min(right, Math.max(left, x(ratio))), y),
    textElement(
      { class: clear ? 'row-value clear' : 'row-value', x: right + GAP, y: range === '' ? y + 4 : y - 1 },
      value,
    ),
    range === '' ? '' : textElement({ x: right + GAP, y: y + 12 }, range),
  ].join('');
}
