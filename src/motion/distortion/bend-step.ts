/**
 * One step of k1 as one more unknown of the adjustment: how far the residuals ask k1 to go, how sure that is with all poses
 * and tracks free to follow, and how poses and tracks do follow. Normalised image units. Own derivation.
 *
 * With k1 changed by dk an ideal point at radius r moves by J dk, J = -r^2 (x, y) / (1 + 3 k1 r^2): the seen place stays. What
 * poses and tracks leave of J (column-step.ts), J', is what tells k1:
 *   dk = - sum w J' r / sum w J'^2,   variance = 1 / sum w J'^2      (r residuals, w weights over sigma^2).
 */
import {
  LOWEST_SIGMA_SHARE,
  LOWEST_TRACK_SIGMA_SHARE,
  moveTracks,
  roomFor,
  stepInSigmas,
  type Room,
} from '../adjust.js';
import { columnSteps, exactSolver, type Column } from '../column-step.js';
import { accumulate } from '../normal-equations.js';
import type { Observations } from '../observations.js';
import { linearise, type Linearisation } from '../projection.js';
import { residualScale, weighTracks } from '../robust-weights.js';
import { movePoses } from '../rotation-steps.js';
import type { Scene } from '../scene.js';
import { solveTracks } from '../schur-pcg.js';

/** What the residuals of a scene say of k1. */
export interface BendStep {
  /** Change of k1 that they ask for. */
  readonly change: number;
  /** Standard deviation of that, white noise; Infinity where nothing tells. */
  readonly sd: number;
  /** Steps of all frames (6 each) and tracks (3 each) that go with a change of k1 by one. */
  readonly frames: Float64Array;
  readonly tracks: Float64Array;
}

/** Slope of the lens beyond which points at the fold of the model do not count more. */
const FLATTEST = 0.05;

/**
 * The step at the present scene; nothing is changed.
 *
 * @param obs ideal points at the present k1
 */
export function bendStep(obs: Observations, scene: Scene, k1: number, sigmaStart: number): BendStep {
  return stepAt(obs, scene, k1, linearised(obs, scene, LOWEST_SIGMA_SHARE * sigmaStart, null));
}

/**
 * The step at the present scene, and the step of poses and tracks with k1 as it is, which is made. Both come of the same equations, so
 * that with the change of k1 they are one step of all unknowns.
 *
 * @param obs ideal points at the present k1
 * @param isFirst true where the scene may be far from adjusted: the noise counts as no less than sigmaStart, and track weights are left
 * @returns the step of k1, and how far the points were moved: RMS, in noise per axis
 */
export function bendAndMove(
  obs: Observations,
  scene: Scene,
  k1: number,
  sigmaStart: number,
  isFirst: boolean,
): { readonly step: BendStep; readonly movedSigmas: number } {
  const there = isFirst
    ? linearised(obs, scene, sigmaStart, null)
    : linearised(obs, scene, LOWEST_SIGMA_SHARE * sigmaStart, LOWEST_TRACK_SIGMA_SHARE * sigmaStart);
  const { equations, solve } = there;
  const frameSteps = solve(equations.reducedGradient);
  const movedSigmas = stepInSigmas(obs, equations, scene, frameSteps);
  const step = stepAt(obs, scene, k1, there);
  moveTracks(scene, solveTracks(obs, equations, frameSteps));
  movePoses(scene, frameSteps);
  return { step, movedSigmas };
}

/** The equations of a scene, at its noise. */
interface Linearised extends Room {
  readonly sigma: number;
  readonly solve: (gradient: Float64Array) => Float64Array;
}

/**
 * @param leastSigma the noise counts as no less
 * @param leastTrackSigma nor does it where track weights are renewed; null leaves these
 */
function linearised(
  obs: Observations,
  scene: Scene,
  leastSigma: number,
  leastTrackSigma: number | null,
): Linearised {
  const { lin, equations } = roomFor(obs);
  linearise(obs, scene, lin);
  const sigma = Math.max(residualScale(obs, lin, scene.trackWeights), leastSigma);
  if (leastTrackSigma !== null) weighTracks(obs, lin, Math.max(sigma, leastTrackSigma), scene.trackWeights);
  accumulate(obs, lin, scene.trackWeights, sigma, 'gemanMcClure', equations);
  return { lin, equations, sigma, solve: exactSolver(obs, equations) };
}

function stepAt(
  obs: Observations,
  scene: Scene,
  k1: number,
  { lin, equations, sigma, solve }: Linearised,
): BendStep {
  const column = bendColumn(lin, k1);
  const takeUp = columnSteps(obs, lin, equations, scene.trackWeights, sigma, solve);
  const { frames, tracks, left } = takeUp(column);
  let pull = 0;
  let information = 0;
  for (let o = 0; o < obs.count; o++) {
    const i = obs.track[o];
    const w = (equations.weights[o] * scene.trackWeights[i]) / (sigma * sigma);
    if (w === 0) continue;
    pull += w * (left.x[o] * lin.residualX[o] + left.y[o] * lin.residualY[o]);
    information += w * (left.x[o] * left.x[o] + left.y[o] * left.y[o]);
  }
  return {
    change: information > 0 ? -pull / information : 0,
    sd: 1 / Math.sqrt(information),
    frames,
    tracks,
  };
}

/**
 * How each ideal point moves when k1 grows by one, where the model has it. Where it was measured, noise would count: a k1 that
 * draws points together makes their noise smaller, and would be found in every clip.
 */
function bendColumn({ projectedX, projectedY }: Linearisation, k1: number): Column {
  const factor = projectedX.map((x, o) => {
    const r2 = x * x + projectedY[o] ** 2;
    return -r2 / Math.max(1 + 3 * k1 * r2, FLATTEST);
  });
  return { x: factor.map((f, o) => f * projectedX[o]), y: factor.map((f, o) => f * projectedY[o]) };
}
