/** A row of ticks in a loudness: lines at all multiples of one rate, each too weak by itself, hertz. */
import { gammaQuantile } from '../../numerics/index.js';
import { lineAt, type FoundLine, type RaisedSpectrum } from './find-lines.js';

/** Multiples that are added up: a wandering pace smears higher ones. */
const TEETH = 8;
/** One strong line is no comb: a tooth counts at most this much, in units of the level. */
const MOST_OF_TOOTH = 6;
/** Joints are met no faster than this; the slowest rate is that of the band. */
const TOP_RATE_HZ = 25;
/** Steps of the last tooth, in bins of 1 / T. */
const STEP_BINS = 0.3;
/** A comb at half the rate has half of the teeth: the slowest that comes this near to the best is the rate. */
const NEAR_BEST = 0.75;
/** A tooth that does not stand out this far is not handed on. */
const LEAST_TOOTH = 4;
/** Teeth handed on at most; and where so many in a row are not seen, the pace has smeared the rest. */
const MOST_TEETH = 16;
const MOST_MISSING = 3;
/** The odd teeth alone have to stand out as noise would in 1 of 1000 places: of a comb at half the rate they are noise. */
const ODD_CHANCE = 1e-3;

/**
 * The teeth of the comb that stands out most.
 *
 * The sum over eight multiples of the ordinates over their level is held against the gamma law that noise would follow;
 * a tooth counts at most 6, so that one line or two make no comb, and odd teeth have to be there as well as even ones.
 *
 * @param falseChance chance of a comb on noise without lines
 * @returns the teeth up to the 16th that are seen at all, lowest first, at exact multiples; empty without a comb
 * @remarks Own derivation.
 */
export function findComb(spectrum: RaisedSpectrum, falseChance: number): FoundLine[] {
  const { durationS, binHz, perBin, first, last, over } = spectrum;
  const fromHz = first * binHz;
  const toHz = Math.min(TOP_RATE_HZ, (last * binHz) / TEETH);
  const stepHz = STEP_BINS / (durationS * TEETH);
  const count = Math.floor((toHz - fromHz) / stepHz) + 1;
  if (count < 1) return [];
  const leastOdd = gammaQuantile(1 - ODD_CHANCE, TEETH / 2) - TEETH / 2;
  const excess = Float64Array.from({ length: count }, (_, c) => {
    const sums = [0, 0];
    for (let k = 1; k <= TEETH; k++) {
      const tooth = over(Math.round((k * (fromHz + c * stepHz)) / binHz));
      sums[k % 2] += Math.min(tooth, MOST_OF_TOOTH) - 1;
    }
    return sums[1] < leastOdd ? 0 : sums[0] + sums[1];
  });
  const threshold = gammaQuantile(1 - falseChance / count, TEETH) - TEETH;
  const best = excess.reduce((most, e) => Math.max(most, e), 0);
  if (best < threshold) return [];
  let at = excess.findIndex((e) => e >= Math.max(threshold, NEAR_BEST * best));
  while (at + 1 < count && excess[at + 1] > excess[at]) at++;

  // Each tooth near its place says where the rate is, the higher the better.
  const baseHz = fromHz + at * stepHz;
  const teeth: { order: number; freqHz: number; over: number }[] = [];
  for (let k = 1, seen = 0; k <= MOST_TEETH && k - seen <= MOST_MISSING; k++) {
    const middle = Math.round((k * baseHz) / binHz);
    if (middle + perBin > last) break;
    let top = middle;
    for (let i = middle - Math.round(perBin / 2); i <= middle + perBin / 2; i++)
      if (over(i) > over(top)) top = i;
    if (over(top) < LEAST_TOOTH) continue;
    seen = k;
    teeth.push({ order: k, freqHz: top * binHz, over: over(top) });
  }
  let weights = 0;
  let sum = 0;
  for (const { order, freqHz, over: height } of teeth) {
    weights += order ** 2 * height;
    sum += order * height * freqHz;
  }
  return teeth.map(({ order, over: height }) => lineAt(height, (order * sum) / weights, durationS));
}
