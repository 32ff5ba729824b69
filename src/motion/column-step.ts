/**
 * One more unknown beside poses and tracks, such as a term of the lens: how all poses and tracks follow when it grows by one, and
 * what is left of its effect on the points after that, which is all that the points can tell of it. Normalised image units.
 *
 * Poses and tracks take up what they can of the column J of the unknown (their own weighted least squares); with what is left of it,
 * J', the unknown is sum w J' r / sum w J'^2 and its variance 1 / sum w J'^2   (r residuals, w weights over sigma^2).
 */
import type { NormalEquations } from './normal-equations.js';
import type { Observations } from './observations.js';
import { frameJacobian, type Linearisation } from './projection.js';
import { frameSolver, solveTracks } from './schur-pcg.js';

/** How each point moves when the unknown grows by one; length of the observations. */
export interface Column {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** What poses and tracks make of a column. */
export interface ColumnStep {
  /** Steps of all frames (6 each) and tracks (3 each) that go with a growth of the unknown by one. */
  readonly frames: Float64Array;
  readonly tracks: Float64Array;
  /** The column less what they take up. */
  readonly left: Column;
}

/**
 * Poses take up most of a column by slow changes over the whole clip, which the solver finds last and damping would hold back:
 * what they have not taken up would pass for knowledge of the unknown.
 */
const PCG_ITERATIONS = 120;
const PCG_TOLERANCE = 1e-12;
const DAMPING = 1e-7;

/** Solves for frame steps as exactly as columns need it. */
export function exactSolver(
  obs: Observations,
  equations: NormalEquations,
): (gradient: Float64Array) => Float64Array {
  return frameSolver(obs, equations, {
    maxIterations: PCG_ITERATIONS,
    tolerance: PCG_TOLERANCE,
    held: null,
    damping: DAMPING,
  });
}

/**
 * Lets poses and tracks take up columns, one after the other.
 *
 * @param equations at the scene and noise of `lin`
 * @param solve {@link exactSolver} of these equations, where there is one already
 */
export function columnSteps(
  obs: Observations,
  lin: Linearisation,
  equations: NormalEquations,
  trackWeights: Float64Array,
  sigma: number,
  solve = exactSolver(obs, equations),
): (column: Column) => ColumnStep {
  return (column) => {
    const sides = sidesOf(obs, lin, equations, trackWeights, sigma, column);
    return stepOf(obs, lin, sides, trackWeights, column, solve(sides.reducedGradient));
  };
}

function stepOf(
  obs: Observations,
  lin: Linearisation,
  sides: NormalEquations,
  trackWeights: Float64Array,
  column: Column,
  frames: Float64Array,
): ColumnStep {
  const tracks = solveTracks(obs, sides, frames);
  const left = { x: column.x.slice(), y: column.y.slice() };
  const rowX = new Float64Array(6);
  const rowY = new Float64Array(6);
  for (let o = 0; o < obs.count; o++) {
    const i = obs.track[o];
    if (sides.weights[o] * trackWeights[i] === 0) continue;
    frameJacobian(lin.projectedX[o], lin.projectedY[o], lin.inverseDepth[o], rowX, rowY);
    for (let r = 0; r < 6; r++) {
      left.x[o] -= rowX[r] * frames[6 * obs.frame[o] + r];
      left.y[o] -= rowY[r] * frames[6 * obs.frame[o] + r];
    }
    for (let r = 0; r < 3; r++) {
      left.x[o] -= lin.trackJacobian[6 * o + r] * tracks[3 * i + r];
      left.y[o] -= lin.trackJacobian[6 * o + 3 + r] * tracks[3 * i + r];
    }
  }
  return { frames, tracks, left };
}

/** The normal equations with the column in place of the residuals on their right-hand side. */
function sidesOf(
  obs: Observations,
  lin: Linearisation,
  equations: NormalEquations,
  trackWeights: Float64Array,
  sigma: number,
  column: Column,
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
