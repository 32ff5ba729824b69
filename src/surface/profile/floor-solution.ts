/** Heights of a rough floor under a stretch of a pass given its deck series: the Gaussian posterior at the nodes, metres. */
import { choleskyLargeInPlace, choleskySolveInPlace, mirrorLower } from '../../numerics/index.js';
import { assert } from '../../run/index.js';
import type { RolledDeck } from '../deck/rolled-deck.js';
import { REFERENCE_WAVENUMBER } from '../roughness/road-profile.js';
import { driftPrecision } from './drift-precision.js';
import { heightNodes, heightSeries, type HeightSeries } from './height-rows.js';
import { stretchDeck } from './stretches.js';
import type { Stretch, TrackSum } from './types.js';

/**
 * No surface is smoother, a ground rail has a thousand times as much. The difference of tracks that are alike can be fitted as next to
 * nothing, and the offset below would drown in the rounding of its prior.
 */
const LEAST_LEVEL_M3 = 1e-12;
/** Precision (0.1 m)^-2 of every height: holds the offset that no series sees. */
const OFFSET_PRECISION = 100;

/** Posterior of the heights h at the nodes: mean m, covariance (L L')^-1. */
export interface FloorSolution {
  readonly nodesM: Float64Array;
  /** J = sum A' K A / sigma^2 over the series, n * n, symmetric, 1/m^2. */
  readonly data: Float64Array;
  /** g = sum A' K y / sigma^2, 1/m. */
  readonly pull: Float64Array;
  /** L of J + prior in the lower triangle. */
  readonly factor: Float64Array;
  readonly meanM: Float64Array;
  /** Variance that the prior gives to the difference of neighbouring nodes, m^2, length n - 1. */
  readonly gapVarianceM2: Float64Array;
}

/**
 * Solves one stretch: raw series, drift left free; prior of a w = 2 floor of level `levelM3`, which is Brownian: heights of
 * neighbouring nodes dx apart differ by a variance 2 pi^2 n0^2 G dx, whatever lies between.
 *
 * @param levelM3 Gd(n0) of that sum of tracks, > 0
 * @throws RangeError when the deck does not show that sum, or the level is not positive
 */
export function solveFloor(
  deck: RolledDeck,
  track: TrackSum,
  levelM3: number,
  stretch: Stretch,
): FloorSolution {
  const part = stretchDeck(deck, stretch);
  return solveAtNodes(part, track, levelM3, heightNodes(part));
}

/** The same for a whole deck in one piece, with heights sought at nodes of one's own, rising. */
export function solveAtNodes(
  deck: RolledDeck,
  track: TrackSum,
  levelM3: number,
  nodesM: Float64Array,
): FloorSolution {
  if (!(levelM3 > 0)) throw new RangeError(`levelM3 must be positive, got ${levelM3}`);
  const series = heightSeries(deck, track, nodesM);
  if (series.length === 0) throw new RangeError(`the deck shows no ${track} of the wheel tracks`);
  const n = nodesM.length;
  const data = new Float64Array(n * n);
  const pull = new Float64Array(n);
  const precision = driftPrecision(deck.rearM.length, deck.rateHz, deck.cutoffHz);
  for (const one of series) addSeries(data, pull, one, precision);
  mirrorLower(data, n);

  const factor = data.slice();
  const perMetre = 2 * (Math.PI * REFERENCE_WAVENUMBER) ** 2 * Math.max(levelM3, LEAST_LEVEL_M3);
  for (let i = 0; i < n; i++) factor[i * n + i] += OFFSET_PRECISION;
  const gapVarianceM2 = new Float64Array(n - 1);
  for (let i = 0; i + 1 < n; i++) {
    const variance = perMetre * (nodesM[i + 1] - nodesM[i]);
    gapVarianceM2[i] = variance;
    factor[i * n + i] += 1 / variance;
    factor[(i + 1) * n + i + 1] += 1 / variance;
    factor[(i + 1) * n + i] -= 1 / variance;
  }
  assert(choleskyLargeInPlace(factor, n), 'a floor with a prior has a positive definite precision');
  const meanM = pull.slice();
  choleskySolveInPlace(factor, meanM, n);
  return { nodesM, data, pull, factor, meanM, gapVarianceM2 };
}

/** Adds A' K A / sigma^2 (lower triangle) and A' K y / sigma^2 of one series. */
function addSeries(
  data: Float64Array,
  pull: Float64Array,
  { rows: { perRow, columns, coefficients, right }, noiseSd }: HeightSeries,
  precision: Readonly<Float64Array>,
): void {
  const n = pull.length;
  const frames = right.length;
  for (let t = 0; t < frames; t++) {
    const row = precision.subarray(t * frames, (t + 1) * frames);
    let vibration = 0;
    for (let u = 0; u < frames; u++) vibration += row[u] * right[u];
    for (let a = t * perRow; a < (t + 1) * perRow; a++) {
      const scaled = coefficients[a] / noiseSd ** 2;
      if (scaled === 0) continue;
      const at = columns[a] * n;
      pull[columns[a]] += scaled * vibration;
      for (let u = 0, b = 0; u < frames; u++) {
        const weight = scaled * row[u];
        for (const end = b + perRow; b < end; b++) {
          if (columns[b] <= columns[a]) data[at + columns[b]] += weight * coefficients[b];
        }
      }
    }
  }
}
