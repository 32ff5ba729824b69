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
import { adjust } from './adjust.js';
import { windowOf, type Observations } from './observations.js';
import { linearise, makeLinearisation } from './projection.js';
import { movePoses, noiseOf, usableFrames, type ReadoutClip } from './readout.js';
import { moveToMidRow } from './row-correction.js';
import { fastCubics, nearestCubics, withCubics } from './row-cubics.js';
import { RATE_NUMBERS, rowEquations } from './row-equations.js';
import { rowMotion } from './row-motion.js';
import { fitRates, noRates, type FittedRates } from './row-rates.js';
import { sceneWindow, type Scene } from './scene.js';

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

/** Longest readout that is looked for; slower sensors are not used for moving pictures. */
const LONGEST_S = 0.033;
/** The relation between readout and motion within the frame is taken from a change of the readout by this much. */
const NUDGE_S = 0.0005;
/** The search looks at a stretch of at most this many frames. */
const STRETCH_FRAMES = 120;
const SEEN_IN_STRETCH = 6;
const PASSES = 5;
/** Change of the readout that counts as none. */
const STILL_S = 0.0001;
const FIRST_ROUNDS = 30;
const LATER_ROUNDS = 12;
/** An observation adds at most this much (in sigma^2) to the cost. */
const COST_CAP = 12;
/**
 * A readout is believed when the cost falls by so much and the readout stands so many standard deviations clear of none.
 * Cubics take about 1 % off the cost of a global shutter by following its noise (own trials). Knocks that the path hardly
 * tells leave the readout itself vague, but make the cost fall all the more.
 */
const BELIEVED = [
  { fall: 0.02, deviations: 4 },
  { fall: 0.2, deviations: 2 },
] as const;

/** Frames, observations and scene of the stretch in which the camera moves most within a frame. */
interface Stretch {
  readonly clip: ReadoutClip;
  readonly scene: Scene;
  readonly used: readonly number[];
}

/**
 * How much of the cost of an uncorrected clip the longest readout could make up, at most: mean square of the fast
 * motion of the picture within the frames over twice the noise.
 *
 * @param scene adjusted to the observations as measured
 */
export function largestEffect(clip: ReadoutClip, scene: Scene, rateHz: number, cutoffHz: number): number {
  const used = usableFrames(clip, scene);
  const power = fastPower(scene, used, clip.timeS, rateHz, cutoffHz);
  const mean = power.reduce((sum, value) => sum + value, 0) / Math.max(used.length, 1);
  const noise = noiseOf(clip.measured, scene, clip.sigmaStart);
  return (mean * longestS(rateHz) ** 2) / (2 * noise * noise);
}

