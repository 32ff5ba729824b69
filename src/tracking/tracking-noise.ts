/**
 * How much single tracks jitter by themselves, px per axis, from third differences in time: no motion model needed.
 *
 * White noise of standard deviation s gives third differences of variance 20 s^2 (1 + 9 + 9 + 1). Motion that the camera
 * or the scene shares is taken out per frame: first what is affine over the picture, then what near neighbours have in
 * common (own derivation). Errors that last over frames, or that neighbours share, are not seen.
 */
import { median, medianAbsoluteDeviation, solveSymmetric } from '../numerics/index.js';
import type { TrackTable } from './types.js';

/** Variance of a third difference of white noise of unit variance. */
const THIRD_DIFFERENCE_VARIANCE = 20;

/** Standard deviation of normal data over its median absolute deviation. */
const NORMAL_MAD = 1.4826;

/** Tracks in a frame below which the common part cannot be told from the rest. */
const LEAST_TRACKS = 12;

/** Nearest tracks whose mean stands for what is common to a neighbourhood. */
const NEIGHBOURS = 6;

/** A gap between frames longer than this many usual gaps is a hole that no difference may span. */
const LONGEST_GAP = 1.5;

/** Third differences that begin in one frame. */
interface Bundle {
  readonly x: number[];
  readonly y: number[];
  readonly dx: number[];
  readonly dy: number[];
}

/**
 * Tracking noise of the table, px per axis; null when no frame holds enough tracks that last four frames.
 */
export function trackingNoisePx(table: TrackTable): number | null {
  const residuals: number[] = [];
  for (const bundle of bundles(table)) {
    const count = bundle.x.length;
    if (count < LEAST_TRACKS) continue;
    const near = nearest(bundle, NEIGHBOURS);
    // Both corrections leave part of the noise out of, and bring part of the neighbours' noise into, each residual.
    const shrink = Math.sqrt((1 + 1 / NEIGHBOURS) * (1 - 3 / count));
    for (const values of [bundle.dx, bundle.dy]) {
      const left = withoutAffine(bundle, values);
      for (let i = 0; i < count; i++) {
        let common = 0;
        for (let j = 0; j < NEIGHBOURS; j++) common += left[near[i * NEIGHBOURS + j]];
        residuals.push((left[i] - common / NEIGHBOURS) / shrink);
      }
    }
  }
  if (residuals.length === 0) return null;
  return (NORMAL_MAD * medianAbsoluteDeviation(residuals)) / Math.sqrt(THIRD_DIFFERENCE_VARIANCE);
}

/** Third differences of all tracks, gathered by their first frame; windows with a hole in time are left out. */
function bundles(table: TrackTable): Bundle[] {
  const { timeS, frameCount, trackStart, obsFrame, xPx, yPx } = table;
  const gaps = timeS.subarray(1).map((time, i) => time - timeS[i]);
  const usualGapS = gaps.length ? median(gaps) : 0;
  const isWhole = Array.from({ length: frameCount }, (_, k) =>
    [0, 1, 2].every((i) => k + i < gaps.length && gaps[k + i] <= LONGEST_GAP * usualGapS),
  );
  const all: Bundle[] = Array.from({ length: frameCount }, () => ({ x: [], y: [], dx: [], dy: [] }));
  for (let track = 0; track < table.trackCount; track++) {
    for (let i = trackStart[track]; i + 3 < trackStart[track + 1]; i++) {
      const frame = obsFrame[i];
      if (obsFrame[i + 3] !== frame + 3 || !isWhole[frame]) continue;
      const bundle = all[frame];
      bundle.x.push(xPx[i]);
      bundle.y.push(yPx[i]);
      bundle.dx.push(xPx[i + 3] - 3 * xPx[i + 2] + 3 * xPx[i + 1] - xPx[i]);
      bundle.dy.push(yPx[i + 3] - 3 * yPx[i + 2] + 3 * yPx[i + 1] - yPx[i]);
    }
  }
  return all;
}

/** Residuals of a + b x + c y fitted by weighted least squares, thrice, with far residuals weighed down. */
function withoutAffine(bundle: Bundle, values: readonly number[]): number[] {
  const count = values.length;
  const middle = median(values);
  let residuals = values.map((value) => value - middle);
  for (let pass = 0; pass < 3; pass++) {
    const scale = 2 * medianAbsoluteDeviation(residuals);
    // The small diagonal keeps the fit defined when all tracks lie on one line.
    const matrix = Float64Array.of(1e-9, 0, 0, 0, 1e-9, 0, 0, 0, 1e-9);
    const right = new Float64Array(3);
    for (let i = 0; i < count; i++) {
      const weight = scale > 0 ? Math.min(1, scale / Math.max(Math.abs(residuals[i]), 1e-12)) : 1;
      const row = [1, bundle.x[i] / 1000, bundle.y[i] / 1000];
      for (let p = 0; p < 3; p++) {
        right[p] += weight * row[p] * values[i];
        for (let q = 0; q < 3; q++) matrix[3 * p + q] += weight * row[p] * row[q];
      }
    }
    const fit = solveSymmetric(matrix, right, 3);
    residuals = values.map(
      (value, i) => value - fit[0] - (fit[1] * bundle.x[i] + fit[2] * bundle.y[i]) / 1000,
    );
  }
  return residuals;
}

/** Indices of the nearest other tracks of each track, `size` per track. */
function nearest(bundle: Bundle, size: number): Int32Array {
  const count = bundle.x.length;
  const result = new Int32Array(count * size);
  const best = new Float64Array(size);
  for (let i = 0; i < count; i++) {
    best.fill(Infinity);
    for (let j = 0; j < count; j++) {
      if (j === i) continue;
      const distance = (bundle.x[j] - bundle.x[i]) ** 2 + (bundle.y[j] - bundle.y[i]) ** 2;
      if (distance >= best[size - 1]) continue;
      let at = size - 1;
      while (at > 0 && best[at - 1] > distance) {
        best[at] = best[at - 1];
        result[i * size + at] = result[i * size + at - 1];
        at -= 1;
      }
      best[at] = distance;
      result[i * size + at] = j;
    }
  }
  return result;
}
