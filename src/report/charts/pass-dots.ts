/** One figure of every pass, a column for each setup on one scale: a dot for each pass, its shape the lane, a line at the median. */
import { scaleLinear } from 'd3-scale';
import { figure } from '../../run/index.js';
import { comparedRatioTexts, compareTexts } from '../../texts/index.js';
import { leftAxis, type PlotArea } from './axes.js';
import { laneMarker } from './lane-markers.js';
import { element, svgRoot, textElement } from './svg.js';
import { wrapText } from './text-fit.js';

/** One pass. */
export interface PassDot {
  /** Null: below the noise. */
  readonly value: number | null;
  /** Counts from 0. */
  readonly lane: number;
  /** Drawn empty, and not in the median. */
  readonly leftOut?: boolean;
}

/** One setup. */
export interface DotColumn {
  readonly name: string;
  readonly dots: readonly PassDot[];
}

/** What the chart shows. */
export interface PassDotsData {
  readonly label: string;
  /** Quantity with its unit, over the axis. */
  readonly axisTitle: string;
  readonly columns: readonly DotColumn[];
  /** The scale reaches at least this far, so that several charts can share it. */
  readonly most?: number;
}

const LEFT = 44;
const TOP = 26;
const BOTTOM = 146;
/** A strip under the plot for passes below the noise. */
const NOISE_STRIP = 24;
/** Width of a column, px: two have more room than several. */
const COLUMN = 96;
const NARROW_COLUMN = 72;
/** Width of a character of the names, which are bold, px. */
const CHARACTER = 7;
const NAME_LINES = 3;
/** Passes of one column lie this far apart, px, as far as the column is wide enough. */
const STEP = 15;

/** Width of the drawing with so many columns, px. */
export function passDotsWidth(columns: number): number {
  return LEFT + (columns > 2 ? NARROW_COLUMN * columns : COLUMN * 2);
}

/** Draws the columns, the scale from zero. @returns SVG text */
export function passDots({ label, axisTitle, columns, most = 0 }: PassDotsData): string {
  const width = passDotsWidth(columns.length);
  const area: PlotArea = { left: LEFT, top: TOP, right: width, bottom: BOTTOM };
  const values = columns.flatMap(({ dots }) => dots.flatMap(({ value }) => (value === null ? [] : [value])));
  const hidden = columns.some(({ dots }) => dots.some(({ value }) => value === null));
  const y = scaleLinear([0, Math.max(...values, most) || 1], [BOTTOM, TOP + 6]).nice(4);
  const floor = hidden ? BOTTOM + NOISE_STRIP + 4 : BOTTOM;
  const columnPx = (width - LEFT) / columns.length;
  const names = columns.map(({ name }) => wrapText(name, Math.floor((columnPx - 6) / CHARACTER), NAME_LINES));
  const nameLines = Math.max(1, ...names.map((lines) => lines.length));
  return svgRoot(
    width,
    floor + 20 + 13 * nameLines,
    label,
    leftAxis(
      area,
      values.length === 0 ? [] : y.ticks(4).map((value) => ({ at: y(value), label: figure(value) })),
      axisTitle,
    ),
    hidden ? noiseStrip(width) : '',
    element('line', { class: 'axis', x1: LEFT, x2: width, y1: BOTTOM, y2: BOTTOM }),
    ...columns.map((column, i) =>
      drawColumn(column, names[i], LEFT + columnPx * (i + 0.5), columnPx, y, floor),
    ),
  );
}

function noiseStrip(width: number): string {
  return [
    element('rect', { class: 'strip', x: LEFT, y: BOTTOM + 6, width: width - LEFT, height: NOISE_STRIP - 2 }),
    textElement({ x: LEFT - 5, y: BOTTOM + 20, 'text-anchor': 'end' }, compareTexts.noiseMark),
  ].join('');
}

function drawColumn(
  { dots }: DotColumn,
  lines: readonly string[],
  middle: number,
  columnPx: number,
  y: (value: number) => number,
  floor: number,
): string {
  const step = Math.min(STEP, (columnPx - 24) / Math.max(1, dots.length - 1));
  const placed = dots.map(({ value, lane, leftOut = false }, i) =>
    laneMarker(
      lane,
      middle + step * (i - (dots.length - 1) / 2),
      value === null ? BOTTOM + 5 + NOISE_STRIP / 2 : y(value),
      leftOut,
    ),
  );
  const middleValue = medianOfPasses(
    dots.filter(({ leftOut }) => leftOut !== true).map(({ value }) => value),
  );
  const reach = Math.min(columnPx / 2 - 6, 34);
  return [
    middleValue === null
      ? ''
      : element('line', {
          class: 'median-line',
          x1: middle - reach,
          x2: middle + reach,
          y1: y(middleValue),
          y2: y(middleValue),
        }),
    ...placed,
    textElement(
      { class: 'median-label', x: middle, y: floor + 15, 'text-anchor': 'middle' },
      middleValue === null ? comparedRatioTexts.belowNoise : figure(middleValue),
    ),
    ...lines.map((line, i) =>
      textElement({ class: 'column-name', x: middle, y: floor + 29 + 13 * i, 'text-anchor': 'middle' }, line),
    ),
  ].join('');
}

/** Median of all passes; one below the noise counts as the least. Null where the median itself is below the noise. */
export function medianOfPasses(values: readonly (number | null)[]): number | null {
  const sorted = values.map((value) => value ?? -1).sort((a, b) => a - b);
  if (sorted.length === 0) return null;
  const [low, high] = [sorted[Math.floor((sorted.length - 1) / 2)], sorted[Math.floor(sorted.length / 2)]];
  return low < 0 ? null : (low + high) / 2;
}
