/**
 * Where the notches of the wheelbase lie in one spectrum: speed over wheelbase over the same as given, with its uncertainty, and the
 * level of floor and noise that goes with it. Without unit.
 *
 * Notches are v / L apart; a speed 2 % off moves the high ones by many of their widths, and what then stands beside a notch looks
 * like a peak. The places are read from one taper, which shows notches that five fill: at 10 s and 0.2 m/s they are known to 0.3 % by
 * one and to 1.1 % by five. Own derivation.
 */
import { gammaQuantile } from '../../numerics/index.js';
import { steadyRatio } from './background.js';
import type { FloorModel } from './floor-model.js';
import {
  costOf,
  expectedOf,
  fitLevels,
  levelAlone,
  lnFreqOver,
  type LevelInputs,
  type Levels,
} from './level-and-noise.js';
import { PADDING, type TaperSpectra } from './taper-spectra.js';
import type { FittedPhase } from './types.js';

/** Power that the floor gains from a resonance between it and the lens, at a frequency. */
export type Lift = (freqHz: number) => number;

/** The fitted floor. */
export interface NotchFit {
  readonly levels: Levels;
  /** Offsets of the model that the spectrum allows, as places in `FloorModel.offsets`, rising, with weights that sum to 1. */
  readonly allowed: readonly number[];
  readonly weights: Float64Array;
  /** The likeliest of them. */
  readonly best: number;
  readonly phase: FittedPhase;
}

/** Ratios count up to the one that chance exceeds this often: a line must not drive the notches. */
export const OUTLIER_TAIL = 1e-3;
/** Fewer notch distances than this in one resolution cell: the notches cannot be told. */
const LEAST_NOTCH_CELLS = 4;
/** Rise of the negative log likelihood within which an offset is allowed: 2.8 standard deviations. */
const ALLOWED_RISE = 4;
/** At most so many are kept, evenly chosen: neighbours differ by a third of a bin. */
const MOST_ALLOWED = 25;
/** Neighbouring ordinates of one taper share a quarter of their variance, so that each counts for 1 / (1 + 2 / 4) of its own. */
const LINE_WEIGHT = 2 / 3;
const FIRST_ROUNDS = 2;
const ROUNDS = 4;
const REFITS = 2;

/**
 * Fits level and noise to the steady spectrum and notches to the line spectrum; the notches stay as given where the pass is too short to
 * tell.
 *
 * @param lineCap ratio over the expectation up to which an ordinate of the line spectrum counts
 */
export function fitNotches(
  spectra: TaperSpectra,
  model: FloorModel,
  lift: Lift | null,
  lineCap = gammaQuantile(1 - OUTLIER_TAIL, spectra.parts) / spectra.parts,
): NotchFit {
  const { steady, line, firstBin, parts, durationS, bandHz } = spectra;
  const lnFreq = lnFreqOver(steady.freqHz, bandHz);
  const { offsets, view } = model;
  const outlierRatio = steadyRatio(spectra, OUTLIER_TAIL);
  const lifts = lift && steady.freqHz.map(lift);
  const floorAt = (k: number): Float64Array => {
    const floor = model.steadyFloor(k);
    return lifts === null ? floor : floor.map((a, i) => a * lifts[i]);
  };
  const fit = (k: number, rounds: number, start: Levels | null): Levels =>
    fitLevels(
      { psd: steady.psd, floor: floorAt(k), noise: model.steadyNoise, lnFreq, parts, outlierRatio },
      rounds,
      start,
    );
  const linePsd = steady.psd.map((_, i) => line.psd[PADDING * (firstBin + i)]);
  const lineNoise = model.lineNoise.slice(firstBin, firstBin + linePsd.length);
  const lineInputsAt = (k: number): Omit<LevelInputs, 'parts'> => {
    const floor = model.lineFloor(k).slice(firstBin, firstBin + linePsd.length);
    if (lifts !== null) floor.forEach((a, i) => (floor[i] = a * lifts[i]));
    return { psd: linePsd, floor, noise: lineNoise, lnFreq, outlierRatio: lineCap };
  };

  const asGiven = (offsets.length - 1) / 2;
  const prior = offsets.map((offset) => (offset / view.phaseSd) ** 2 / 2);
  const meanSpeed = view.speedsMps.reduce((sum, v) => sum + v, 0) / view.speedsMps.length;
  const refined = (durationS * meanSpeed) / view.wheelbaseM >= LEAST_NOTCH_CELLS;
  let best = asGiven;
  let costs = prior;
  let levels = fit(asGiven, refined ? FIRST_ROUNDS : ROUNDS, null);
  for (let round = 0; refined && round < REFITS; round++) {
    const now = levels;
    costs = prior.map((known, k) => {
      const inputs = lineInputsAt(k);
      // Levels fitted with the notches in the wrong place would keep them there: at first each place has its own.
      const own = round === 0 ? levelAlone(inputs, now.lnFloor) : now;
      return known + LINE_WEIGHT * parts * costOf(linePsd, expectedOf(inputs, own), lineCap);
    });
    best = costs.indexOf(costs.reduce((a, b) => Math.min(a, b)));
    levels = fit(best, ROUNDS, levels);
  }
  const least = costs[best];
  const allowed = some([...costs.keys()].filter((k) => costs[k] < least + ALLOWED_RISE));
  const likely = Float64Array.from(allowed, (k) => Math.exp(least - costs[k]));
  const sum = likely.reduce((a, b) => a + b, 0);
  return {
    levels,
    allowed,
    weights: likely.map((one) => one / sum),
    best,
    phase: { ...moments(offsets, costs, least), refined },
  };
}

/** Evenly chosen, both ends among them. */
function some(places: readonly number[]): readonly number[] {
  if (places.length <= MOST_ALLOWED) return places;
  const last = places.length - 1;
  return Array.from({ length: MOST_ALLOWED }, (_, k) => places[Math.round((k * last) / (MOST_ALLOWED - 1))]);
}

/** Mean and sd of speed over wheelbase, weighted by likelihood. */
function moments(
  offsets: Readonly<Float64Array>,
  costs: Readonly<Float64Array>,
  least: number,
): { speedOverWheelbase: number; sd: number } {
  let [sum, first, second] = [0, 0, 0];
  offsets.forEach((offset, k) => {
    const weight = Math.exp(least - costs[k]);
    sum += weight;
    first += weight * offset;
    second += weight * offset ** 2;
  });
  const middle = first / sum;
  const step = offsets.length > 1 ? offsets[1] - offsets[0] : 0;
  // A single step of the grid that takes all the weight is still not known better than to the step.
  return { speedOverWheelbase: 1 + middle, sd: Math.sqrt(second / sum - middle ** 2 + step ** 2 / 12) };
}
