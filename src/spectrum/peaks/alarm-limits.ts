/**
 * How high a spectrum must reach to count as a peak, (unit of the series)^2 per Hz: the density that chance exceeds with a set probability
 * where the level without peaks is one of several, each with its weight. Own derivation.
 */
import { gammaQuantile } from '../../numerics/index.js';
import { STEADY_TAPERS, type TaperSpectra } from './taper-spectra.js';

/** Chance of a line, and of a broad rise, in a spectrum of noise whose background is known. */
const LINE_ALARM = 0.001;
const BROAD_ALARM = 0.0001;
/** One taper on a padded grid holds about this many independent ordinates per bin. */
const TRIES_PER_BIN = 1.5;
/** Levels nearer to each other than this count as one. */
const ALIKE = 1.01;
const BISECTIONS = 14;

/** Levels that one ordinate may have, with weights that sum to 1. */
export type LimitOf = (levels: Readonly<Float64Array>, weights: Readonly<Float64Array>) => number;

/** Limits for ordinates of the line spectrum and of the steady one. */
export interface AlarmLimits {
  readonly line: LimitOf;
  readonly steady: LimitOf;
}

/** Limits for the whole band of these spectra: the more ordinates are looked at, the higher. */
export function alarmLimits({ steady, parts }: Pick<TaperSpectra, 'steady' | 'parts'>): AlarmLimits {
  const bins = steady.psd.length;
  return {
    line: limitAt(parts, 1 - (1 - LINE_ALARM) ** (1 / (TRIES_PER_BIN * bins))),
    steady: limitAt(STEADY_TAPERS * parts, 1 - (1 - BROAD_ALARM) ** (1 / bins)),
  };
}

/** @param shape of the gamma law of an ordinate; @param tail chance of exceeding the limit */
function limitAt(shape: number, tail: number): LimitOf {
  const ratio = gammaQuantile(1 - tail, shape) / shape;
  return (levels, weights) => {
    let [least, most] = [Infinity, 0];
    for (const level of levels) {
      least = Math.min(least, level);
      most = Math.max(most, level);
    }
    let [low, high] = [ratio * least, ratio * most];
    if (most < ALIKE * least) return high;
    for (let i = 0; i < BISECTIONS; i++) {
      const middle = (low + high) / 2;
      let chance = 0;
      for (let k = 0; k < levels.length; k++)
        chance += weights[k] * upperTail(shape, (shape * middle) / levels[k]);
      if (chance > tail) low = middle;
      else high = middle;
    }
    return high;
  };
}

/** Chance that a gamma variate of whole shape exceeds x: exp(-x) sum x^k / k!, k below the shape. */
function upperTail(shape: number, x: number): number {
  let term = Math.exp(-x);
  let sum = term;
  for (let k = 1; k < shape; k++) {
    term *= x / k;
    sum += term;
  }
  return sum;
}
