/**
 * Ratios of one setup over another with their 95 % ranges on a log axis around 1: left the first is smoother, right the second.
 *
 * What is clear is drawn in full with a triangle that points to the smoother side; what is not is a grey dashed bar with an empty
 * circle, and a square where both are the same within 10 %: shapes say it without colour.
 */
import { scaleLog, type ScaleLogarithmic } from 'd3-scale';
import { figure } from '../../run/index.js';
import { element, svgRoot, textElement } from './svg.js';
import { shorten } from './text-fit.js';

/** One row. */
export interface RatioRow {
  readonly name: string;
  /** A over B; null where nothing was compared. */
  readonly ratio: number | null;
  readonly ci95: readonly [number, number] | null;
  /** Both as printed beside the row; an empty range is left out. */
  readonly value: string;
  readonly range: string;
  readonly mark: RatioMark;
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

const WIDTH = 360;
const LEFT = 82;
const RIGHT = 276;
const TOP = 44;
const ROW = 34;
/** Ranges beyond this factor are cut with an arrow. */
const WIDEST = 10;
const NARROWEST = 1.6;
const CAPTION_CHARS = 24;
const NAME_CHARS = 12;

/** The factor that holds every range of the rows, 1.6 to 10. */
export function ratioSpan(rows: readonly Pick<RatioRow, 'ratio' | 'ci95'>[]): number {
  const reach = rows
    .flatMap(({ ratio, ci95 }) => [...(ratio === null ? [] : [ratio]), ...(ci95 ?? [])])
    .map((value) => Math.max(value, 1 / value));
  return Math.min(WIDEST, Math.max(NARROWEST, ...reach) * 1.06);
}

/** Draws the rows. @returns SVG text, 360 wide, higher with more rows */
export function ratioChart({ label, a, b, rows, span }: RatioChartData): string {
  const x = scaleLog([1 / span, span], [LEFT, RIGHT]);
  const bottom = TOP + ROW * rows.length;
  const one = x(1);
  const caption = (name: string, word: string, end: boolean): string => {
    const at = { x: end ? one - 8 : one + 8, 'text-anchor': end ? 'end' : 'start' };
    return [
      textElement({ ...at, class: 'side-name', y: 14 }, shorten(name, CAPTION_CHARS)),
      textElement({ ...at, y: 28 }, word),
    ].join('');
  };
  return svgRoot(
    WIDTH,
    bottom + 34,
    label,
    caption(a, '← smoother', true),
    caption(b, 'smoother →', false),
    ...ratioTicks(span).map((tick) =>
      [
        element('line', {
          class: tick === 1 ? 'ratio-one' : 'grid',
          x1: x(tick),
          x2: x(tick),
          y1: tick === 1 ? 6 : TOP - 6,
          y2: bottom,
        }),
        textElement(
          { class: 'tick-label', x: x(tick), y: bottom + 15, 'text-anchor': 'middle' },
          figure(tick),
        ),
      ].join(''),
    ),
    element('line', { class: 'axis', x1: LEFT, x2: RIGHT, y1: bottom, y2: bottom }),
    textElement(
      { class: 'axis-title', x: (LEFT + RIGHT) / 2, y: bottom + 29, 'text-anchor': 'middle' },
      'ratio of shake RMS, log scale',
    ),
    ...rows.map((row, i) => drawRow(row, TOP + ROW * (i + 0.5), x)),
  );
}

/** Ticks at ratios that are easy to say, the same factor to both sides. */
function ratioTicks(span: number): number[] {
  const factors = span < 2 ? [1.2, 1.5] : span < 3.2 ? [1.5, 2, 3] : span < 5 ? [2, 4] : [2, 5, 10];
  const within = factors.filter((factor) => factor <= span * 1.001);
  return [...within.map((factor) => 1 / factor).reverse(), 1, ...within];
}

function drawRow(
  { name, ratio, ci95, value, range, mark }: RatioRow,
  y: number,
  x: ScaleLogarithmic<number, number>,
): string {
  const clear = mark === 'aSmoother' || mark === 'bSmoother';
  const title = textElement({ class: 'row-name', x: 0, y: y + 4 }, shorten(name, NAME_CHARS));
  if (ratio === null) return title + textElement({ x: RIGHT + 8, y: y + 4 }, 'not compared');
  const said = [
    textElement(
      {
        class: clear ? 'row-value clear' : 'row-value',
        x: RIGHT + 8,
        y: range === '' ? y + 4 : y - 1,
      },
      value,
    ),
    range === '' ? '' : textElement({ x: RIGHT + 8, y: y + 12 }, range),
  ];
  return [title, ci95 ? rangeBar(ci95, clear, y, x) : '', drawMark(mark, clampTo(x(ratio)), y), ...said].join(
    '',
  );
}

/** The bar of a range; an end that lies outside is an arrow, an end inside a short stroke. */
function rangeBar(
  [low, high]: readonly [number, number],
  clear: boolean,
  y: number,
  x: ScaleLogarithmic<number, number>,
): string {
  const [from, to] = [clampTo(x(low)), clampTo(x(high))];
  const end = (at: number, value: number, towards: 1 | -1): string =>
    Math.abs(x(value) - at) > 0.5
      ? `M${at - 5 * towards} ${y - 4}l${5 * towards} 4l${-5 * towards} 4`
      : `M${at} ${y - 4}v8`;
  const class_ = clear ? 'ratio-bar clear' : 'ratio-bar';
  return [
    element('line', { class: class_, x1: from, x2: to, y1: y, y2: y }),
    element('path', { class: 'ratio-end', d: rounded(end(from, low, -1) + end(to, high, 1)) }),
  ].join('');
}

function drawMark(mark: RatioMark, x: number, y: number): string {
  switch (mark) {
    case 'aSmoother':
      return element('path', { class: 'ratio-mark clear', d: rounded(`M${x - 8} ${y}l14 -7v14z`) });
    case 'bSmoother':
      return element('path', { class: 'ratio-mark clear', d: rounded(`M${x + 8} ${y}l-14 -7v14z`) });
    case 'same':
      return element('rect', { class: 'ratio-mark', x: x - 5, y: y - 5, width: 10, height: 10 });
    default:
      return element('circle', { class: 'ratio-mark', cx: x, cy: y, r: 5 });
  }
}

function clampTo(x: number): number {
  return Math.min(RIGHT, Math.max(LEFT, x));
}

function rounded(path: string): string {
  return path.replace(/-?\d+\.\d+/g, (text) => String(Math.round(100 * Number(text)) / 100));
}