/** Looks for the readout in the liveliest stretch of a clip. The scene is not changed. */
export function searchReadout(
  whole: ReadoutClip,
  wholeScene: Scene,
  rateHz: number,
  cutoffHz: number,
): ReadoutSearch {
  const { clip, scene, used } = liveliestStretch(whole, wholeScene, rateHz, cutoffHz);
  const { measured, timeS, sigmaStart } = clip;
  const longest = longestS(rateHz);
  const before = squaredResiduals(measured, scene);
  let readoutS = 0;
  let rates = noRates(measured.frameCount);
  let fitted: FittedRates | null = null;
  let observations = measured;
  let trend: Float64Array = new Float64Array(0);
  for (let pass = 0; pass < PASSES; pass++) {
    const expected = rowMotion(scene, used, timeS, readoutS);
    observations = moveToMidRow(measured, scene, withCubics(expected, rates.rates));
    const equations = rowEquations(observations, scene, noiseOf(observations, scene, sigmaStart));
    const nudged = rowMotion(scene, used, timeS, readoutS + NUDGE_S);
    const perSecond = nearestCubics(nudged.map((value, k) => (value - expected[k]) / NUDGE_S));
    trend = fastCubics(perSecond, used, rateHz, cutoffHz);
    fitted = fitRates(equations, rates, used, pass === 0 ? FIRST_ROUNDS : LATER_ROUNDS, trend);
    movePoses(scene, fitted.poseSteps);

    // The same motion within the frames, told as departure from what the new readout makes expected.
    const next = Math.max(0, Math.min(longest, readoutS + fitted.trendShare));
    const newlyExpected = rowMotion(scene, used, timeS, next);
    const change = nearestCubics(newlyExpected.map((value, k) => value - expected[k]));
    rates = { ...fitted, rates: fitted.rates.map((value, k) => value - change[k]) };
    observations = moveToMidRow(measured, scene, withCubics(newlyExpected, rates.rates));
    adjust(observations, scene, {
      sigmaStart,
      iterations: 3,
      pcgIterations: 20,
      kernel: 'gemanMcClure',
      trackWeightsFrom: 1,
    });
    observations = moveToMidRow(measured, scene, withCubics(newlyExpected, rates.rates));
    const step = Math.abs(next - readoutS);
    readoutS = next;
    if (pass > 0 && step < STILL_S) break;
  }
  const sd = fitted?.trendShareSd ?? Infinity;
  const sigma = noiseOf(observations, scene, sigmaStart);
  const trusted = (o: number): boolean => scene.trackWeights[measured.track[o]] > 0;
  const after = squaredResiduals(observations, scene);
  const costFall = 1 - meanCost(after, trusted, sigma) / meanCost(before, trusted, sigma);
  const found = BELIEVED.some(({ fall, deviations }) => costFall >= fall && readoutS > deviations * sd);
  const top = readoutS + 1.96 * sd;
  const power = fastPower(scene, used, timeS, rateHz, cutoffHz);
  const meanPower = power.reduce((sum, value) => sum + value, 0) / Math.max(used.length, 1);
  const departures = fastCubics(rates.rates, used, rateHz, cutoffHz);
  const dilution = found ? unexplained(departures, rates.ordinary, trend, used, readoutS) : 0;
  const upperS = Math.min(longest, top / (1 - dilution) ** 2);
  return {
    readoutS: found ? readoutS : 0,
    ci95S: [Math.max(0, readoutS - 1.96 * sd), upperS],
    costFall,
    found,
    effectAtMost: (meanPower * upperS ** 2) / (2 * sigma * sigma),
  };
}

const longestS = (rateHz: number): number => Math.min(LONGEST_S, 1 / rateHz);

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

/** Mean square of the fast motion of the picture within each frame, per second of readout squared; normalised units. */
function fastPower(
  scene: Scene,
  used: readonly number[],
  timeS: Float64Array,
  rateHz: number,
  cutoffHz: number,
): Float64Array {
  const cubics = nearestCubics(rowMotion(scene, used, timeS, NUDGE_S)).map((value) => value / NUDGE_S);
  const fast = fastCubics(cubics, used, rateHz, cutoffHz);
  // Median depth is about one scene unit, so that displacements count like turns; u^2 is one third on average.
  return Float64Array.from(
    { length: cubics.length / RATE_NUMBERS },
    (_, t) => [0, 1, 3, 4].reduce((sum, a) => sum + fast[RATE_NUMBERS * t + a] ** 2, 0) / 3,
  );
}

function liveliestStretch(clip: ReadoutClip, scene: Scene, rateHz: number, cutoffHz: number): Stretch {
  const { measured, timeS, lostFrames } = clip;
  const length = Math.min(measured.frameCount, STRETCH_FRAMES);
  const power = fastPower(scene, usableFrames(clip, scene), timeS, rateHz, cutoffHz);
  const total = (from: number): number => power.subarray(from, from + length).reduce((sum, v) => sum + v, 0);
  let from = 0;
  for (let at = 0; at + length <= measured.frameCount; at += 10) if (total(at) > total(from)) from = at;
  const to = from + length;
  const { observations, trackOfWhole } = windowOf(measured, from, to, SEEN_IN_STRETCH);
  const part: ReadoutClip = {
    ...clip,
    measured: observations,
    timeS: timeS.subarray(from, to),
    lostFrames: lostFrames.filter((t) => t >= from && t < to).map((t) => t - from),
  };
  const copy = sceneWindow(scene, from, to, trackOfWhole);
  return { clip: part, scene: copy, used: usableFrames(part, copy) };
}

function squaredResiduals(obs: Observations, scene: Scene): Float64Array {
  const lin = makeLinearisation(obs.count);
  linearise(obs, scene, lin);
  return lin.residualX.map((rx, o) => rx * rx + lin.residualY[o] ** 2);
}

function meanCost(squares: Float64Array, trusted: (o: number) => boolean, sigma: number): number {
  let sum = 0;
  let n = 0;
  squares.forEach((r2, o) => {
    if (!trusted(o)) return;
    sum += Math.min(r2 / (sigma * sigma), COST_CAP);
    n++;
  });
  return sum / Math.max(n, 1);
}
