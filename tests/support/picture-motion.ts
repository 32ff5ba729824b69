/**
 * How much the picture of a clip moves above a frequency, px RMS of its frames: from tracks of points alone, with no camera,
 * no depths and no split into axes.
 *
 * Each track is high-passed by itself; what lies near its own ends is left out, for there a smoother has one side only.
 */
import { fourthDifferenceGain, fourthDifferenceSmooth, mean } from '../../src/numerics/index.js';
import type { TrackTable } from '../../src/tracking/index.js';

/** Cells that the picture is divided into, so that it counts evenly wherever corners crowd. */
const COLUMNS = 8;
const ROWS = 6;
/** Left out at both ends of every track. */
const END_S = 0.5;
/** Samples that a track must have beside its ends. */
const LEAST_MIDDLE = 10;

/** Motion of a picture. */
export interface PictureMotion {
  /** Length of the motion vector, RMS over picture and frames, jitter of single tracks taken off. */
  readonly rmsPx: number;
  /** What was taken off. */
  readonly jitterPx: number;
  /** Cells that were seen, as a share of all. */
  readonly coverage: number;
}

/**
 * Picture motion above a frequency.
 *
 * @param noisePx jitter of single tracks per direction; white, so the band holds its share of it
 */
export function pictureMotion(
  { trackCount, trackStart, xPx, yPx, widthPx, heightPx }: TrackTable,
  rateHz: number,
  cutoffHz: number,
  noisePx: number,
): PictureMotion {
  const end = Math.round(END_S * rateHz);
  const cells = Array.from({ length: COLUMNS * ROWS }, () => ({ sum: 0, count: 0 }));
  for (let i = 0; i < trackCount; i++) {
    const [from, to] = [trackStart[i], trackStart[i + 1]];
    if (to - from < 2 * end + LEAST_MIDDLE) continue;
    const x = fast(xPx.slice(from, to), rateHz, cutoffHz);
    const y = fast(yPx.slice(from, to), rateHz, cutoffHz);
    for (let t = end; t < to - from - end; t++) {
      const column = Math.floor((COLUMNS * (xPx[from + t] + 0.5)) / widthPx);
      const row = Math.floor((ROWS * (yPx[from + t] + 0.5)) / heightPx);
      const cell = cells[row * COLUMNS + column];
      cell.sum += x[t] ** 2 + y[t] ** 2;
      cell.count++;
    }
  }
  const seen = cells.filter(({ count }) => count > 0);
  const square = mean(seen.map(({ sum, count }) => sum / count));
  const jitter = 2 * noisePx ** 2 * bandShare(rateHz, cutoffHz);
  return {
    rmsPx: Math.sqrt(Math.max(0, square - jitter)),
    jitterPx: Math.sqrt(jitter),
    coverage: seen.length / cells.length,
  };
}

function fast(series: Float64Array, rateHz: number, cutoffHz: number): Float64Array {
  const slow = fourthDifferenceSmooth(series, rateHz, cutoffHz);
  return series.map((value, t) => value - slow[t]);
}

/** Share of white noise that passes the high-pass. */
function bandShare(rateHz: number, cutoffHz: number): number {
  const steps = 200;
  const gains = Array.from({ length: steps }, (_, k) =>
    fourthDifferenceGain(((k + 0.5) / steps) * (rateHz / 2), rateHz, cutoffHz),
  );
  return mean(gains.map((gain) => gain ** 2));
}
