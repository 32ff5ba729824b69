/**
 * The profile of the floor or rail along the run: height in mm against distance in m with its 95 % band and the numbered bumps,
 * and under it each wheel line by itself.
 */
import { format } from 'd3-format';
import { scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import { bottomAxis, leftAxis, type PlotArea } from './axes.js';
import { decimalsFor } from './motion-chart.js';
import { element, svgRoot, textElement } from './svg.js';
import { thinOut } from './thin-out.js';

/** Two wheel lines, mm, each of the length of the profile. */
export interface WheelLines {
  readonly leftMm: readonly number[];
  readonly rightMm: readonly number[];
}

/** What the profile chart shows. */
export interface ProfileChartData {
  readonly label: string;
  /** Ascending, m, length n. */
  readonly distanceM: readonly number[];
  /** Length n, and half of its 95 % band. */
  readonly heightMm: readonly number[];
  readonly bandMm: readonly number[];
  readonly lines: WheelLines | null;
  /** Bumps by place, with the mark that the table beside uses; an empty mark draws the place alone. */
  readonly bumps: readonly { readonly atM: number; readonly mark: string }[];
}

const WIDTH = 720;
const MAIN: PlotArea = { left: 50, top: 44, right: 712, bottom: 178 };
const LINES: PlotArea = { left: 50, top: 222, right: 712, bottom: 318 };
const BELOW = 36;

/** Draws the profile. @returns SVG text, 720 wide; lower without wheel lines */
export function profileChart(data: ProfileChartData): string {
  const { distanceM, heightMm, bandMm, lines, bumps } = data;
  const n = distanceM.length;
  const from = n > 0 ? distanceM[0] : 0;
  const to = n > 1 ? distanceM[n - 1] : from + 1;
  const x = scaleLinear([from, to], [MAIN.left, MAIN.right]);
  const last = lines ? LINES : MAIN;
  const scaleOver = (box: PlotArea, low: number, high: number) =>
    scaleLinear(high > low ? [low, high] : [low - 1, high + 1], [box.bottom, box.top]).nice(4);
  const heights = Float64Array.from(heightMm);
  const y = scaleOver(MAIN, ...reachOf(heightMm, bandMm));
  const band = area<number>()
    .x((i) => x(distanceM[i]))
    .y0((i) => y(heightMm[i] - bandMm[i]))
    .y1((i) => y(heightMm[i] + bandMm[i]))
    .digits(2)(thinOut(heights, WIDTH));
  return svgRoot(
    WIDTH,
    last.bottom + BELOW,
    data.label,
    // Over the marks of the bumps.
    heightAxis({ ...MAIN, top: MAIN.top - 16 }, y, 'height, mm (grey: 95 % band)'),
    bottomAxis(
      last,
      x.ticks(10).map((value) => ({ at: x(value), label: String(value) })),
      'distance along the run, m',
    ),
    ...bumps.map(({ atM, mark }) =>
      [
        element('line', {
          class: 'bump',
          x1: x(atM),
          x2: x(atM),
          y1: mark === '' ? MAIN.bottom - 6 : MAIN.top - 4,
          y2: MAIN.bottom,
        }),
        mark === ''
          ? ''
          : textElement({ class: 'peak-label', x: x(atM), y: MAIN.top - 8, 'text-anchor': 'middle' }, mark),
      ].join(''),
    ),
    element('path', { class: 'noise-band', d: band ?? '' }),
    element('path', { class: 'series translational', d: curve(x, y, distanceM, heights) }),
    lines
      ? wheelLines(lines, distanceM, x, scaleOver(LINES, ...reachOf(lines.leftMm, [], lines.rightMm)))
      : '',
  );
}

type Scale = (value: number) => number;
type Linear = ReturnType<typeof scaleLinear<number, number>>;

function heightAxis(box: PlotArea, y: Linear, title: string): string {
  const ticks = y.ticks(4);
  const label = format(`.${decimalsFor(ticks)}f`);
  return leftAxis(
    box,
    ticks.map((value) => ({ at: y(value), label: label(value) })),
    title,
  );
}

function wheelLines(
  { leftMm, rightMm }: WheelLines,
  distanceM: readonly number[],
  x: Scale,
  y: Linear,
): string {
  return [
    heightAxis(LINES, y, 'wheel lines, mm (solid: left, dashed: right)'),
    element('path', { class: 'series angular', d: curve(x, y, distanceM, Float64Array.from(leftMm)) }),
    element('path', {
      class: 'series translational right-line',
      d: curve(x, y, distanceM, Float64Array.from(rightMm)),
    }),
  ].join('');
}

function curve(x: Scale, y: Scale, distanceM: readonly number[], heights: Float64Array): string {
  return (
    line<number>()
      .x((i) => x(distanceM[i]))
      .y((i) => y(heights[i]))
      .digits(2)(thinOut(heights, WIDTH)) ?? ''
  );
}

/** Lowest and highest value of a column with its band, and of another column when there is one. */
function reachOf(
  values: readonly number[],
  band: readonly number[],
  others: readonly number[] = [],
): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  values.forEach((value, i) => {
    low = Math.min(low, value - (band[i] ?? 0));
    high = Math.max(high, value + (band[i] ?? 0));
  });
  for (const value of others) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return high >= low ? [low, high] : [0, 0];
}
