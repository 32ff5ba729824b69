/**
 * Power density as it changes along a series: one row for each stretch, over time (seconds and hertz) or over the way of the
 * dolly (metres and cycles/m), in (unit of the series)^2 per hertz or per cycle/m.
 *
 * Each stretch goes through one Hann window: it keeps lines 0.75 Hz narrow in 2 s and steep spectra from leaking upwards, at the price
 * of speckles, since a cell has 2 degrees of freedom. Harris 1978, Proc. IEEE 66, 51-83.
 */
import { quantile, realFft, resampleEven } from '../../numerics/index.js';
import { centred } from './segments.js';
import { noiseBandwidthBins, windowSamples } from './windows.js';

/** How large a picture is and what a row of it covers. */
export const SPECTROGRAM_DEFAULTS = {
  /** Seconds in a row: 1.6 periods of the slowest vibration, and 2 m of floor at 1 m/s. */
  windowS: 2,
  /** A row holds at most this share of the series, so that even a short clip shows a change. */
  mostShare: 1 / 3,
  /** Rows follow each other by this share of the window; a long series takes larger steps. */
  hopShare: 1 / 4,
  mostRows: 60,
  mostColumns: 64,
} as const;

/** Shortest series and shortest window that a picture is made of, samples. */
const LEAST_SAMPLES = 16;
const LEAST_WINDOW = 8;

/** A frame takes the dolly on when it covers this share of the mean way per frame. */
const LEAST_ADVANCE = 0.05;
/** Share of the samples that must take the dolly on. */
const LEAST_ADVANCING = 0.5;
/** Share of the frames that are slower than the spacing of the places, and faster than the highest wavenumber shown allows. */
const SLOW_SHARE = 0.1;

/** One picture over time. */
export interface Spectrogram {
  readonly windowS: number;
  /** Noise bandwidth of the window, 1.5 / windowS, or the spacing of the columns if that is more. */
  readonly resolutionHz: number;
  /** Middle of each row, seconds on the clock of `startS`. */
  readonly timeS: Float64Array;
  /** Where the dolly was then, metres; null when no place was given. */
  readonly placeM: Float64Array | null;
  /** Columns, evenly spaced within the band. */
  readonly freqHz: Float64Array;
  /** One for each time: one-sided density, (unit of the series)^2 / Hz. */
  readonly rows: readonly Float64Array[];
}

/** What {@link spectrogram} may be told. */
export interface SpectrogramOptions {
  /** Band of the columns, Hz; the upper end is cut to Nyquist. */
  readonly bandHz: readonly [number, number];
  /** Time of the first sample, seconds; 0 unless given. */
  readonly startS?: number;
  /** Way of the dolly at each sample, metres, length of the series. */
  readonly placeM?: Readonly<Float64Array> | null;
  /** Seconds in a row; {@link SPECTROGRAM_DEFAULTS} unless given, at most a third of the series. */
  readonly windowS?: number;
}

/** One picture over the way. */
export interface PlaceSpectrogram {
  readonly windowM: number;
  /** Noise bandwidth of the window, or the spacing of the columns if that is more. */
  readonly resolutionCyclesPerM: number;
  /** Middle of each row, metres of the way, rising. */
  readonly placeM: Float64Array;
  readonly cyclesPerM: Float64Array;
  /** One for each place: one-sided density, (unit of the series)^2 m. */
  readonly rows: readonly Float64Array[];
}

interface Picture {
  readonly window: number;
  /** Middle of each row, in the steps of the series. */
  readonly middles: Float64Array;
  readonly columns: Float64Array;
  readonly resolution: number;
  readonly rows: readonly Float64Array[];
}

/** Rows over an even series of `rate` samples in a unit of length or time, columns between two frequencies in 1 / unit. */
function picture(
  series: Readonly<Float64Array>,
  rate: number,
  wanted: number,
  [low, high]: readonly [number, number],
): Picture {
  const d = SPECTROGRAM_DEFAULTS;
  const window = Math.max(LEAST_WINDOW, Math.round(Math.min(wanted * rate, d.mostShare * series.length)));
  const spare = series.length - window;
  const count = Math.min(d.mostRows, Math.floor(spare / Math.max(1, d.hopShare * window)) + 1);
  const starts = Array.from({ length: count }, (_, r) =>
    count > 1 ? Math.round((r * spare) / (count - 1)) : Math.round(spare / 2),
  );
  // Twice the length puts the columns as close as they can differ.
  const size = 2 * window;
  const step = rate / size;
  const first = Math.ceil(low / step - 1e-9);
  const bins = Math.floor(Math.min(high, rate / 2) / step + 1e-9) - first + 1;
  const group = Math.max(1, Math.ceil(bins / d.mostColumns));
  const columns = Float64Array.from(
    { length: Math.max(0, Math.floor(bins / group)) },
    (_, c) => (first + c * group + (group - 1) / 2) * step,
  );
  const shape = windowSamples('hann', window);
  const scale = 2 / (rate * shape.reduce((sum, w) => sum + w * w, 0));
  const rows = starts.map((start) => {
    const stretch = centred(series.subarray(start, start + window), true);
    const { re, im } = realFft(
      stretch.map((v, i) => v * shape[i]),
      size,
    );
    // One-sided: 0 Hz and Nyquist are their own mirror and not doubled.
    const psd = re.map((x, b) => (b === 0 || 2 * b === size ? 0.5 : 1) * scale * (x ** 2 + im[b] ** 2));
    return columns.map((_, c) => {
      const from = first + c * group;
      return psd.subarray(from, from + group).reduce((sum, s) => sum + s, 0) / group;
    });
  });
  return {
    window: window / rate,
    middles: Float64Array.from(starts, (start) => start + (window - 1) / 2),
    columns,
    resolution: Math.max((noiseBandwidthBins(shape) * rate) / window, group * step),
    rows,
  };
}

