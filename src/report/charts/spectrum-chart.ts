/**
 * How the shake of one axis spreads over frequency: power per hertz on a logarithmic scale against frequency in Hz, with the 95 % range
 * of each reading, the noise floor, the level without peaks, and the peaks with what causes them.
 */
import { scaleLog } from 'd3-scale';
import { area as areaShape, line } from 'd3-shape';
import { figure, inUnits, type Units } from '../../run/index.js';
import { spectrumTexts } from '../../texts/index.js';
import { leftAxis, type PlotArea } from './axes.js';
import {
  clipped,
  indicesWithin,
  nearestIndex,
  stopsWithin,
  stretchOf,
  type Stretch,
} from './live/stretch.js';
import type { ChartKind, ChartView, DrawnChart, ReadValue, Reading } from './live/types.js';
import type { Box } from './place-label.js';
import { belowCutoff, frequencyAxis, frequencyScale, titleRoom } from './spectrum/frequency-axis.js';
import { peakLabels } from './spectrum/peak-labels.js';
import { decades, namedExponents, power, powerWords, type Scale } from './spectrum/scale.js';
import { element, svgRoot } from './svg.js';

/** A peak with the number of its source. */
export interface SpectrumPeak {
  readonly freqHz: number;
  readonly mark: string;
  /** What causes it: in a word for the chart (empty without a name), and in full for a reading. */
  readonly short: string;
  readonly name: string;
}

/** What a spectrum chart shows. */
export interface SpectrumChartData {
  readonly label: string;
  readonly kind: 'angular' | 'translational';
  /** Unit of `psd`, as printed. */
  readonly unit: string;
  /** Ascending, Hz, length n; 0 Hz is left out. */
  readonly freqHz: readonly number[];
  /** One-sided power per hertz, length n. */
  readonly psd: readonly number[];
  /** Noise floor in the unit of `psd`, null when unknown. */
  readonly noiseFloor: number | null;
  /** The level that peaks stand out of, on frequencies of its own; null when unknown. */
  readonly background: { readonly freqHz: readonly number[]; readonly psd: readonly number[] } | null;
  /** Where intended move ends, Hz: below, the chart is dimmed. */
  readonly cutoffHz: number;
  /** A reading times these two factors is its 95 % range. */
  readonly ci95Factors: readonly [number, number];
  readonly peaks: readonly SpectrumPeak[];
  /** What a frequency is as a wave on the floor: speed over frequency; null when the speed is not known. */
  readonly speedMps: number | null;
  /** Units of that wave. */
  readonly units: Units;
  /** Lowest and highest value of the vertical scale, so that axes of one kind share it; from the data when missing. */
  readonly domain?: readonly [number, number];
}

/** From this width on the chart is the large one of its section, px. */
const LARGE = 560;
/** A reading tells a peak that lies within this share of its frequency. */
const NEAR = 0.03;

function plotOf(widthPx: number): PlotArea {
  const { risePx } = titleRoom(widthPx >= LARGE);
  return { left: 46, top: 28 + risePx, right: widthPx - 8, bottom: widthPx >= LARGE ? 268 : 164 };
}

/** What the horizontal axis of a spectrum spans: from its lowest reading, or the cut-off where that is lower, to its highest. */
export function spectrumSpan(freqHz: readonly number[], cutoffHz: number): Stretch {
  const positive = freqHz.filter((f) => f > 0);
  const lowest = Math.max(0.05, Math.min(positive[0] ?? 0.5, cutoffHz));
  return [lowest, Math.max(positive[positive.length - 1] ?? 10, 2 * lowest)];
}

/** Draws the spectrum of one axis; higher on a wide drawing. */
function drawSpectrum(data: SpectrumChartData, view: ChartView): DrawnChart {
  const { freqHz, psd, noiseFloor, kind, cutoffHz } = data;
  const plot = plotOf(view.widthPx);
  const room = titleRoom(view.widthPx >= LARGE);
  const shown = stretchOf(spectrumSpan(freqHz, cutoffHz), view);
  const x = frequencyScale(shown, plot);
  const domain = data.domain ?? decades([...psd, noiseFloor ?? 0]);
  const y = scaleLog([...domain], [plot.bottom, plot.top]).clamp(true);
  const [first, end] = indicesWithin(freqHz, shown);
  const drawn = Array.from({ length: end - first }, (_, i) => first + i).filter(
    (i) => freqHz[i] > 0 && psd[i] > 0,
  );
  const svg = svgRoot(
    view.widthPx,
    plot.bottom + room.belowPx,
    data.label,
    leftAxis(
      { ...plot, top: plot.top - room.risePx },
      namedExponents(domain).map((e) => ({ at: y(10 ** e), label: power(e) })),
      data.unit,
    ),
    frequencyAxis(plot, x, shown, room),
    clipped(
      plot,
      rangeBand(data, drawn, x, y),
      noiseFloor !== null && noiseFloor > 0
        ? element('line', {
            class: 'noise-floor',
            x1: plot.left,
            x2: plot.right,
            y1: y(noiseFloor),
            y2: y(noiseFloor),
          })
        : '',
      data.background === null ? '' : curve('background', data.background, allOf(data.background), x, y),
      curve(`series ${kind}`, data, drawn, x, y),
      belowCutoff(plot, x, cutoffHz),
    ),
    ...peaksOf(data, drawn, plot, shown, x, y),
  );
  return {
    svg,
    area: plot,
    domain: shown,
    log: true,
    read: (at) => readSpectrum(data, at, y, view.brief === true),
    stops: stopsWithin(
      freqHz.filter((f) => f > 0),
      shown,
    ),
  };
}

