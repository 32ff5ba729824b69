/**
 * The readout time of a sensor from the clip itself: seconds, with an interval.
 *
 * Each frame shows by itself how the camera moved while it was read (row-rates.ts), and the path through the frames tells
 * how fast the camera moved then; the readout is what relates the two. It is found together with the departures from
 * that relation, as their common share of greatest marginal likelihood, while scene and poses settle. Own derivation.
 *
 * Only a readout from top to bottom is looked for. Steady motion tells nothing (a sheared scene explains it as well), so
 * it is the vibration that gives the readout away, and without vibration the readout does not matter either.
 */
import { adjust, noiseOf } from '../adjust.js';
import type { Observations } from '../observations.js';
import { linearise, makeLinearisation } from '../projection.js';
import type { ReadoutClip } from './correct-readout.js';
import { movePoses } from '../rotation-steps.js';
import { fastPower, liveliestStretch, longestS, NUDGE_S, type Stretch } from './readout-effect.js';
import { meanCost } from '../robust-weights.js';
import { moveToMidRow } from './row-correction.js';
import { fastCubics, nearestCubics, withCubics } from './row-cubics.js';
import { RATE_NUMBERS, rowEquations } from './row-equations.js';
import { rowMotion } from './row-motion.js';
import { fitRates, noRates, type RowRates } from './row-rates.js';
import type { Scene } from '../scene.js';

/** What a clip says of its readout. */
export interface ReadoutSearch {
  /** Best readout, seconds; 0 when none was found. */
  readonly readoutS: number;
  /** 95 % interval, seconds. */
  readonly ci95S: readonly [number, number];
  /** Relative fall of mean min(r^2 / sigma^2, 12) when the motion within the frames is modelled, 0..1. */
  readonly costFall: number;
  readonly found: boolean;
  /** Share of the cost that a readout at the upper end of the interval could make up, see largestEffect. */
  readonly effectAtMost: number;
}

const PASSES = 5;
/** Change of the readout that counts as none. */
const STILL_S = 0.0001;
/** Steps below this share of the noise end the adjustment of a pass: passes follow. */
const STILL_SIGMAS = 0.02;
const FIRST_ROUNDS = 30;
const LATER_ROUNDS = 12;
/** Motion near half the frame rate is faded out of the expectation, so that the readout can be this much off. */
const FADED_SHARE = 0.03;
/**
 * A readout is believed when the cost falls by so much and the readout stands so many standard deviations clear of none.
 * Cubics take 1 to 7 % off the cost of a global shutter by following the noise of its tracks (own trials, rendered
 * clips included), so that the fall alone proves nothing; and no sensor that is read row by row is faster than 2 ms.
 * Knocks that the path hardly tells leave the readout itself vague, but make the cost fall all the more.
 */
const BELIEVED = [
  { fall: 0.02, deviations: 4, leastS: 0.002 },
  { fall: 0.2, deviations: 2, leastS: 0 },
] as const;

/** Looks for the readout in the liveliest stretch of a clip. The scene is not changed. */
export function searchReadout(
  whole: ReadoutClip,
  wholeScene: Scene,
  rateHz: number,
  cutoffHz: number,
): ReadoutSearch {
  const stretch = liveliestStretch(whole, wholeScene, rateHz, cutoffHz);
  const { clip, scene, used } = stretch;
  const before = squaredResiduals(clip.measured, scene);
  const { readoutS, sd, rates, trend, observations } = relateRows(stretch, rateHz, cutoffHz);
  const sigma = noiseOf(observations, scene, clip.sigmaStart);
  const trusted = (o: number): boolean => scene.trackWeights[observations.track[o]] > 0;
  const after = squaredResiduals(observations, scene);
  const costFall = 1 - meanCost(after, trusted, sigma) / meanCost(before, trusted, sigma);
  const found = BELIEVED.some(
    ({ fall, deviations, leastS }) => costFall >= fall && readoutS > deviations * sd && readoutS >= leastS,
  );

  const lowerS = Math.max(0, (1 - FADED_SHARE) * readoutS - 1.96 * sd);
  const topS = (1 + FADED_SHARE) * readoutS + 1.96 * sd;
  const departures = fastCubics(rates.rates, used, rateHz, cutoffHz);
  const dilution = found ? unexplained(departures, rates.ordinary, trend, used, readoutS) : 0;
  const upperS = Math.min(longestS(rateHz), topS / (1 - dilution) ** 2);
  const power = fastPower(scene, used, clip.timeS, rateHz, cutoffHz);
  const meanPower = power.reduce((sum, value) => sum + value, 0) / Math.max(used.length, 1);
  return {
    readoutS: found ? readoutS : 0,
    ci95S: [lowerS, upperS],
    costFall,
    found,
    effectAtMost: (meanPower * upperS ** 2) / (2 * sigma * sigma),
  };
}

