/** Spectrum and thirds of an octave of one axis as figures of the page. */
import { AXES, isAngular, type Axis, type RunDocument } from '../../run/index.js';
import { causeTexts, spectrumTexts } from '../../texts/index.js';
import { sourceName } from '../cause-words.js';
import {
  decades,
  spectrumSpan,
  type ChartData,
  type SpectrumChartData,
  type SpectrumPeak,
  type ThirdOctaveChartData,
} from '../charts/index.js';
import { axisNames } from '../wording.js';
import { figureUnit } from './axis-units.js';
import { liveFigure } from './live-figure.js';
import { html, type Insert, type Markup } from './markup.js';

/** Ranges are drawn whole up to so many times the tallest bar: one that is wide because a clip is short must not squeeze the bars. */
const ROOM_ABOVE = 2.4;

/** The spectrum. @param phonePx width of a drawing of its own for phones */
export function spectrumFigure(
  run: RunDocument,
  axis: Axis,
  caption: Insert,
  widthPx: number,
  phonePx?: number,
): Markup {
  return drawn('spectrum', spectrumData(run, axis), caption, widthPx, phonePx);
}

/** The bands, on the axis of frequency of the spectrum. */
export function bandsFigure(
  run: RunDocument,
  axis: Axis,
  caption: Insert,
  widthPx: number,
  phonePx?: number,
): Markup {
  return drawn('thirdOctave', bandsData(run, axis), caption, widthPx, phonePx);
}

/** The chart as a figure; nothing where there is nothing to draw. */
function drawn<Name extends 'spectrum' | 'thirdOctave'>(
  kind: Name,
  data: ChartData<Name> | null,
  caption: Insert,
  widthPx: number,
  phonePx: number | undefined,
): Markup {
  if (data === null) return html``;
  const narrow = phonePx === undefined ? {} : { phoneWidthPx: phonePx };
  return liveFigure({ kind, data, caption, widthPx, ...narrow });
}

function spectrumData(run: RunDocument, axis: Axis): SpectrumChartData | null {
  const { spectrum, motion } = run;
  const series = spectrum.series[axis];
  if (!series) return null;
  const { unit, factor } = figureUnit(axis, run);
  const perHz = factor * factor;
  const scaled = (values: readonly number[]): number[] => values.map((value) => value * perHz);
  const background = spectrum.background[axis];
  const floor = spectrum.noiseFloor[axis];
  const printed = `${unit}²/Hz`;
  return {
    label: spectrumTexts.label(axisNames(run)[axis].name, printed),
    kind: kindOf(axis),
    unit: printed,
    freqHz: series.freqHz,
    psd: scaled(series.psd),
    noiseFloor: floor === undefined ? null : floor * perHz,
    background: background ? { freqHz: background.freqHz, psd: scaled(background.psd) } : null,
    cutoffHz: motion.bandHz[0],
    ci95Factors: spectrum.ci95Factors,
    peaks: peaksOf(run, axis),
    speedMps: spectrum.speedMps,
    units: run.units,
    domain: decades(scaled(kinOf(axis).flatMap((other) => inBandOf(run, other)))),
  };
}

/** Readings from the cut-off on and the floor: what the shared scale must hold. */
function inBandOf({ spectrum, motion }: RunDocument, axis: Axis): number[] {
  const series = spectrum.series[axis];
  const inBand = series ? series.psd.filter((_, i) => series.freqHz[i] >= motion.bandHz[0]) : [];
  return [...inBand, spectrum.noiseFloor[axis] ?? 0];
}

function peaksOf(run: RunDocument, axis: Axis): SpectrumPeak[] {
  const { peaks, sources } = run.spectrum;
  return peaks
    .filter((peak) => peak.axis === axis)
    .map(({ freqHz, source }) => {
      const of = sources[source];
      return {
        freqHz,
        mark: String(source + 1),
        short: of === undefined || of.cause === 'unknown' ? '' : causeTexts.short[of.cause],
        name: of === undefined ? causeTexts.unknown : sourceName(of, run),
      };
    });
}

function bandsData(run: RunDocument, axis: Axis): ThirdOctaveChartData | null {
  const { spectrum, motion } = run;
  const bands = spectrum.thirdOctaves[axis];
  if (!bands || bands.length === 0) return null;
  const { unit, factor } = figureUnit(axis, run);
  const kin = kinOf(axis).flatMap((other) => spectrum.thirdOctaves[other] ?? []);
  const tallest = Math.max(...kin.map(({ rms, belowRms }) => rms ?? belowRms));
  const [from, to] = spectrumSpan(spectrum.series[axis]?.freqHz ?? [], motion.bandHz[0]);
  return {
    label: spectrumTexts.bandsLabel(axisNames(run)[axis].name, unit),
    kind: kindOf(axis),
    unit,
    bands: bands.map(({ label, fromHz, toHz, rms, ci95, belowRms }) => ({
      ...{ label, fromHz, toHz },
      rms: rms === null ? null : rms * factor,
      ci95: ci95 && ([ci95[0] * factor, ci95[1] * factor] as const),
      below: belowRms * factor,
    })),
    spanHz: [from, Math.max(to, bands[bands.length - 1].toHz)],
    top: factor * Math.min(ROOM_ABOVE * tallest, Math.max(tallest, ...kin.map(({ ci95 }) => ci95?.[1] ?? 0))),
  };
}

function kindOf(axis: Axis): 'angular' | 'translational' {
  return isAngular(axis) ? 'angular' : 'translational';
}

/** Axes of one kind share a scale. */
function kinOf(axis: Axis): Axis[] {
  return AXES.filter((other) => isAngular(other) === isAngular(axis));
}
