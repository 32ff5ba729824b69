/**
 * The crop that a take of another length will need, from the crop of each frame of the test clip (fraction of the width).
 *
 * A crop is an extreme of the run and grows with its length. Three statements, from safe to modelled: the chance that
 * the take needs more than the clip (exchangeability, no model), the typical growth on a steady floor (Rice 1944), and
 * a predictive bound from exponential tails above a threshold (Pickands 1975, mixed over tail shapes). Own derivations.
 */
import { gaussianRandom, median, quantile, seededRandom } from '../numerics/index.js';
import type { LongerTake } from './types.js';

/** Lengths of take that are foretold, seconds. */
export const TAKE_LENGTHS_S = [10, 30, 60, 120] as const;

const BLOCK_S = 0.5;
/** A bound needs this long a clip, this many peaks, and does not reach further than this many clip lengths. */
const LEAST_CLIP_S = 5;
const LEAST_PEAKS = 5;
const FARTHEST_REACH = 12;
const DRAWS = 2000;
/** Tail shapes: exponential in the q-th power of the crop; 2 is a Gaussian shake, 0.5 a floor with rare hits. */
const TAIL_POWERS = [2, 1.4, 1, 0.7, 0.5] as const;
/** Standard deviation of ln crop between passes over one stretch; assumed, for one clip cannot show it. */
const PASS_TO_PASS = 0.11;
/** 2.9 crossings per second times seconds: where the median of the maximum of a Gaussian series comes from, 2 / ln 2. */
const MEDIAN_OF_MAXIMUM = 2 / Math.LN2;

/** What the prediction needs of a clip. */
export interface TestPass {
  /** Crop of each frame, fraction of the width, length n. */
  readonly cropFraction: Readonly<Float64Array>;
  readonly rateHz: number;
  /** How often per second the vibration that decides the crop crosses zero upwards. */
  readonly upCrossingsHz: number;
}

/**
 * What takes of several lengths will need.
 *
 * @param takesS seconds
 * @param seed of the 2000 draws behind the upper bound; the same draws serve every length
 * @returns one entry per length; medianPercent is null when the clip holds too few crossings, upper95Percent when it is
 *   shorter than 5 s, has fewer than 5 peaks, or the take is more than 12 times as long
 */
export function predictTakes(
  pass: TestPass,
  takesS: readonly number[] = TAKE_LENGTHS_S,
  seed = 1,
): LongerTake[] {
  const clipS = pass.cropFraction.length / pass.rateHz;
  const bound = upperBound(pass, clipS, seed);
  return takesS.map((takeS) => {
    const medianPercent = typicalPercent(pass, clipS, takeS);
    const upper = bound && takeS / clipS <= FARTHEST_REACH ? 100 * bound(takeS) : null;
    return {
      takeS,
      chanceExceeds: takeS / (takeS + clipS),
      medianPercent,
      upper95Percent: upper === null ? null : Math.max(upper, medianPercent ?? 0),
    };
  });
}

/** Growth of the maximum of a Gaussian series with its length: c sqrt(ln(2.9 nu T) / ln(2.9 nu t)). */
function typicalPercent(pass: TestPass, clipS: number, takeS: number): number | null {
  const here = Math.log(MEDIAN_OF_MAXIMUM * pass.upCrossingsHz * clipS);
  const there = Math.log(MEDIAN_OF_MAXIMUM * pass.upCrossingsHz * takeS);
  // Below three crossings the clip is no sample of anything.
  if (!(pass.upCrossingsHz * clipS >= 3 && there > 0)) return null;
  let most = 0;
  for (const crop of pass.cropFraction) most = Math.max(most, crop);
  return Math.min(100, 100 * most * Math.sqrt(there / here));
}

/** Gives the 95 % quantile of the crop fraction of a take, or null when the clip cannot carry a bound. */
function upperBound(pass: TestPass, clipS: number, seed: number): ((takeS: number) => number) | null {
  if (clipS < LEAST_CLIP_S) return null;
  const blocks = blockMaxima(pass.cropFraction, Math.max(1, Math.floor(BLOCK_S * pass.rateHz)));
  const threshold = median(blocks);
  const peaks = blocks.filter((crop) => crop > threshold);
  if (peaks.length < LEAST_PEAKS || threshold <= 0) return null;
  const tails = TAIL_POWERS.map((power) => tailOf(peaks, threshold, power));
  const best = Math.max(...tails.map((tail) => tail.logLikelihood));
  const weights = tails.map((tail) => Math.exp(tail.logLikelihood - best));
  const total = weights.reduce((sum, weight) => sum + weight, 0);

  const random = seededRandom(seed);
  const gaussian = gaussianRandom(random);
  const k = peaks.length;
  const draws = Array.from({ length: DRAWS }, () => ({
    tail: tails[pick(weights, total * random())],
    rateHz: gammaDraw(k, random, gaussian) / clipS,
    spread: k / gammaDraw(k, random, gaussian),
    gumbel: -Math.log(-Math.log(1 - random())),
    passFactor: Math.exp(PASS_TO_PASS * gaussian()),
  }));
  return (takeS) => {
    const crops = draws.map(({ tail, rateHz, spread, gumbel, passFactor }) => {
      const { power, scale } = tail;
      const reach = threshold ** power + scale * spread * (Math.log(rateHz * takeS) + gumbel);
      return passFactor * Math.max(reach, (0.3 * threshold) ** power) ** (1 / power);
    });
    return Math.min(1, quantile(crops, 0.95));
  };
}

interface Tail {
  readonly power: number;
  /** Mean excess of crop^power above threshold^power. */
  readonly scale: number;
  readonly logLikelihood: number;
}

function tailOf(peaks: ArrayLike<number>, threshold: number, power: number): Tail {
  const k = peaks.length;
  let excess = 0;
  let logs = 0;
  for (let i = 0; i < k; i++) {
    excess += peaks[i] ** power - threshold ** power;
    logs += Math.log(peaks[i]);
  }
  const scale = excess / k;
  return { power, scale, logLikelihood: k * Math.log(power / scale) + (power - 1) * logs - k };
}

/** Maximum of each whole block; a last part block is left out. */
function blockMaxima(values: Readonly<Float64Array>, blockFrames: number): Float64Array {
  const count = Math.floor(values.length / blockFrames);
  const maxima = new Float64Array(count);
  for (let b = 0; b < count; b++) {
    for (let t = b * blockFrames; t < (b + 1) * blockFrames; t++) maxima[b] = Math.max(maxima[b], values[t]);
  }
  return maxima;
}

function pick(weights: readonly number[], at: number): number {
  let sum = 0;
  for (let i = 0; i < weights.length - 1; i++) {
    sum += weights[i];
    if (at < sum) return i;
  }
  return weights.length - 1;
}

/** Gamma variate of shape >= 1 and scale 1: Marsaglia & Tsang 2000, ACM Trans. Math. Softw. 26. */
function gammaDraw(shape: number, random: () => number, gaussian: () => number): number {
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const z = gaussian();
    const v = (1 + c * z) ** 3;
    if (v > 0 && Math.log(1 - random()) < 0.5 * z * z + d - d * v + d * Math.log(v)) return d * v;
  }
}
