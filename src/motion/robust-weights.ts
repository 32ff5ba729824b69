/**
 * How much each observation and each track is trusted: Geman-McClure and Huber weights from residuals, a robust
 * residual scale, and a weight per track that throws out what moves by itself.
 *
 * Geman & McClure 1987 and Huber 1964 give the kernels; the weight per track is our own.
 */
import { median } from '../numerics/index.js';
import type { Observations } from './observations.js';
import type { Linearisation } from './projection.js';

/** Kernel of the weights: redescending once the scene is nearly right, convex while it is not. */
export type Kernel = 'gemanMcClure' | 'huber';

/** Residuals beyond this many sigma count less and less. */
const KERNEL_WIDTH = 3;
/** Median of |N(0,1)|. */
const NORMAL_MEDIAN = 0.6745;
/**
 * An observation adds at most this much (in sigma^2) to the misfit of its track; without the cap a good track with
 * one gross error is lost.
 */
const OBSERVATION_CAP = 12;
/** Misfit per degree of freedom up to which a track is fully trusted, and from which it is not trusted at all. */
const TRACK_GOOD = 2;
const TRACK_BAD = 4;

/** Weight 0..1 of a residual of squared length r2 at noise sigma per axis. */
export function observationWeight(r2: number, sigma: number, kernel: Kernel): number {
  const e2 = r2 / (2 * sigma * sigma);
  if (kernel === 'huber') return Math.min(1, KERNEL_WIDTH / 2 / Math.sqrt(Math.max(e2, 1e-18)));
  const s = 1 + e2 / (KERNEL_WIDTH * KERNEL_WIDTH);
  return 1 / (s * s);
}

/** This many observations give the residual scale to one per cent; of more, every so many-th is taken. */
const ENOUGH_FOR_SCALE = 8000;

/** Robust noise per axis over the observations of trusted tracks, in the unit of the residuals; 0 when there are none. */
export function residualScale(obs: Observations, lin: Linearisation, trackWeights: Float64Array): number {
  const { count, track } = obs;
  const stride = Math.max(1, Math.floor(count / ENOUGH_FOR_SCALE));
  const sizes = new Float64Array(2 * Math.ceil(count / stride));
  let n = 0;
  for (let o = 0; o < count; o += stride) {
    if (trackWeights[track[o]] <= 0) continue;
    sizes[n++] = Math.abs(lin.residualX[o]);
    sizes[n++] = Math.abs(lin.residualY[o]);
  }
  return n > 0 ? median(sizes.subarray(0, n)) / NORMAL_MEDIAN : 0;
}

/** Sets the weight of every track from its misfit per degree of freedom at noise sigma. */
export function weighTracks(
  obs: Observations,
  lin: Linearisation,
  sigma: number,
  trackWeights: Float64Array,
): void {
  const { trackCount, trackStart } = obs;
  const { residualX, residualY } = lin;
  const perSigma2 = 1 / (sigma * sigma);
  for (let i = 0; i < trackCount; i++) {
    let sum = 0;
    for (let o = trackStart[i]; o < trackStart[i + 1]; o++) {
      const e2 = (residualX[o] * residualX[o] + residualY[o] * residualY[o]) * perSigma2;
      sum += Math.min(e2, OBSERVATION_CAP);
    }
    // Two coordinates an observation, three unknowns a track.
    const misfit = sum / Math.max(2 * (trackStart[i + 1] - trackStart[i]) - 3, 1);
    trackWeights[i] = misfit < TRACK_GOOD ? 1 : misfit < TRACK_BAD ? (TRACK_GOOD / misfit) ** 4 : 0;
  }
}

/** Mean of min(|r|^2 / sigma^2, 18) / 2 over the observations, each with the weight of its track: the price of a scene. */
export function robustCost(
  obs: Observations,
  lin: Linearisation,
  sigma: number,
  trackWeights: Float64Array,
): number {
  const { residualX, residualY } = lin;
  const perSigma2 = 1 / (sigma * sigma);
  let sum = 0;
  let total = 0;
  for (let o = 0; o < obs.count; o++) {
    const weight = trackWeights[obs.track[o]];
    if (weight <= 0) continue;
    const e2 = (residualX[o] * residualX[o] + residualY[o] * residualY[o]) * perSigma2;
    sum += weight * Math.min(e2, 18);
    total += weight;
  }
  return total > 0 ? sum / 2 / total : 0;
}

/** Share of the tracks that are trusted (weight above one half), 0..1. */
export function keptShare(trackWeights: Float64Array): number {
  let kept = 0;
  for (const weight of trackWeights) if (weight > 0.5) kept++;
  return trackWeights.length > 0 ? kept / trackWeights.length : 0;
}

/**
 * Mean of min(r^2 / sigma^2, 12) over the trusted observations: what a search compares before and after with, at one noise
 * and one choice of observations for both.
 *
 * @param squares squared length of each residual
 */
export function meanCost(squares: Float64Array, trusted: (o: number) => boolean, sigma: number): number {
  let sum = 0;
  let n = 0;
  squares.forEach((r2, o) => {
    if (!trusted(o)) return;
    sum += Math.min(r2 / (sigma * sigma), OBSERVATION_CAP);
    n++;
  });
  return sum / Math.max(n, 1);
}
