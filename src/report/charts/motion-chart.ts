/**
 * One axis of the motion over time: the vibration with its noise band, and above it, on a scale of its own, the intended move;
 * in the unit that the caller names, time in seconds.
 */
import { extent } from 'd3-array';
import { format } from 'd3-format';
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import { bottomAxis, leftAxis, type PlotArea } from './axes.js';
import { element, svgRoot, textElement } from './svg.js';
import { thinOut } from './thin-out.js';

/** What a motion chart shows. */
export interface MotionChartData {
  /** Name for those who do not see the chart. */
  readonly label: string;
  /** Sets the colour family: angular or translational. */
  readonly kind: 'angular' | 'translational';
  /** Unit of both series, as printed. */
  readonly unit: string;
  /** Seconds, length n. */
  readonly timeS: Float64Array;
  /** Length n. */
  readonly intended: Float64Array;
  /** Length n. */
  readonly vibration: Float64Array;
  /** Noise floor, 1 sigma: drawn as a band of twice that to each side. */
  readonly noise: number;
  /** Samples at each end that no statistic uses: drawn dimmed. */
  readonly trimFrames: number;
  /** Half height of the vibration scale, so that axes of one kind share it; from the data when missing. */
  readonly reach?: number;
}

const WIDTH = 360;
const HEIGHT = 214;
const STRIP: PlotArea = { left: 46, top: 22, right: 354, bottom: 52 };
const MAIN: PlotArea = { left: 46, top: 84, right: 354, bottom: 178 };

/** Largest absolute value of a series, 0 for an empty one. */
export function reachOf(values: Float64Array): number {
  let reach = 0;
  for (const value of values) if (Math.abs(value) > reach) reach = Math.abs(value);
  return reach;
}

/** Draws one axis. @returns SVG text, 360 x 214 */
export function motionChart(data: MotionChartData): string {
  const { timeS, intended, vibration, noise, unit, kind } = data;
  const n = timeS.length;
  const from = n > 0 ? timeS[0] : 0;
  const to = n > 1 ? timeS[n - 1] : from + 1;
  const x = scaleLinear([from, to], [MAIN.left, MAIN.right]);
  const reach = Math.max(data.reach ?? reachOf(vibration), 2 * noise) || 1;
  const y = scaleLinear([-1.08 * reach, 1.08 * reach], [MAIN.bottom, MAIN.top]);
  const yTicks = y.ticks(4);
  const yLabel = format(`.${decimalsFor(yTicks)}f`);

  const path = (values: Float64Array, scale: (value: number) => number): string =>
    line<number>()
      .x((i) => x(timeS[i]))
      .y((i) => scale(values[i]))
      .digits(2)(thinOut(values, WIDTH)) ?? '';

  const [low = 0, high = 0] = extent(intended);
  const flat = high - low < 1e-12;
  const strip = scaleLinear(flat ? [low - 1, high + 1] : [low, high], [STRIP.bottom - 3, STRIP.top + 3]);
  // Beside the axis there is room for six characters.
  const stripLabel = (value: number): string =>
    Math.abs(value) < 5e-5 ? '0' : format(Math.abs(value) < 1e-3 ? '.1~r' : '.3~r')(value);

  const dimmed = Math.min(data.trimFrames, Math.floor(n / 2));
  const edges =
    dimmed > 0
      ? [
          [MAIN.left, x(timeS[dimmed])],
          [x(timeS[n - 1 - dimmed]), MAIN.right],
        ].map(([x1, x2]) =>
          element('rect', {
            class: 'unused',
            x: x1,
            y: MAIN.top,
            width: Math.max(0, x2 - x1),
            height: MAIN.bottom - MAIN.top - 1,
          }),
        )
      : [];

  return svgRoot(
    WIDTH,
    HEIGHT,
    data.label,
    textElement({ class: 'axis-title', x: 0, y: STRIP.top - 8 }, `intended move, ${unit}`),
    element('rect', {
      class: 'strip',
      x: STRIP.left,
      y: STRIP.top,
      width: STRIP.right - STRIP.left,
      height: STRIP.bottom - STRIP.top,
    }),
    textElement(
      { class: 'tick-label', x: STRIP.left - 5, y: STRIP.top + 9, 'text-anchor': 'end' },
      flat ? '' : stripLabel(high),
    ),
    textElement(
      { class: 'tick-label', x: STRIP.left - 5, y: STRIP.bottom, 'text-anchor': 'end' },
      stripLabel(low),
    ),
    element('path', { class: 'intended', d: path(intended, strip) }),
    leftAxis(
      MAIN,
      yTicks.map((value) => ({ at: y(value), label: yLabel(value) })),
      `shake, ${unit}`,
    ),
    bottomAxis(
      MAIN,
      x.ticks(6).map((value) => ({ at: x(value), label: String(value) })),
      'time in the clip, s',
    ),
    element('rect', {
      class: 'noise-band',
      x: MAIN.left,
      y: y(2 * noise),
      width: MAIN.right - MAIN.left,
      height: y(-2 * noise) - y(2 * noise),
    }),
    element('path', { class: `series ${kind}`, d: path(vibration, y) }),
    ...edges,
  );
}

/** Decimals that tell neighbouring ticks apart. */
export function decimalsFor(ticks: readonly number[]): number {
  const step = ticks.length > 1 ? Math.abs(ticks[1] - ticks[0]) : Math.abs(ticks[0] ?? 1) || 1;
  return Math.max(0, Math.min(6, Math.ceil(-Math.log10(step) - 1e-9)));
}
