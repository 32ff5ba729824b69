/** The profile of the floor or rail along the run: height in mm against distance in m, with the bumps that were found. */
import { extent } from 'd3-array';
import { format } from 'd3-format';
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import { bottomAxis, leftAxis, type PlotArea } from './axes.js';
import { decimalsFor } from './motion-chart.js';
import { element, svgRoot, textElement } from './svg.js';
import { thinOut } from './thin-out.js';

/** What the profile chart shows. */
export interface ProfileChartData {
  readonly label: string;
  /** Ascending, m, length n. */
  readonly distanceM: readonly number[];
  /** Length n. */
  readonly heightMm: readonly number[];
  /** Bumps by place, with the mark that the table beside uses. */
  readonly bumps: readonly { readonly atM: number; readonly mark: string }[];
}

const WIDTH = 360;
const HEIGHT = 190;
const MAIN: PlotArea = { left: 46, top: 36, right: 354, bottom: 154 };

/** Draws the profile. @returns SVG text, 360 x 190 */
export function profileChart(data: ProfileChartData): string {
  const heights = Float64Array.from(data.heightMm);
  const [from = 0, to = 1] = extent(data.distanceM);
  const [low = 0, high = 0] = extent(heights);
  const x = scaleLinear([from, to > from ? to : from + 1], [MAIN.left, MAIN.right]);
  const y = scaleLinear(high > low ? [low, high] : [low - 1, high + 1], [MAIN.bottom, MAIN.top]).nice(4);
  const ticks = y.ticks(4);
  const curve = line<number>()
    .x((i) => x(data.distanceM[i]))
    .y((i) => y(heights[i]))
    .digits(2)(thinOut(heights, WIDTH));
  return svgRoot(
    WIDTH,
    HEIGHT,
    data.label,
    leftAxis(
      MAIN,
      ticks.map((value) => ({ at: y(value), label: format(`.${decimalsFor(ticks)}f`)(value) })),
      'height, mm',
    ),
    bottomAxis(
      MAIN,
      x.ticks(6).map((value) => ({ at: x(value), label: String(value) })),
      'distance along the run, m',
    ),
    ...data.bumps.map(({ atM, mark }) =>
      [
        element('line', { class: 'bump', x1: x(atM), x2: x(atM), y1: MAIN.top - 4, y2: MAIN.bottom }),
        textElement({ class: 'peak-label', x: x(atM), y: MAIN.top - 8, 'text-anchor': 'middle' }, mark),
      ].join(''),
    ),
    element('path', { class: 'series translational', d: curve ?? '' }),
  );
}
