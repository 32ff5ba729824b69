/**
 * How the shake of one axis spreads over frequency: power per hertz on a logarithmic scale against frequency in Hz, with the
 * noise floor, the level without peaks, the 95 % range of one reading and the peaks that were found.
 */
import { max, min } from 'd3-array';
import { scaleLog } from 'd3-scale';
import { line } from 'd3-shape';
import { bottomAxis, leftAxis, type PlotArea } from './axes.js';
import { element, svgRoot, textElement } from './svg.js';

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
  /** Peaks, Hz, with the mark that the table beside uses. */
  readonly peaks: readonly { readonly freqHz: number; readonly mark: string }[];
  /** Lowest and highest value of the vertical scale, so that axes of one kind share it; from the data when missing. */
  readonly domain?: readonly [number, number];
}

const WIDTH = 360;
const HEIGHT = 200;
const MAIN: PlotArea = { left: 46, top: 28, right: 354, bottom: 164 };
const FREQUENCY_TICKS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100];
const SUPERSCRIPT = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** Whole decades around a set of positive values, with room above for a mark; [1e-6, 1] when there is none. */
export function decades(values: readonly number[]): [number, number] {
  const positive = values.filter((value) => value > 0);
  const low = min(positive);
  const high = max(positive);
  if (low === undefined || high === undefined) return [1e-6, 1];
  const from = Math.floor(Math.log10(low));
  return [10 ** from, 10 ** Math.max(from + 1, Math.ceil(Math.log10(2 * high) + 1e-9))];
}

/** Draws the spectrum of one axis. @returns SVG text, 360 x 200 */
export function spectrumChart(data: SpectrumChartData): string {
  const { freqHz, psd, noiseFloor, kind, cutoffHz, ci95Factors } = data;
  const drawn = freqHz.map((_, i) => i).filter((i) => freqHz[i] > 0 && psd[i] > 0);
  const highest = drawn.length > 0 ? freqHz[drawn[drawn.length - 1]] : 10;
  const lowest = Math.min(drawn.length > 0 ? freqHz[drawn[0]] : 0.5, cutoffHz);
  const x = scaleLog([Math.max(lowest, 0.05), Math.max(highest, 2 * lowest)], [MAIN.left, MAIN.right]);
  const domain = data.domain ?? decades([...psd, noiseFloor ?? 0]);
  const y = scaleLog([...domain], [MAIN.bottom, MAIN.top]).clamp(true);

  const exponents: number[] = [];
  const first = Math.round(Math.log10(domain[0]));
  const last = Math.round(Math.log10(domain[1]));
  const step = Math.max(1, Math.ceil((last - first) / 6));
  for (let e = first; e <= last; e += step) exponents.push(e);

  const curve = line<number>()
    .x((i) => x(freqHz[i]))
    .y((i) => y(psd[i]))
    .digits(2)(drawn);
  const barX = MAIN.left + 10;
  const barMiddle = 10 ** ((first + 3 * last) / 4);
  const [barLow, barHigh] = [y(barMiddle * ci95Factors[0]), y(barMiddle * ci95Factors[1])];

  return svgRoot(
    WIDTH,
    HEIGHT,
    data.label,
    leftAxis(
      MAIN,
      exponents.map((e) => ({ at: y(10 ** e), label: power(e) })),
      data.unit,
    ),
    bottomAxis(
      MAIN,
      FREQUENCY_TICKS.filter((f) => f >= x.domain()[0] && f <= x.domain()[1]).map((f) => ({
        at: x(f),
        label: String(f),
      })),
      'frequency, Hz',
    ),
    element('rect', {
      class: 'unused',
      x: MAIN.left,
      y: MAIN.top,
      width: Math.max(0, x(cutoffHz) - MAIN.left),
      height: MAIN.bottom - MAIN.top,
    }),
    noiseFloor !== null && noiseFloor > 0
      ? element('line', {
          class: 'noise-floor',
          x1: MAIN.left,
          x2: MAIN.right,
          y1: y(noiseFloor),
          y2: y(noiseFloor),
        })
      : '',
    backgroundLine(data.background, x, y),
    element('path', { class: `series ${kind}`, d: curve ?? '' }),
    element('path', {
      class: 'range-bar',
      d: `M${barX} ${barLow.toFixed(2)}V${barHigh.toFixed(2)}M${barX - 3} ${barLow.toFixed(2)}h6M${barX - 3} ${barHigh.toFixed(2)}h6`,
    }),
    textElement({ class: 'tick-label', x: barX + 6, y: (barLow + barHigh) / 2 + 3.5 }, '95 %'),
    ...peakMarks(
      data.peaks
        .filter(({ freqHz: f }) => f >= x.domain()[0] && f <= x.domain()[1])
        .map(({ freqHz: f, mark }) => ({ atX: x(f), atY: y(readingAt(f, freqHz, psd)) - 6, mark })),
    ),
  );
}

type Scale = (value: number) => number;

function backgroundLine(background: SpectrumChartData['background'], x: Scale, y: Scale): string {
  if (background === null) return '';
  const drawn = background.freqHz
    .map((_, i) => i)
    .filter((i) => background.freqHz[i] > 0 && background.psd[i] > 0);
  const curve = line<number>()
    .x((i) => x(background.freqHz[i]))
    .y((i) => y(background.psd[i]))
    .digits(1)(drawn);
  return element('path', { class: 'background', d: curve ?? '' });
}

interface PeakMark {
  readonly atX: number;
  readonly atY: number;
  readonly mark: string;
}

/** Room that a mark takes, px. */
const MARK_WIDTH = 16;
const MARK_HEIGHT = 11;

/** From left to right; a mark that would overprint the one before is put above it, and below the top of the chart stands anyway. */
function peakMarks(marks: readonly PeakMark[]): string[] {
  const placed: PeakMark[] = [];
  for (const mark of [...marks].sort((a, b) => a.atX - b.atX)) {
    let atY = Math.max(MAIN.top + 6, mark.atY);
    const meets = (one: PeakMark): boolean =>
      Math.abs(one.atX - mark.atX) < MARK_WIDTH && Math.abs(one.atY - atY) < MARK_HEIGHT;
    while (placed.some(meets)) atY -= MARK_HEIGHT;
    placed.push({ ...mark, atY });
  }
  return placed.map(({ atX, atY, mark }) => peakMark(atX, atY, mark));
}

function peakMark(atX: number, atY: number, mark: string): string {
  const d = `M${atX.toFixed(2)} ${atY.toFixed(2)}l-4 -7h8z`;
  return (
    element('path', { class: 'peak', d }) + textElement({ class: 'peak-label', x: atX + 6, y: atY - 1 }, mark)
  );
}

/** The largest reading within one bin of a frequency. */
function readingAt(f: number, freqHz: readonly number[], psd: readonly number[]): number {
  let nearest = 0;
  for (let i = 1; i < freqHz.length; i++)
    if (Math.abs(freqHz[i] - f) < Math.abs(freqHz[nearest] - f)) nearest = i;
  return Math.max(psd[nearest - 1] ?? 0, psd[nearest] ?? 0, psd[nearest + 1] ?? 0) || 1e-30;
}

/** 10 to a whole power as people write it. @example power(-6) // "10⁻⁶" */
export function power(exponent: number): string {
  const digits = [...String(Math.abs(exponent))].map((d) => SUPERSCRIPT[Number(d)]).join('');
  return `10${exponent < 0 ? '⁻' : ''}${digits}`;
}