/** The readout that relates rows to path, and the scene's observations, departures and trend that go with it. */
interface RowRelation {
  readonly readoutS: number;
  readonly sd: number;
  readonly rates: RowRates;
  /** Fast motion within the frames per second of readout, as cubics. */
  readonly trend: Float64Array;
  readonly observations: Observations;
}

/** Finds readout, motion within the frames and scene together; the scene of the stretch is changed in place. */
function relateRows({ clip, scene, used }: Stretch, rateHz: number, cutoffHz: number): RowRelation {
  const { measured, timeS, sigmaStart } = clip;
  let relation: RowRelation = {
    readoutS: 0,
    sd: Infinity,
    rates: noRates(measured.frameCount),
    trend: new Float64Array(RATE_NUMBERS * measured.frameCount),
    observations: measured,
  };
  for (let pass = 0; pass < PASSES; pass++) {
    const { readoutS, rates } = relation;
    const expected = rowMotion(scene, used, timeS, readoutS);
    const observed = moveToMidRow(measured, scene, withCubics(expected, rates.rates));
    const equations = rowEquations(observed, scene, noiseOf(observed, scene, sigmaStart));
    const nudged = rowMotion(scene, used, timeS, readoutS + NUDGE_S);
    const perSecond = nearestCubics(nudged.map((value, k) => (value - expected[k]) / NUDGE_S));
    const trend = fastCubics(perSecond, used, rateHz, cutoffHz);
    const fitted = fitRates(equations, rates, used, pass === 0 ? FIRST_ROUNDS : LATER_ROUNDS, trend);
    movePoses(scene, fitted.poseSteps);

    // The same motion within the frames, told as departure from what the new readout makes expected.
    const next = Math.max(0, Math.min(longestS(rateHz), readoutS + fitted.trendShare));
    const newlyExpected = rowMotion(scene, used, timeS, next);
    const change = nearestCubics(newlyExpected.map((value, k) => value - expected[k]));
    const departures = fitted.rates.map((value, k) => value - change[k]);
    const motion = withCubics(newlyExpected, departures);
    adjust(moveToMidRow(measured, scene, motion), scene, {
      sigmaStart,
      iterations: 3,
      stillSigmas: STILL_SIGMAS,
      pcgIterations: 20,
      kernel: 'gemanMcClure',
      trackWeightsFrom: 1,
    });
    relation = {
      readoutS: next,
      sd: fitted.trendShareSd,
      rates: { ...fitted, rates: departures },
      trend,
      observations: moveToMidRow(measured, scene, motion),
    };
    if (pass > 0 && Math.abs(next - readoutS) < STILL_S) break;
  }
  return relation;
}

/**
 * Share of the turning within the frames that the path does not tell, 0..1 (below 1). Knocks faster than the frames can
 * follow make the path's own speed wrong, which pulls the readout towards zero, as errors of the regressor always do; on
 * simulated knocks the true readout lay below readout / (1 - share)^2.
 */
function unexplained(
  departures: Float64Array,
  ordinary: Float64Array,
  trend: Float64Array,
  used: readonly number[],
  readoutS: number,
): number {
  let rest = 0;
  let all = 0;
  for (const t of used) {
    for (let a = 0; a < 3; a++) {
      const departure = departures[RATE_NUMBERS * t + a];
      rest += ordinary[t] * departure ** 2;
      all += ordinary[t] * (departure + readoutS * trend[RATE_NUMBERS * t + a]) ** 2;
    }
  }
  return all > 0 ? Math.min(0.99, rest / all) : 0;
}

function squaredResiduals(obs: Observations, scene: Scene): Float64Array {
  const lin = makeLinearisation(obs.count);
  linearise(obs, scene, lin);
  return lin.residualX.map((rx, o) => rx * rx + lin.residualY[o] ** 2);
}
