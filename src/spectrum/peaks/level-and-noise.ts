/**
 * Level of a floor and of the measurement noise under one steady taper spectrum, by Whittle's likelihood between the bins that stand
 * out; levels as factors on what the model expects, without unit.
 *
 * Whittle likelihood sum S/E + ln E with Fisher scoring. Own derivation.
 */
import { median } from '../../numerics/index.js';
import { widened } from './background.js';

/** Spectrum and what the model expects of it, columns of equal length. */
export interface LevelInputs {
  readonly psd: Readonly<Float64Array>;
  readonly floor: Readonly<Float64Array>;
  readonly noise: Readonly<Float64Array>;
  /** Independent parts that `psd` is the mean of. */
  readonly parts: number;
  /** Ratio over the expectation above which a bin is left out, with its neighbours. */
  readonly outlierRatio: number;
}

/** The fit: expected = exp(lnFloor) floor + exp(2 lnNoise) noise. */
export interface Levels {
  readonly lnFloor: number;
  /** Of amplitude: 0 where the noise is as stated. */
  readonly lnNoise: number;
}

/** Sd of ln noise amplitude beforehand. */
const NOISE_SD_LN = 0.3;
/** Bins left out on each side of one that stands out. */
const SPREAD_BINS = 4;
/** Share of the bins that must be left for another round. */
const LEAST_SHARE = 0.4;
/** Start: levels from this far above to this far below the middle ratio, in steps, as ln. */
const START_ABOVE = 2;
const START_BELOW = 14;
const START_STEP = 0.5;
const MOST_STEPS = 15;
const LONGEST_STEP = 0.7;
const CONVERGED = 1e-6;

/**
 * Fits both levels, leaving out what stands out, until the bins stay the same or `rounds` are over.
 *
 * @param start levels to start from; searched when null
 */
export function fitLevels(inputs: LevelInputs, rounds: number, start: Levels | null): Levels {
  const { psd, floor, outlierRatio } = inputs;
  let kept = new Uint8Array(psd.length).fill(1);
  let levels = score(inputs, kept, start ?? searched(inputs));
  for (let round = 1; round <= rounds; round++) {
    const expected = expectedOf(inputs, levels);
    const over = Uint8Array.from(psd, (s, i) => (s > outlierRatio * expected[i] ? 1 : 0));
    const next = widened(over, SPREAD_BINS).map((out) => 1 - out);
    const left = next.reduce((sum, one) => sum + one, 0);
    if (left < LEAST_SHARE * floor.length || next.every((one, i) => one === kept[i])) break;
    kept = next;
    levels = score(inputs, kept, levels);
  }
  return levels;
}

/** What the model expects with these levels. */
export function expectedOf(
  { floor, noise }: Pick<LevelInputs, 'floor' | 'noise'>,
  { lnFloor, lnNoise }: Levels,
): Float64Array {
  const level = Math.exp(lnFloor);
  const noiseLevel = Math.exp(2 * lnNoise);
  return Float64Array.from(floor, (a, i) => level * a + noiseLevel * noise[i]);
}

/** The best level on a coarse grid with the noise as stated: a start far off can lead scoring astray. */
function searched(inputs: LevelInputs): Levels {
  const { psd, floor } = inputs;
  const middle = Math.log(median(Float64Array.from(psd, (s, i) => s / floor[i])));
  let best = { lnFloor: middle, lnNoise: 0 };
  let least = Infinity;
  for (let ln = middle - START_BELOW; ln <= middle + START_ABOVE; ln += START_STEP) {
    const cost = costOf(psd, expectedOf(inputs, { lnFloor: ln, lnNoise: 0 }));
    if (cost < least) {
      least = cost;
      best = { lnFloor: ln, lnNoise: 0 };
    }
  }
  return best;
}

/** Negative log likelihood of one part. */
export function costOf(
  psd: Readonly<Float64Array>,
  expected: Readonly<Float64Array>,
  cap = Infinity,
): number {
  let sum = 0;
  for (let i = 0; i < psd.length; i++) sum += Math.min(psd[i] / expected[i], cap) + Math.log(expected[i]);
  return sum;
}

function score({ psd, floor, noise, parts }: LevelInputs, kept: Readonly<Uint8Array>, start: Levels): Levels {
  let { lnFloor, lnNoise } = start;
  const known = 1 / NOISE_SD_LN ** 2;
  for (let step = 0; step < MOST_STEPS; step++) {
    const level = Math.exp(lnFloor);
    const noiseLevel = Math.exp(2 * lnNoise);
    let [slopeF, slopeN, infoFF, infoFN, infoNN] = [0, 0, 0, 0, 0];
    for (let i = 0; i < psd.length; i++) {
      if (kept[i] === 0) continue;
      const fromFloor = level * floor[i];
      const fromNoise = noiseLevel * noise[i];
      const expected = fromFloor + fromNoise;
      const excess = psd[i] / expected - 1;
      const shareF = fromFloor / expected;
      const shareN = (2 * fromNoise) / expected;
      slopeF += shareF * excess;
      slopeN += shareN * excess;
      infoFF += shareF * shareF;
      infoFN += shareF * shareN;
      infoNN += shareN * shareN;
    }
    const [a, b, c] = [parts * infoFF + 1e-3, parts * infoFN, parts * infoNN + known];
    const gradientF = parts * slopeF;
    const gradientN = parts * slopeN - known * lnNoise;
    const determinant = a * c - b * b;
    const moveF = limited((c * gradientF - b * gradientN) / determinant);
    const moveN = limited((a * gradientN - b * gradientF) / determinant);
    lnFloor += moveF;
    lnNoise += moveN;
    if (Math.abs(moveF) + Math.abs(moveN) < CONVERGED) break;
  }
  return { lnFloor, lnNoise };
}

function limited(step: number): number {
  return Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, step));
}
