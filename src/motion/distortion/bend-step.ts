/**
 * One step of k1 as one more unknown of the adjustment: how far the residuals ask k1 to go, how sure that is with all poses
 * and tracks free to follow, and how poses and tracks do follow. Normalised image units. Own derivation.
 *
 * With k1 changed by dk an ideal point at radius r moves by J dk, J = -r^2 (x, y) / (1 + 3 k1 r^2): the seen place stays. Poses
 * and tracks take up what they can of J (their own weighted least squares); what is left of it, J', is what tells k1:
 *   dk = - sum w J' r / sum w J'^2,   variance = 1 / sum w J'^2      (r residuals, w weights over sigma^2).
 */
import { accumulate, makeNormalEquations, type NormalEquations } from '../normal-equations.js';
import type { Observations } from '../observations.js';
import { frameJacobian, linearise, makeLinearisation, type Linearisation } from '../projection.js';
import { noiseOf } from '../adjust.js';
import type { Scene } from '../scene.js';
import { solveFrames, solveTracks } from '../schur-pcg.js';

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

/**
 * Poses take up most of a bend by slow changes over the whole clip, which the solver finds last and damping would hold back:
 * what they have not taken up would pass for knowledge of k1.
 */
const PCG_ITERATIONS = 120;
const PCG_TOLERANCE = 1e-12;
const DAMPING = 1e-7;
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
  const sides = sidesOf(obs, lin, equations, scene.trackWeights, sigma, column);
  const frames = solveFrames(obs, sides, {
    maxIterations: PCG_ITERATIONS,
    tolerance: PCG_TOLERANCE,
    held: null,
    damping: DAMPING,
  });
  const tracks = solveTracks(obs, sides, frames);

  const rowX = new Float64Array(6);
  const rowY = new Float64Array(6);
  let pull = 0;
  let information = 0;
  for (let o = 0; o < obs.count; o++) {
    const i = obs.track[o];
    const w = (equations.weights[o] * scene.trackWeights[i]) / (sigma * sigma);
    if (w === 0) continue;
    frameJacobian(lin.projectedX[o], lin.projectedY[o], lin.inverseDepth[o], rowX, rowY);
    let leftX = column.x[o];
    let leftY = column.y[o];
    for (let r = 0; r < 6; r++) {
      leftX -= rowX[r] * frames[6 * obs.frame[o] + r];
      leftY -= rowY[r] * frames[6 * obs.frame[o] + r];
    }
    for (let r = 0; r < 3; r++) {
      leftX -= lin.trackJacobian[6 * o + r] * tracks[3 * i + r];
      leftY -= lin.trackJacobian[6 * o + 3 + r] * tracks[3 * i + r];
    }
    pull += w * (leftX * lin.residualX[o] + leftY * lin.residualY[o]);
    information += w * (leftX * leftX + leftY * leftY);
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
function bendColumn(
  { projectedX, projectedY }: Linearisation,
  k1: number,
): { x: Float64Array; y: Float64Array } {
  const factor = projectedX.map((x, o) => {
    const r2 = x * x + projectedY[o] ** 2;
    return -r2 / Math.max(1 + 3 * k1 * r2, FLATTEST);
  });
  return { x: factor.map((f, o) => f * projectedX[o]), y: factor.map((f, o) => f * projectedY[o]) };
}

/** The normal equations with the column in place of the residuals on their right-hand side. */
function sidesOf(
  obs: Observations,
  lin: Linearisation,
  equations: NormalEquations,
  trackWeights: Float64Array,
  sigma: number,
  column: { readonly x: Float64Array; readonly y: Float64Array },
): NormalEquations {
  const { weights, trackFactors, coupling } = equations;
  const reducedGradient = new Float64Array(6 * obs.frameCount);
  const trackGradient = new Float64Array(3 * obs.trackCount);
  const rowX = new Float64Array(6);
  const rowY = new Float64Array(6);
  for (let i = 0; i < obs.trackCount; i++) {
    const trust = trackWeights[i] > 0 ? trackWeights[i] : 1;
    const g = [0, 0, 0];
    for (let o = obs.trackStart[i]; o < obs.trackStart[i + 1]; o++) {
      const w = (weights[o] * trust) / (sigma * sigma);
      for (let r = 0; r < 3; r++) {
        g[r] +=
          w * (lin.trackJacobian[6 * o + r] * column.x[o] + lin.trackJacobian[6 * o + 3 + r] * column.y[o]);
      }
    }
    const [k00, k10, k11, k20, k21, k22] = trackFactors.subarray(6 * i, 6 * i + 6);
    const h0 = g[0] / k00;
    const h1 = (g[1] - k10 * h0) / k11;
    const h2 = (g[2] - k20 * h0 - k21 * h1) / k22;
    trackGradient.set([h0, h1, h2], 3 * i);
    if (trackWeights[i] <= 0) continue;
    for (let o = obs.trackStart[i]; o < obs.trackStart[i + 1]; o++) {
      const w = (weights[o] * trust) / (sigma * sigma);
      frameJacobian(lin.projectedX[o], lin.projectedY[o], lin.inverseDepth[o], rowX, rowY);
      for (let r = 0; r < 6; r++) {
        const e = 18 * o + 3 * r;
        reducedGradient[6 * obs.frame[o] + r] +=
          w * (rowX[r] * column.x[o] + rowY[r] * column.y[o]) -
          (coupling[e] * h0 + coupling[e + 1] * h1 + coupling[e + 2] * h2);
      }
    }
  }
  return { ...equations, reducedGradient, trackGradient };
}
