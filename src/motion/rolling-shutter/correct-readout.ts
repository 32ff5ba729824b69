/**
 * Rolling shutter: brings a scene and its observations to the middle row of every frame, given the time that the sensor
 * takes to read a frame from top to bottom. Seconds; normalised image units.
 *
 * Each pass takes the motion within the frames from the present path (row-motion.ts), adds what the frames themselves
 * show beyond it (row-rates.ts), moves the observations (row-correction.ts) and adjusts the scene to them. A readout from
 * bottom to top is not considered.
 */
import { adjust, noiseOf } from '../adjust.js';
import type { Observations } from '../observations.js';
import { movePoses } from '../rotation-steps.js';
import { moveToMidRow } from './row-correction.js';
import { withCubics } from './row-cubics.js';
import { rowEquations } from './row-equations.js';
import { rowMotion } from './row-motion.js';
import { fitRates, noRates, type RowRates } from './row-rates.js';
import type { Scene } from '../scene.js';

/** What the correction works on besides the scene. */
export interface ReadoutClip {
  /** Observations as measured, each at the time of its own row. */
  readonly measured: Observations;
  /** Stamp of every frame, seconds. */
  readonly timeS: Float64Array;
  /** Frames without a pose of their own. */
  readonly lostFrames: readonly number[];
  /** Expected noise per axis, normalised. */
  readonly sigmaStart: number;
}

/** A scene at mid-row time. */
export interface ReadoutFit {
  /** Observations as a shutter that opens all rows at once would have seen them. */
  readonly observations: Observations;
  /** Motion within the frames beyond what the path tells. */
  readonly rates: RowRates;
  /** Robust noise per axis that is left, normalised. */
  readonly sigma: number;
}

const MOST_PASSES = 8;
const FEWEST_PASSES = 4;
/**
 * The first passes trust the path alone: what a steady dolly does within a frame looks like a sheared scene, and must be
 * in the scene before the frames are asked for more.
 */
const PLAIN_PASSES = 2;
/** Relative change of the noise from one pass to the next that counts as none. */
const STILL = 0.005;
const ITERATIONS_PER_PASS = 4;
/** A step below this share of the noise is the last of a pass: a tenth of the floor of a pose at most, and the next is far smaller. */
const STILL_SIGMAS = 0.005;
const PCG_ITERATIONS = 25;
/** Rounds of expectation maximisation: in the first pass, and in the others, which start from it. */
const FIRST_ROUNDS = 30;
const LATER_ROUNDS = 10;
/** A frame with fewer trusted tracks is left as it is. */
const FEWEST_TRACKS = 8;

/**
 * Corrects a scene for a readout of `readoutS`; the scene is changed in place.
 *
 * @param scene adjusted to the observations as measured, or to a correction for another readout
 */
export function correctReadout(clip: ReadoutClip, scene: Scene, readoutS: number): ReadoutFit {
  const { measured, timeS, sigmaStart } = clip;
  const used = usableFrames(clip, scene);
  let rates = noRates(measured.frameCount);
  let observations = measured;
  let sigma = Infinity;
  for (let pass = 0; pass < MOST_PASSES; pass++) {
    const expected = rowMotion(scene, used, timeS, readoutS);
    observations = moveToMidRow(measured, scene, withCubics(expected, rates.rates));
    if (pass >= PLAIN_PASSES) {
      const equations = rowEquations(observations, scene, noiseOf(observations, scene, sigmaStart));
      const fitted = fitRates(equations, rates, used, pass === PLAIN_PASSES ? FIRST_ROUNDS : LATER_ROUNDS);
      rates = fitted;
      movePoses(scene, fitted.poseSteps);
    }
    const motion = withCubics(expected, rates.rates);
    observations = moveToMidRow(measured, scene, motion);
    adjust(observations, scene, {
      stillSigmas: STILL_SIGMAS,
      sigmaStart,
      iterations: ITERATIONS_PER_PASS,
      pcgIterations: PCG_ITERATIONS,
      kernel: 'gemanMcClure',
      trackWeightsFrom: 1,
    });
    observations = moveToMidRow(measured, scene, motion);
    const before = sigma;
    sigma = noiseOf(observations, scene, sigmaStart);
    if (pass + 1 >= FEWEST_PASSES && Math.abs(before - sigma) < STILL * sigma) break;
  }
  return { observations, rates, sigma };
}

/** Frames with a pose and enough trusted tracks to say something of their own rows. */
export function usableFrames({ measured, lostFrames }: ReadoutClip, scene: Scene): number[] {
  const lost = new Set(lostFrames);
  const trusted = new Int32Array(measured.frameCount);
  measured.frame.forEach((t, o) => {
    if (scene.trackWeights[measured.track[o]] > 0.5) trusted[t]++;
  });
  return Array.from(trusted.keys()).filter((t) => trusted[t] >= FEWEST_TRACKS && !lost.has(t));
}

/** Applies a step to every pose: turn in the camera's axes, displacement along them; six per frame. */
