/**
 * The radial distortion of a lens from the clip itself: k1 (no unit; points over the focal length), with its deviation.
 *
 * A lens that bends lines shifts every point by its place in the picture alone, so that a point which crosses the picture
 * seems to change its distance and its direction in a way that no move of the camera explains. k1 is found as one more
 * unknown of the adjustment (bend-step.ts). Own derivation.
 */
import { distort } from '../../optics/index.js';
import { adjust, noiseOf } from '../adjust.js';
import { bendAndMove, type BendStep } from './bend-step.js';
import type { Observations } from '../observations.js';
import { linearise, makeLinearisation } from '../projection.js';
import { movePoses } from '../rotation-steps.js';
import { meanCost } from '../robust-weights.js';
import { copyOfScene, type Scene } from '../scene.js';
import { radialLens, unbend } from './unbend.js';

/** What a clip says of its lens. */
export interface DistortionSearch {
  /** Best k1. */
  readonly k1: number;
  /** Standard deviation of it for white noise. */
  readonly sd: number;
  /** Relative fall of mean min(r^2 / sigma^2, 12), in the picture as seen, from the k1 that was started with; 0..1. */
  readonly costFall: number;
  /** True when the points ask for a stronger bend than is possible. */
  readonly atLimit: boolean;
  /** The last step: how poses and tracks follow k1. */
  readonly step: BendStep;
  /** Ideal points and scene at the best k1. */
  readonly observations: Observations;
  readonly scene: Scene;
}

const MOST_STEPS = 12;
/** Steps of poses and tracks below this share of the noise: k1 is told no better by a scene that is adjusted further, which it is later. */
const STILL_SIGMAS = 0.1;
/** Steps that end the adjustment at the k1 that was started with. */
const BACK_STILL_SIGMAS = 0.01;
/** Longest step of k1 at once, and steps that count as none: in standard deviations, and at all. */
const LONGEST_STEP = 0.06;
const STILL_DEVIATIONS = 0.2;
const STILL_K1 = 0.0003;
/** Where the standard deviation of k1 is no smaller, points that hardly move tell nothing, and no step is taken. */
const NOTHING_TOLD = 0.1;
/** Falls of the cost below this are told by the curvature at the best k1, larger ones by going back. */
const SMALL_FALL = 0.003;

/**
 * Looks for k1, from a scene on, which is not changed.
 *
 * @param seen points as seen, over the focal length
 * @param start scene that goes with unbend(seen, startK1); it need not be adjusted to the last
 * @param possible lowest and highest k1, see possibleK1
 * @param sigmaStart expected noise per axis, normalised
 */
export function searchDistortion(
  seen: Observations,
  start: Scene,
  startK1: number,
  possible: readonly [number, number],
  sigmaStart: number,
): DistortionSearch {
  const scene = copyOfScene(start);
  let k1 = startK1;
  let observations = unbend(seen, k1);
  let { step, movedSigmas } = bendAndMove(observations, scene, k1, sigmaStart, true);
  for (let count = 1; count < MOST_STEPS; count++) {
    const limited = Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, step.change));
    const next = isStill(step) ? k1 : Math.max(possible[0], Math.min(possible[1], k1 + limited));
    // Weights of tracks are renewed once at least.
    if (next === k1 && movedSigmas < STILL_SIGMAS && count > 1) break;
    if (next !== k1) {
      follow(scene, step, next - k1);
      k1 = next;
      observations = unbend(seen, k1);
    }
    ({ step, movedSigmas } = bendAndMove(observations, scene, k1, sigmaStart, false));
  }
  const atLimit = !isStill(step) && (step.change < 0 ? k1 === possible[0] : k1 === possible[1]);
  const found = { k1, sd: step.sd, atLimit, step, observations, scene };

  // What the bend takes off the cost: (change / sd)^2 in all, near the best k1; further off the scene goes back once more.
  const sigma = noiseOf(observations, scene, sigmaStart);
  const trusted = (o: number): boolean => scene.trackWeights[seen.track[o]] > 0;
  const after = meanCost(squaredResiduals(seen, scene, k1), trusted, sigma);
  const small = ((k1 - startK1) / step.sd) ** 2 / Math.max(1, seen.count * after);
  if (small < SMALL_FALL) return { ...found, costFall: small };
  const back = copyOfScene(scene);
  follow(back, step, startK1 - k1);
  adjust(unbend(seen, startK1), back, {
    sigmaStart,
    iterations: 3,
    stillSigmas: BACK_STILL_SIGMAS,
    pcgIterations: 30,
    kernel: 'gemanMcClure',
    trackWeightsFrom: 1,
  });
  const before = meanCost(squaredResiduals(seen, back, startK1), trusted, sigma);
  return { ...found, costFall: Math.max(0, 1 - after / before) };
}

function isStill({ change, sd }: BendStep): boolean {
  return !(sd < NOTHING_TOLD) || Math.abs(change) <= Math.max(STILL_K1, STILL_DEVIATIONS * sd);
}

/** Moves poses and tracks along with a change of k1. */
export function follow(scene: Scene, step: BendStep, change: number): void {
  movePoses(
    scene,
    step.frames.map((value) => value * change),
  );
  for (let k = 0; k < scene.points.length; k++) scene.points[k] += step.tracks[k] * change;
}

/** Squared distances between points as seen and where the lens shows the scene, which k1 cannot shrink by itself. */
function squaredResiduals(seen: Observations, scene: Scene, k1: number): Float64Array {
  const lin = makeLinearisation(seen.count);
  linearise(seen, scene, lin);
  const lens = radialLens(k1);
  return lin.projectedX.map((px, o) => {
    const shown = distort(lens, px, lin.projectedY[o]);
    return (seen.x[o] - shown.x) ** 2 + (seen.y[o] - shown.y) ** 2;
  });
}
