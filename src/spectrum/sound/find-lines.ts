/** Lines of constant frequency in a long series, by one sine taper over all of it against a robust background; hertz. */
import { multitaperSpectrum } from '../../numerics/index.js';
import { robustBackground } from '../peaks/median-background.js';
import type { SlowSeries } from './loudness.js';

/** One line. */
export interface FoundLine {
  readonly freqHz: number;
  readonly freqSdHz: number;
  /** rho = A^2 T / (2 S_b): power over the background in one resolution cell. */
  readonly strength: number;
}

/** The level around a bin is a low quantile over this many bins 1 / T apart: a comb of ticks may fill half of them. */
const LEVEL_BINS = 151;
const LEVEL_QUANTILE = 0.35;
/** That quantile of an exponential variate of mean 1. */
const QUANTILE_OF_ONE = -Math.log(1 - LEVEL_QUANTILE);
/** Averages that a mean level of the same spread would be made of: the variance of the quantile over its square, inverted. */
const LEVEL_AVERAGES = (LEVEL_BINS * QUANTILE_OF_ONE ** 2 * (1 - LEVEL_QUANTILE)) / LEVEL_QUANTILE;
/** Bins of the slope that is taken out before. */
const SLOPE_BINS = 3000;
/** Bins 1 / T apart count as this many independent ones, for a line may lie between them [measured on noise]. */
const BINS_SEARCHED = 1.5;
/** A line has to stand this far above the mean of its own neighbours, 3 to 8 bins off: a hump does not. */
const OVER_NEIGHBOURS = 8;
/** A band of fewer bins has no background to speak of. */
const LEAST_BINS = 25;
/** Top of a line over rho, and its standard deviation times T sqrt(rho). */
const TOP_OF_LINE = 0.81;
const LINE_SD = 0.65;
/** Half width that one line takes up, bins. */
const LINE_BINS = 1.75;

/** A spectrum over its own background, on bins finer than 1 / T. */
export interface RaisedSpectrum {
  readonly durationS: number;
  readonly binHz: number;
  /** Fine bins in 1 / T. */
  readonly perBin: number;
  /** Ordinates from 0 Hz on. */
  readonly psd: Float64Array;
  /** First and last fine bin of the band; between them `over` holds. */
  readonly first: number;
  readonly last: number;
  /** Ordinate over the mean level around; near 1 on average without lines. */
  readonly over: (bin: number) => number;
}

/**
 * The spectrum of a series by one sine taper over a robust background: a bent power law and octave median times a low
 * quantile over 151 bins. Null for a band of fewer than 25 bins.
 */
export function raisedSpectrum(
  { values, rateHz }: SlowSeries,
  fromHz: number,
  toHz: number,
): RaisedSpectrum | null {
  const size = 2 ** Math.ceil(Math.log2(3 * values.length));
  const { freqHz, psd } = multitaperSpectrum(values, rateHz, 1, size);
  const binHz = rateHz / size;
  const perBin = size / values.length;
  const first = Math.ceil(fromHz / binHz);
  const last = Math.min(Math.floor(toHz / binHz), psd.length - 2);
  const bins = Math.floor((last - first) / perBin);
  if (bins < LEAST_BINS) return null;
  const level = levelOf(freqHz, psd, first, perBin, bins);
  const over = (i: number): number => psd[i] / level[Math.min(bins - 1, Math.round((i - first) / perBin))];
  return { durationS: values.length / rateHz, binHz, perBin, psd, first, last, over };
}

/** A line where the spectrum has its top; its frequency may be known better than from the top alone. */
export function lineAt(over: number, freqHz: number, durationS: number): FoundLine {
  const strength = (over - 1) / TOP_OF_LINE;
  return { freqHz, freqSdHz: LINE_SD / (durationS * Math.sqrt(strength)), strength };
}

/**
 * Lines that stand out.
 *
 * The threshold allows for the scatter of the level (a ratio of an exponential variate to a mean of m of them exceeds x
 * with chance (1 + x/m)^-m). Bins beside a strong line, as far as the taper spreads it, are not searched.
 *
 * @param falseChance chance of one false line or more in the whole band on noise without lines
 * @param most strongest first, no more than these
 * @returns lowest first
 * @remarks Frequency by a parabola through the logarithms of three ordinates; its standard deviation is 0.65 / (T sqrt rho).
 */
