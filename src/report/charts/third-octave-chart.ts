/**
 * Shake of one axis in one-third-octave bands: RMS as bars, from the lower to the upper edge of each band on the logarithmic axis of
 * frequency that the spectra have, with the 95 % range of each; bounds as open bars.
 */
import { scaleLinear } from 'd3-scale';
import { figure } from '../../run/index.js';
import { spectrumTexts } from '../../texts/index.js';
import { leftAxis, type PlotArea } from './axes.js';
import { clipped, stopsWithin, stretchOf } from './live/stretch.js';
import type { ChartKind, ChartView, DrawnChart, Reading } from './live/types.js';
import { frequencyAxis, frequencyScale, titleRoom } from './spectrum/frequency-axis.js';
import type { Scale } from './spectrum/scale.js';
import { element, svgRoot } from './svg.js';
import { tickLabels } from './tick-decimals.js';

/** One band. */
export interface BandBar {
  readonly label: string;
  /** Edges, Hz. */
  readonly fromHz: number;
  readonly toHz: number;
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
  /** Ends of the axis of frequency, Hz, as the spectrum over it has them. */
  readonly spanHz: readonly [number, number];
  /** Top of the scale, so that axes of one kind share it. */
  readonly top: number;
}

/** From this width on the chart is the large one of its section, px. */
const LARGE = 560;
/** Room between two bars, px. */
const BETWEEN = 2;

/** Draws the bands. */
function drawBands(data: ThirdOctaveChartData, view: ChartView): DrawnChart {
  const { label, unit, bands, spanHz, top } = data;
  const room = titleRoom(view.widthPx >= LARGE);
  const plot = {
    left: 46,
    top: 28 + room.risePx,
    right: view.widthPx - 8,
    bottom: view.widthPx >= LARGE ? 148 : 118,
  };
  const shown = stretchOf(spanHz, view);
  const x = frequencyScale(shown, plot);
  const y = scaleLinear([0, top > 0 ? top : 1], [plot.bottom, plot.top]).nice(4);
  const ticks = y.ticks(4);
  const labels = tickLabels(ticks);
  const limited: Scale = (value) => y(Math.min(value, y.domain()[1]));
  return {
    svg: svgRoot(
      view.widthPx,
      plot.bottom + room.belowPx,
      label,
      leftAxis(
        { ...plot, top: plot.top - room.risePx },
        ticks.map((value, i) => ({ at: y(value), label: labels[i] })),
        spectrumTexts.bandsAxis(unit),
      ),
      frequencyAxis(plot, x, shown, room),
      clipped(plot, ...bands.map((band) => drawBar(band, plot, x, limited, data.kind))),
    ),
    area: plot,
    domain: shown,
    log: true,
    read: (at) => readBand(data, at, limited),
    stops: stopsWithin(bands.map(centreOf), shown),
  };
}

function centreOf({ fromHz, toHz }: BandBar): number {
  return Math.sqrt(fromHz * toHz);
}

function drawBar(
  band: BandBar,
  { bottom }: PlotArea,
  x: Scale,
  y: Scale,
  kind: ThirdOctaveChartData['kind'],
): string {
  const { rms, ci95, below } = band;
  const [left, right] = [x(band.fromHz) + BETWEEN / 2, x(band.toHz) - BETWEEN / 2];
  const level = y(rms ?? below);
  const bar = element('rect', {
    class: rms === null ? 'bound' : `bar ${kind}`,
    x: left,
    y: level,
    width: Math.max(1, right - left),
    height: bottom - level,
  });
  if (ci95 === null) return bar;
  const middle = x(centreOf(band));
  const range = element('line', {
    class: 'range-bar',
    x1: middle,
    x2: middle,
    y1: y(ci95[0]),
    y2: y(ci95[1]),
  });
  return bar + range;
}

function readBand({ bands, unit }: ThirdOctaveChartData, at: number, y: Scale): Reading | null {
  if (bands.length === 0) return null;
  const distance = (band: BandBar): number => Math.abs(Math.log(centreOf(band) / at));
  const band = bands.find(({ fromHz, toHz }) => at >= fromHz && at < toHz) ?? nearest(bands, distance);
  const { fromHz, toHz, rms, ci95, below } = band;
  const withUnit = (value: number): string => `${figure(value)}${unit === '°' ? '' : ' '}${unit}`;
  const text =
    rms === null
      ? spectrumTexts.readBelow(withUnit(below))
      : spectrumTexts.readRms(withUnit(rms), ci95 && spectrumTexts.range(figure(ci95[0]), withUnit(ci95[1])));
  return {
    at: centreOf(band),
    place: spectrumTexts.readBand(figure(fromHz), figure(toHz)),
    values: [{ id: 'band', text, yPx: y(rms ?? below) }],
  };
}

function nearest(bands: readonly BandBar[], distance: (band: BandBar) => number): BandBar {
  return bands.reduce((best, band) => (distance(band) < distance(best) ? band : best));
}

/** The bands as a kind of chart. */
export const thirdOctaveChart: ChartKind<ThirdOctaveChartData> = {
  draw: drawBands,
  series: () => [],
  axis: 'frequency',
  zoom: true,
};