interface Readings {
  readonly freqHz: readonly number[];
  readonly psd: readonly number[];
}

function allOf({ freqHz, psd }: Readings): number[] {
  return freqHz.map((_, i) => i).filter((i) => freqHz[i] > 0 && psd[i] > 0);
}

function curve(
  className: string,
  { freqHz, psd }: Readings,
  drawn: readonly number[],
  x: Scale,
  y: Scale,
): string {
  const d = line<number>()
    .x((i) => x(freqHz[i]))
    .y((i) => y(psd[i]))
    .digits(2)(drawn);
  return element('path', { class: className, d: d ?? '' });
}

function rangeBand(
  { freqHz, psd, kind, ci95Factors: [low, high] }: SpectrumChartData,
  drawn: readonly number[],
  x: Scale,
  y: Scale,
): string {
  const d = areaShape<number>()
    .x((i) => x(freqHz[i]))
    .y0((i) => y(psd[i] * low))
    .y1((i) => y(psd[i] * high))
    .digits(1)(drawn);
  return element('path', { class: `range-band ${kind}`, d: d ?? '' });
}

function peaksOf(
  { peaks, freqHz, psd }: SpectrumChartData,
  drawn: readonly number[],
  plot: PlotArea,
  [from, to]: Stretch,
  x: Scale,
  y: Scale,
): string[] {
  const shown = peaks.filter(({ freqHz: f }) => f >= from && f <= to);
  if (shown.length === 0) return [];
  const along = drawn.map((i): Box => {
    const [atX, atY] = [x(freqHz[i]), y(psd[i])];
    return { left: atX - 2, right: atX + 2, top: atY - 2, bottom: atY + 2 };
  });
  return peakLabels(
    shown.map(({ freqHz: f, mark, short }) => ({
      x: x(f),
      y: Math.max(plot.top + 6, y(readingAt(f, freqHz, psd)) - 6),
      mark,
      name: short,
    })),
    { ...plot, top: plot.top - 12 },
    along,
  );
}

/** The largest reading within one bin of a frequency. */
function readingAt(f: number, freqHz: readonly number[], psd: readonly number[]): number {
  const nearest = nearestIndex(freqHz, f);
  return Math.max(psd[nearest - 1] ?? 0, psd[nearest] ?? 0, psd[nearest + 1] ?? 0) || 1e-30;
}

/** In brief without the wave and the noise. */
function readSpectrum(data: SpectrumChartData, at: number, y: Scale, brief: boolean): Reading | null {
  const { freqHz, psd, unit, ci95Factors, noiseFloor, speedMps, units, peaks } = data;
  const i = nearestIndex(freqHz, at);
  if (i < 0 || !(freqHz[i] > 0) || !(psd[i] > 0)) return null;
  const f = freqHz[i];
  const wave =
    speedMps === null || brief
      ? []
      : [inUnits(spectrumTexts.readWave(`${figure((1000 * speedMps) / f)} mm`), units)];
  const [low, high] = ci95Factors.map((factor) => powerWords(psd[i] * factor));
  const values: ReadValue[] = [
    {
      id: 'shake',
      text: spectrumTexts.readValue(powerWords(psd[i]), unit, low, high),
      yPx: y(psd[i]),
    },
  ];
  if (noiseFloor !== null && noiseFloor > 0 && !brief)
    values.push({ id: 'noise', text: spectrumTexts.readNoise(powerWords(noiseFloor), unit), yPx: null });
  for (const peak of peaks.filter(({ freqHz: there }) => Math.abs(there - f) <= NEAR * f))
    values.push({ id: 'peak', text: spectrumTexts.readPeak(peak.mark, peak.name), yPx: null });
  return { at: f, place: [`${f.toFixed(2)} Hz`, ...wave].join(', '), values };
}

/** The spectrum as a kind of chart. */
export const spectrumChart: ChartKind<SpectrumChartData> = {
  draw: drawSpectrum,
  series: () => [],
  axis: 'frequency',
  zoom: true,
};