function requireSeries(series: Readonly<Float64Array>, placeM: Readonly<Float64Array> | null): void {
  if (series.length < LEAST_SAMPLES)
    throw new RangeError(`series must hold at least ${LEAST_SAMPLES} samples, got ${series.length}`);
  if (placeM !== null && placeM.length !== series.length)
    throw new RangeError(`placeM must have the length of the series ${series.length}, got ${placeM.length}`);
}

/** Value between two samples, linear. */
function between(column: Readonly<Float64Array>, at: number): number {
  const below = Math.min(Math.floor(at), column.length - 2);
  return column[below] + (at - below) * (column[below + 1] - column[below]);
}

/**
 * Spectrogram over time, each row with the place of the dolly at its middle.
 *
 * A row covers 2 s, or a third of a series below 6 s; rows follow each other by at most a quarter of that, at most 60 of them: a
 * series above half a minute takes larger steps, so that the first row starts with the series and the last one ends with it.
 * Columns are the bins of twice the window's length, averaged in equal groups when there are more than 64. The mean of each
 * row is taken off. No high-pass is put right, as in the density that {@link welch} gives.
 *
 * @param series length n >= 16, evenly spaced, no gaps, any unit, not changed
 * @param rateHz samples per second, > 0
 * @throws RangeError on a series, place or rate outside these bounds
 * @example
 * spectrogram(series, 25, { bandHz: [0.8, 12.5] }) // 9 s: 15 rows of 2 s, columns from 1 Hz every 0.25 Hz
 */
export function spectrogram(
  series: Readonly<Float64Array>,
  rateHz: number,
  { bandHz, startS = 0, placeM = null, windowS = SPECTROGRAM_DEFAULTS.windowS }: SpectrogramOptions,
): Spectrogram {
  requireSeries(series, placeM);
  const { window, middles, columns, resolution, rows } = picture(series, rateHz, windowS, bandHz);
  return {
    windowS: window,
    resolutionHz: resolution,
    timeS: middles.map((at) => startS + at / rateHz),
    placeM: placeM && middles.map((at) => between(placeM, at)),
    freqHz: columns,
    rows,
  };
}

/** Samples that take the dolly on; where it stands or rolls back nothing is kept. */
function advancing(placeM: Readonly<Float64Array>): number[] {
  const sign = placeM[placeM.length - 1] >= placeM[0] ? 1 : -1;
  const least = (LEAST_ADVANCE * Math.abs(placeM[placeM.length - 1] - placeM[0])) / placeM.length;
  const kept: number[] = [];
  for (let i = 0; i < placeM.length; i++) {
    if (kept.length === 0 || sign * (placeM[i] - placeM[kept[kept.length - 1]]) > least) kept.push(i);
  }
  return sign > 0 ? kept : kept.reverse();
}

/**
 * Spectrogram over the way of the dolly: the series resampled to even places, so that joints and wheels stand at one wavenumber
 * however the speed changes, and each row at its stretch of floor.
 *
 * Frames that do not take the dolly on (standing, rolling back) are left out; a row covers what the dolly covers in 2 s at its
 * median speed, or a third of the way. Wavenumbers go up to what the frames could show at the fastest speed of 9 in 10 frames;
 * a shake of one frequency smears where the speed changes: read that over time.
 *
 * @param series length n >= 16, evenly spaced in time, no gaps, any unit, not changed
 * @param placeM way at each sample, metres, length n; rising or falling
 * @param rateHz samples per second, > 0
 * @param leastHz lowest frequency of the series; columns start at it over the median speed
 * @returns null when the dolly moves on in less than half of the frames
 * @throws RangeError on a series or place of another length
 */
export function placeSpectrogram(
  series: Readonly<Float64Array>,
  placeM: Readonly<Float64Array>,
  rateHz: number,
  leastHz: number,
): PlaceSpectrogram | null {
  requireSeries(series, placeM);
  const kept = advancing(placeM);
  if (kept.length < Math.max(LEAST_SAMPLES, LEAST_ADVANCING * placeM.length)) return null;
  const places = Float64Array.from(kept, (i) => placeM[i]);
  const steps = places.subarray(1).map((p, i) => p - places[i]);
  const spacingM = quantile(steps, SLOW_SHARE);
  const even = resampleEven(
    places,
    Float64Array.from(kept, (i) => series[i]),
    1 / spacingM,
  );
  const medianStepM = quantile(steps, 0.5);
  const { window, middles, columns, resolution, rows } = picture(
    even.values,
    1 / spacingM,
    SPECTROGRAM_DEFAULTS.windowS * rateHz * medianStepM,
    [leastHz / (rateHz * medianStepM), 1 / (2 * quantile(steps, 1 - SLOW_SHARE))],
  );
  return {
    windowM: window,
    resolutionCyclesPerM: resolution,
    placeM: middles.map((at) => places[0] + at * spacingM),
    cyclesPerM: columns,
    rows,
  };
}