export function findLines(spectrum: RaisedSpectrum, falseChance: number, most: number): FoundLine[] {
  const { durationS, binHz, perBin, psd, first, last, over } = spectrum;
  const searched = (BINS_SEARCHED * (last - first)) / perBin;
  const chance = -Math.expm1(Math.log1p(-falseChance) / searched);
  const threshold = LEVEL_AVERAGES * Math.expm1(-Math.log(chance) / LEVEL_AVERAGES);

  const tops: { at: number; over: number }[] = [];
  for (let i = first; i <= last; i++) {
    if (psd[i] >= psd[i - 1] && psd[i] > psd[i + 1] && over(i) > threshold)
      tops.push({ at: i, over: over(i) });
  }
  tops.sort((a, b) => b.over - a.over);
  const taken: { at: number; reach: number }[] = [];
  const lines: FoundLine[] = [];
  for (const top of tops) {
    if (lines.length >= most) break;
    if (taken.some(({ at, reach }) => Math.abs(at - top.at) < reach)) continue;
    // Far off, the taper spreads a line as 1 / (16 x^4), x in bins.
    taken.push({ at: top.at, reach: perBin * Math.max(LINE_BINS, 1.5 * (top.over / 16) ** 0.25) });
    if (!standsAlone(psd, top.at, perBin)) continue;
    lines.push(lineAt(top.over, (top.at + summit(psd, top.at)) * binHz, durationS));
  }
  return lines.sort((a, b) => a.freqHz - b.freqHz);
}

/** Mean level at bins 1 / T apart, from the first bin of the band on. */
function levelOf(
  freqHz: Float64Array,
  psd: Float64Array,
  first: number,
  perBin: number,
  bins: number,
): Float64Array {
  const at = Int32Array.from({ length: bins }, (_, k) => first + Math.round(k * perBin));
  const stride = Math.ceil(bins / SLOPE_BINS);
  const some = at.filter((_, k) => k % stride === 0);
  const least = Number.MIN_VALUE * 2 ** 60;
  const slope = robustBackground(
    {
      freqHz: Float64Array.from(some, (i) => freqHz[i]),
      psd: Float64Array.from(some, (i) => psd[i] + least),
    },
    1,
  );
  const level = Float64Array.from(at, (i) => slope(freqHz[i]));
  const quantiles = runningQuantile(Float64Array.from(at, (i, k) => psd[i] / level[k]));
  return level.map((l, k) => Math.max((l * quantiles[k]) / QUANTILE_OF_ONE, least));
}

/** A low quantile in a window that slides bin by bin and stops at the ends. */
function runningQuantile(values: Float64Array): Float64Array {
  const width = Math.min(LEVEL_BINS, values.length);
  const half = width >> 1;
  const sorted = values.slice(0, width).sort();
  const out = new Float64Array(values.length);
  const rank = Math.floor(LEVEL_QUANTILE * (width - 1));
  for (let k = 0; k < values.length; k++) {
    const next = k + half;
    if (k > half && next < values.length) {
      const left = placeOf(sorted, values[next - width], width);
      sorted.copyWithin(left, left + 1);
      const to = placeOf(sorted, values[next], width - 1);
      sorted.copyWithin(to + 1, to, width - 1);
      sorted[to] = values[next];
    }
    out[k] = sorted[rank];
  }
  return out;
}

/** First of the first `length` sorted values that is not below `value`. */
function placeOf(sorted: Float64Array, value: number, length: number): number {
  let low = 0;
  let high = length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle] < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

function standsAlone(psd: Float64Array, top: number, perBin: number): boolean {
  let sum = 0;
  let count = 0;
  for (let i = Math.round(3 * perBin); i <= 8 * perBin; i++) {
    for (const at of [top - i, top + i]) {
      if (at < 1 || at >= psd.length) continue;
      sum += psd[at];
      count++;
    }
  }
  return count === 0 || psd[top] * count > OVER_NEIGHBOURS * sum;
}

/** Place of the maximum of a parabola through the logarithms of three ordinates, -0.5..0.5 bins from the middle one. */
function summit(psd: Float64Array, top: number): number {
  const [a, b, c] = [psd[top - 1], psd[top], psd[top + 1]].map(Math.log);
  const bend = a - 2 * b + c;
  return bend < 0 ? (0.5 * (a - c)) / bend : 0;
}
