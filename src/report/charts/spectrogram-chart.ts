/**
 * How the spectrum of one axis changes along a pass: shade for power per hertz over time and frequency, in steps of 6 dB below the
 * largest, with the place of the dolly as a second scale.
 */
import { ticks } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { spectrumTexts } from '../../texts/index.js';
import { bottomAxis, leftAxis, type PlotArea } from './axes.js';
import { tickCount } from './live/stretch.js';
import { element, svgRoot, textElement } from './svg.js';
import { placeUnit } from './axis-units.js';
import type { Units } from '../../run/index.js';

/** What the chart shows. */
export interface SpectrogramChartData {
  readonly label: string;
  /** Middle of each row, seconds, rising. */
  readonly timeS: readonly number[];
  /** Where the dolly was then, metres; null when it is not known. */
  readonly placeM: readonly number[] | null;
  /** Units of the scale of places. */
  readonly units: Units;
  /** Columns, hertz, even. */
  readonly freqHz: readonly number[];
  /** One row for each time: power per hertz. */
  readonly rows: readonly (readonly number[])[];
}

/** Shades, darkest last, each one step of so many dB. */
const SHADES = 6;
const STEP_DB = 6;
/** Below this width the legend stands under the picture, not beside it, px. */
const NARROW = 560;
const LEGEND_PX = 80;
const LEGEND_ROW = 24;
/** Room of the first word of the legend in a row, px. */
const FIRST_PX = 70;
/** Room for one place along the top and one time along the bottom, px. */
const PLACE_PX = 90;
const TIME_PX = 64;

function plotOf(widthPx: number): PlotArea {
  return { left: 46, top: 36, right: widthPx - (widthPx < NARROW ? 8 : LEGEND_PX), bottom: 196 };
}

/** Draws the picture. @returns SVG text, as wide as is asked for */
export function spectrogramChart(data: SpectrogramChartData, widthPx: number): string {
  const plot = plotOf(widthPx);
  const narrow = widthPx < NARROW;
  const { label, timeS, placeM, freqHz, rows, units } = data;
  const { unit, size } = placeUnit(units);
  const edgesS = edges(timeS);
  const edgesHz = edges(freqHz);
  const x = scaleLinear([edgesS[0], edgesS[edgesS.length - 1]], [plot.left, plot.right]);
  const y = scaleLinear([edgesHz[0], edgesHz[edgesHz.length - 1]], [plot.bottom, plot.top]);
  const highest = rows.reduce((top, row) => row.reduce((a, b) => Math.max(a, b), top), 0);
  const shadeOf = (power: number): number =>
    power > 0 ? SHADES - 1 - Math.floor((-10 * Math.log10(power / highest)) / STEP_DB) : -1;
  // One path for each shade, neighbours in time joined: a fraction of the bytes of single cells.
  const paths = Array.from({ length: SHADES }, () => '');
  freqHz.forEach((_, column) => {
    const [top, bottom] = [y(edgesHz[column + 1]), y(edgesHz[column])];
    let from = 0;
    for (let row = 1; row <= rows.length; row++) {
      const shade = shadeOf(rows[from][column]);
      if (row < rows.length && shadeOf(rows[row][column]) === shade) continue;
      if (shade >= 0) paths[shade] += cell(x(edgesS[from]), x(edgesS[row]), top, bottom);
      from = row;
    }
  });
  return svgRoot(
    widthPx,
    plot.bottom + 36 + (narrow ? LEGEND_ROW : 0),
    label,
    ...paths.map((d, shade) => element('path', { class: `shade-${shade}`, d })),
    leftAxis(
      plot,
      y.ticks(5).map((f) => ({ at: y(f), label: String(f) })),
      spectrumTexts.alongFrequency,
    ),
    bottomAxis(
      plot,
      x.ticks(tickCount(plot, TIME_PX)).map((t) => ({ at: x(t), label: String(t) })),
      spectrumTexts.alongTime,
    ),
    placeScale(timeS, placeM && placeM.map((place) => place / size), x, plot, unit),
    legend(plot, narrow),
  );
}

/** Borders half way between neighbours. */
function edges(centres: readonly number[]): number[] {
  const step = centres.length > 1 ? centres[1] - centres[0] : 1;
  const last = centres.length > 1 ? centres[centres.length - 1] - centres[centres.length - 2] : 1;
  const between = centres.slice(1).map((c, i) => (c + centres[i]) / 2);
  return [centres[0] - step / 2, ...between, centres[centres.length - 1] + last / 2];
}

function cell(left: number, right: number, top: number, bottom: number): string {
  const [x, y, w, h] = [left, top, right - left, bottom - top].map((value) => Number(value.toFixed(1)));
  return `M${x} ${y}h${w}v${h}h${-w}z`;
}

/** Round places, each where the dolly first comes past it; none where it hardly moves. */
function placeScale(
  timeS: readonly number[],
  places: readonly number[] | null,
  x: (timeS: number) => number,
  plot: PlotArea,
  unit: string,
): string {
  if (places === null) return '';
  const [low, high] = [Math.min(...places), Math.max(...places)];
  const marks = ticks(low, high, tickCount(plot, PLACE_PX)).flatMap((at) => {
    const next = places.findIndex((place, i) => i > 0 && (place - at) * (places[i - 1] - at) <= 0);
    if (next < 0) return [];
    const [from, to] = [places[next - 1], places[next]];
    const share = from === to ? 0 : (at - from) / (to - from);
    const middle = x(timeS[next - 1] + share * (timeS[next] - timeS[next - 1]));
    return [
      element('line', { class: 'tick', x1: middle, x2: middle, y1: plot.top - 4, y2: plot.top }),
      textElement(
        { class: 'tick-label', x: middle, y: plot.top - 7, 'text-anchor': 'middle' },
        String(Number(at.toPrecision(6))),
      ),
    ];
  });
  return [
    ...marks,
    textElement(
      { class: 'axis-title', x: plot.right, y: 10, 'text-anchor': 'end' },
      spectrumTexts.alongPlace(unit),
    ),
  ].join('');
}

/** Beside the picture from the top down, or in a row under it. */
function legend({ right, top, bottom }: PlotArea, narrow: boolean): string {
  const step = (right - FIRST_PX) / (SHADES - 1);
  return Array.from({ length: SHADES }, (_, i) => {
    const shade = SHADES - 1 - i;
    const [x, y] = narrow
      ? [i === 0 ? 0 : FIRST_PX + step * (i - 1), bottom + 42]
      : [right + 16, top + 14 * i];
    const text = i === 0 ? spectrumTexts.alongLargest : spectrumTexts.alongStep(STEP_DB * i);
    return (
      element('rect', { class: `shade-${shade} border-thin`, x, y, width: 11, height: 11 }) +
      textElement({ class: 'tick-label', x: x + 15, y: y + 9 }, text)
    );
  }).join('');
}
