/**
 * One step of k1 as one more unknown of the adjustment: how far the residuals ask k1 to go, how sure that is with all poses
 * and tracks free to follow, and how poses and tracks do follow. Normalised image units. Own derivation.
 *
 * With k1 changed by dk an ideal point at radius r moves by J dk, J = -r^2 (x, y) / (1 + 3 k1 r^2): the seen place stays. What
 * poses and tracks leave of J (column-step.ts), J', is what tells k1:
 *   dk = - sum w J' r / sum w J'^2,   variance = 1 / sum w J'^2      (r residuals, w weights over sigma^2).
 */
import { columnSteps, type Column } from '../column-step.js';
import { accumulate, makeNormalEquations } from '../normal-equations.js';
import type { Observations } from '../observations.js';
import { linearise, makeLinearisation, type Linearisation } from '../projection.js';
import { noiseOf } from '../adjust.js';
import type { Scene } from '../scene.js';

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
  const lin = makeLinearisation(obs.count);
  const equations = makeNormalEquations(obs);
  const sigma = noiseOf(obs, scene, sigmaStart);
  linearise(obs, scene, lin);
  accumulate(obs, lin, scene.trackWeights, sigma, 'gemanMcClure', equations);
  const column = bendColumn(lin, k1);
  const { frames, tracks, left } = columnSteps(obs, lin, equations, scene.trackWeights, sigma)(column);

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
