/** Shake of one axis in one-third-octave bands: RMS as bars over frequency with the 95 % range of each, bounds as open bars. */
import { scaleLinear } from 'd3-scale';
import { bottomAxis, leftAxis, type PlotArea } from './axes.js';
import { element, svgRoot } from './svg.js';

/** One band. */
export interface BandBar {
  readonly label: string;
  /** Null where noise hides the shake; then `below` bounds it. */
  readonly rms: number | null;
  readonly ci95: readonly [number, number] | null;
  readonly below: number;
}

/** What the chart shows. */
export interface ThirdOctaveChartData {
  readonly label: string;
  readonly kind: 'angular' | 'translational';
  readonly unit: string;
  /** Lowest band first. */
  readonly bands: readonly BandBar[];
  /** Top of the scale, so that axes of one kind share it. */
  readonly top: number;
}

const WIDTH = 360;
const MAIN: PlotArea = { left: 46, top: 28, right: 354, bottom: 148 };
/** Share of a band's width that its bar takes. */
const BAR = 0.7;
/** More labels than this run into each other. */
const MOST_LABELS = 8;

/** Draws the bands. @returns SVG text, 360 x 184 */
export function thirdOctaveChart({ label, kind, unit, bands, top }: ThirdOctaveChartData): string {
  const y = scaleLinear([0, top], [MAIN.bottom, MAIN.top]).nice(4);
  const step = (MAIN.right - MAIN.left) / Math.max(1, bands.length);
  const middle = (i: number): number => MAIN.left + (i + 0.5) * step;
  const every = Math.ceil(bands.length / MOST_LABELS);
  return svgRoot(
    WIDTH,
    MAIN.bottom + 36,
    label,
    leftAxis(
      MAIN,
      y.ticks(4).map((value) => ({ at: y(value), label: String(Number(value.toPrecision(3))) })),
      `RMS in each third of an octave, ${unit}`,
    ),
    bottomAxis(
      MAIN,
      bands.flatMap((band, i) => (i % every === 0 ? [{ at: middle(i), label: firstOf(band.label) }] : [])),
      'band, Hz',
    ),
    ...bands.map((band, i) => drawBar(band, middle(i), step * BAR, (value) => y(Math.min(value, top)), kind)),
  );
}

/** Joined bands are named by their first, where room is short. */
function firstOf(label: string): string {
  return label.split(' ')[0];
}

function drawBar(
  { rms, ci95, below }: BandBar,
  middle: number,
  width: number,
  y: (value: number) => number,
  kind: ThirdOctaveChartData['kind'],
): string {
  const height = MAIN.bottom - y(rms ?? below);
  const bar = element('rect', {
    class: rms === null ? 'bound' : `bar ${kind}`,
    x: middle - width / 2,
    y: MAIN.bottom - height,
    width,
    height,
  });
  if (ci95 === null) return bar;
  const range = element('line', {
    class: 'range-bar',
    x1: middle,
    x2: middle,
    y1: y(ci95[0]),
    y2: y(ci95[1]),
  });
  return bar + range;
}
