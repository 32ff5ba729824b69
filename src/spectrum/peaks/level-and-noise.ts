/**
 * Level and slope of a floor and level of the measurement noise under one steady taper spectrum, by Whittle's likelihood between the bins
 * that stand out; levels as factors on what the model expects, slope as exponent of frequency, without unit.
 *
 * Whittle likelihood sum S/E + ln E with Fisher scoring. Own derivation.
 */
import { median, solveSymmetric } from '../../numerics/index.js';
import { widened } from './background.js';

/** Spectrum and what the model expects of it, columns of equal length. */
export interface LevelInputs {
  readonly psd: Readonly<Float64Array>;
  readonly floor: Readonly<Float64Array>;
  readonly noise: Readonly<Float64Array>;
  /** -ln(f / middle of the band): what one step of the exponent adds to ln floor. */
  readonly lnFreq: Readonly<Float64Array>;
  /** Independent parts that `psd` is the mean of. */
  readonly parts: number;
  /** Ratio over the expectation above which a bin is left out, with its neighbours. */
  readonly outlierRatio: number;
}

/** The fit: expected = exp(lnFloor) (f / middle)^-steeper floor + exp(2 lnNoise) noise. */
export interface Levels {
  readonly lnFloor: number;
  /** Exponent of the floor's spectrum over the one of the model, 2. */
  readonly steeper: number;
  /** Of amplitude: 0 where the noise is as stated. */
  readonly lnNoise: number;
}

/** Sd of ln noise amplitude beforehand. */
const NOISE_SD_LN = 0.3;
/**
 * Sd of the exponent of the floor's spectrum beforehand. Floors have 1.5 to 3, but a comb of joints tilts the spectrum, too: with 0.4
 * it was taken for the floor, and no tooth of it stood out.
 */
const STEEPER_SD = 0.2;
/** Keeps the level finite where the floor drowns in the noise. */
const LEVEL_INFORMATION = 1e-3;
/** Bins left out on each side of one that stands out. */
const SPREAD_BINS = 4;
/** Share of the bins that must be left for another round. */
const LEAST_SHARE = 0.4;
/** Start: levels from this far above to this far below the middle ratio, in steps, as ln. */
const START_ABOVE = 2;
const START_BELOW = 14;
const START_STEP = 0.5;
const MOST_STEPS = 15;
const STEPS_ALONE = 3;
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
  { floor, noise, lnFreq }: Pick<LevelInputs, 'floor' | 'noise' | 'lnFreq'>,
  { lnFloor, steeper, lnNoise }: Levels,
): Float64Array {
  const noiseLevel = Math.exp(2 * lnNoise);
  return Float64Array.from(
    floor,
    (a, i) => Math.exp(lnFloor + steeper * lnFreq[i]) * a + noiseLevel * noise[i],
  );
}

/** The column of `LevelInputs.lnFreq` for frequencies of a spectrum, all above the lowest of the band held there. */
export function lnFreqOver(
  freqHz: Readonly<Float64Array>,
  [lowHz, highHz]: readonly [number, number],
): Float64Array {
  return Float64Array.from(freqHz, (f) => Math.log(Math.sqrt(lowHz * highHz) / Math.max(f, lowHz)));
}

/** The best level on a coarse grid with slope and noise as stated: a start far off can lead scoring astray. */
function searched(inputs: LevelInputs): Levels {
  const { psd, floor } = inputs;
  const middle = Math.log(median(Float64Array.from(psd, (s, i) => s / floor[i])));
  let best: Levels = { lnFloor: middle, steeper: 0, lnNoise: 0 };
  let least = Infinity;
  for (let ln = middle - START_BELOW; ln <= middle + START_ABOVE; ln += START_STEP) {
    const tried = { lnFloor: ln, steeper: 0, lnNoise: 0 };
    const cost = costOf(psd, expectedOf(inputs, tried));
    if (cost < least) {
      least = cost;
      best = tried;
    }
  }
  return best;
}

/**
 * The level alone, slope and noise as stated, with outliers counted up to their limit: quick, for trying many floors on one spectrum.
 *
 * @param lnFloor to start from
 */
export function levelAlone(inputs: Omit<LevelInputs, 'parts'>, lnFloor: number): Levels {
  const { psd, floor, noise, outlierRatio } = inputs;
  let ln = lnFloor;
  for (let step = 0; step < STEPS_ALONE; step++) {
    let [gradient, information] = [0, LEVEL_INFORMATION];
    for (let i = 0; i < psd.length; i++) {
      const fromFloor = Math.exp(ln) * floor[i];
      const expected = fromFloor + noise[i];
      const share = fromFloor / expected;
      gradient += share * (Math.min(psd[i] / expected, outlierRatio) - 1);
      information += share * share;
    }
    ln += limited(gradient / information);
  }
  return { lnFloor: ln, steeper: 0, lnNoise: 0 };
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

/** Fisher scoring over the bins that are kept. */
function score(
  { psd, floor, noise, lnFreq, parts }: LevelInputs,
  kept: Readonly<Uint8Array>,
  start: Levels,
): Levels {
  let { lnFloor, steeper, lnNoise } = start;
  const known = [LEVEL_INFORMATION, 1 / STEEPER_SD ** 2, 1 / NOISE_SD_LN ** 2];
  const share = new Float64Array(3);
  for (let step = 0; step < MOST_STEPS; step++) {
    const noiseLevel = Math.exp(2 * lnNoise);
    const gradient = Float64Array.of(0, -known[1] * steeper, -known[2] * lnNoise);
    const information = Float64Array.of(known[0], 0, 0, 0, known[1], 0, 0, 0, known[2]);
    for (let i = 0; i < psd.length; i++) {
      if (kept[i] === 0) continue;
      const fromFloor = Math.exp(lnFloor + steeper * lnFreq[i]) * floor[i];
      const fromNoise = noiseLevel * noise[i];
      const expected = fromFloor + fromNoise;
      const excess = psd[i] / expected - 1;
      share[0] = fromFloor / expected;
      share[1] = share[0] * lnFreq[i];
      share[2] = (2 * fromNoise) / expected;
      for (let r = 0; r < 3; r++) {
        gradient[r] += parts * share[r] * excess;
        for (let c = 0; c < 3; c++) information[3 * r + c] += parts * share[r] * share[c];
      }
    }
    const [moveFloor, moveSteeper, moveNoise] = Float64Array.from(
      solveSymmetric(information, gradient, 3),
      limited,
    );
    lnFloor += moveFloor;
    steeper += moveSteeper;
    lnNoise += moveNoise;
    if (Math.abs(moveFloor) + Math.abs(moveSteeper) + Math.abs(moveNoise) < CONVERGED) break;
  }
  return { lnFloor, steeper, lnNoise };
}

function limited(step: number): number {
  return Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, step));
}
