/**
 * The largest crop of a take, drawn from what a test pass shows: fractions of the width, seconds.
 *
 * Steady shake has a tail that is exponential in some power of the crop above a threshold (Pickands 1975), mixed over the
 * powers by how well they fit; hits have heights of their own, log-normal. How sure the test leaves their parameters is drawn
 * along. Own derivations.
 */
import { mean, median } from '../../numerics/index.js';
import { gammaVariate, largestOf, largestOfPoisson } from './random-variates.js';

/** Sources of random numbers; the same draws serve every length of take. */
export interface Dice {
  readonly random: () => number;
  readonly gaussian: () => number;
}

/** Gives the largest crop fraction of a take of so many seconds, one number for each draw; -Infinity or 0 where nothing comes. */
export type DrawnMaxima = (takeS: number) => Float64Array;

/** Draws of each forecast: the 95 % quantile is then sure to about 2 % of itself. */
export const DRAWS = 2000;

const BLOCK_S = 0.5;
/** Tail shapes: exponential in the q-th power of the crop; 2 is a Gaussian shake, 0.5 a floor with rare hits. */
const TAIL_POWERS = [2, 1.4, 1, 0.7, 0.5] as const;
/** No draw lies below this share of the threshold, where the tail says nothing. */
const LEAST_SHARE = 0.3;
/** What the spread of ln height of hits is taken for before any is seen, and how many hits that is worth. */
const HEIGHT_SPREAD = 0.4;
const SPREAD_WORTH = 4;

/**
 * Maxima of steady shake.
 *
 * Peaks are the maxima of blocks of half a second, longer where the shake is so slow that a swing would fill several, that
 * lie above their median.
 *
 * @param cropFraction frames of steady shake, length n
 * @param upCrossingsHz upward zero crossings per second of the vibration behind it
 * @param leastPeaks above the threshold
 * @returns null when the frames hold fewer peaks
 */
export function steadyMaxima(
  cropFraction: Readonly<Float64Array>,
  rateHz: number,
  upCrossingsHz: number,
  leastPeaks: number,
  { random, gaussian }: Dice,
): DrawnMaxima | null {
  // A swing to either side gives a peak: two for each upward crossing.
  const blockS = Math.max(BLOCK_S, 1 / (2 * upCrossingsHz));
  const blocks = blockMaxima(cropFraction, Math.max(1, Math.floor(blockS * rateHz)));
  if (blocks.length === 0) return null;
  const threshold = median(blocks);
  const peaks = blocks.filter((crop) => crop > threshold);
  const k = peaks.length;
  if (k < leastPeaks || threshold <= 0) return null;
  const seconds = cropFraction.length / rateHz;

  const tails = TAIL_POWERS.map((power) => tailOf(peaks, threshold, power));
  const best = Math.max(...tails.map((tail) => tail.logLikelihood));
  const weights = tails.map((tail) => Math.exp(tail.logLikelihood - best));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const shape = new Uint8Array(DRAWS);
  const excess = new Float64Array(DRAWS);
  const logRate = new Float64Array(DRAWS);
  for (let i = 0; i < DRAWS; i++) {
    shape[i] = pick(weights, total * random());
    excess[i] = (tails[shape[i]].meanExcess * k) / gammaVariate(k, random, gaussian);
    logRate[i] = Math.log(gammaVariate(k, random, gaussian) / seconds) + gumbel(random);
  }
  return (takeS) => {
    const logS = Math.log(takeS);
    return logRate.map((rate, i) => {
      const { power, base, least } = tails[shape[i]];
      return Math.max(base + excess[i] * (rate + logS), least) ** (1 / power);
    });
  };
}

/**
 * Maxima of hits; the kicks of both axles count as two.
 *
 * @param heights largest crop fraction of each kick seen, at least one, all positive
 * @param seconds in which they were seen
 * @param countIn number of kicks in a take of so many seconds, when it is known; else they come at random, at about the rate seen
 */
export function hitMaxima(
  heights: ArrayLike<number>,
  seconds: number,
  { random, gaussian }: Dice,
  countIn?: (takeS: number) => number,
): DrawnMaxima {
  const n = heights.length;
  const logs = Float64Array.from(heights, Math.log);
  const centre = mean(logs);
  let squares = SPREAD_WORTH * HEIGHT_SPREAD ** 2;
  for (const log of logs) squares += (log - centre) ** 2;

  const middle = new Float64Array(DRAWS);
  const spread = new Float64Array(DRAWS);
  const logRate = new Float64Array(DRAWS);
  const ease = new Float64Array(DRAWS);
  for (let i = 0; i < DRAWS; i++) {
    spread[i] = Math.sqrt(squares / (2 * gammaVariate((n + SPREAD_WORTH - 1) / 2, random, gaussian)));
    middle[i] = centre + (spread[i] / Math.sqrt(n)) * gaussian();
    logRate[i] = Math.log(gammaVariate(n, random, gaussian) / seconds);
    ease[i] = gumbel(random);
  }
  return (takeS) => {
    const logS = Math.log(takeS);
    const logCount = countIn ? Math.log(countIn(takeS)) : null;
    return middle.map((m, i) => {
      const z =
        logCount === null
          ? largestOfPoisson(logRate[i] + logS + ease[i])
          : logCount === -Infinity
            ? -Infinity
            : largestOf(logCount + ease[i]);
      return Math.exp(m + spread[i] * z);
    });
  };
}

interface Tail {
  readonly power: number;
  /** The threshold, and the least that is drawn, to that power. */
  readonly base: number;
  readonly least: number;
  /** Of crop^power above the threshold. */
  readonly meanExcess: number;
  readonly logLikelihood: number;
}

function tailOf(peaks: ArrayLike<number>, threshold: number, power: number): Tail {
  const k = peaks.length;
  const base = threshold ** power;
  let excess = 0;
  let logs = 0;
  for (let i = 0; i < k; i++) {
    excess += peaks[i] ** power - base;
    logs += Math.log(peaks[i]);
  }
  const meanExcess = excess / k;
  const logLikelihood = k * Math.log(power / meanExcess) + (power - 1) * logs - k;
  return { power, base, least: (LEAST_SHARE * threshold) ** power, meanExcess, logLikelihood };
}

/** Maximum of each whole block; a last part block is left out. */
function blockMaxima(values: Readonly<Float64Array>, blockFrames: number): Float64Array {
  const maxima = new Float64Array(Math.floor(values.length / blockFrames));
  for (let b = 0; b < maxima.length; b++) {
    for (let t = b * blockFrames; t < (b + 1) * blockFrames; t++) maxima[b] = Math.max(maxima[b], values[t]);
  }
  return maxima;
}

/** Minus the logarithm of an exponential variate of mean 1. */
function gumbel(random: () => number): number {
  return -Math.log(-Math.log(1 - random()));
}

function pick(weights: readonly number[], at: number): number {
  let sum = 0;
  for (let i = 0; i < weights.length - 1; i++) {
    sum += weights[i];
    if (at < sum) return i;
  }
  return weights.length - 1;
}
