/**
 * Bundle adjustment: improves all poses and all tracks of a scene together, from the observations, by robust
 * Gauss-Newton steps (normal-equations.ts, schur-pcg.ts). Image units are pixels over focal length.
 *
 * A scene whose centres and inverse depths are all zero stays so, since every derivative that would move them is
 * zero: the same loop is the rotation-only adjustment.
 */
import { accumulate, makeNormalEquations, type NormalEquations } from './normal-equations.js';
import type { Observations } from './observations.js';
import { linearise, makeLinearisation, type Linearisation } from './projection.js';
import { residualScale, robustCost, weighTracks, type Kernel } from './robust-weights.js';
import { movePoses } from './rotation-steps.js';
import type { Scene } from './scene.js';
import { solveFrames, solveTracks } from './schur-pcg.js';

/** The noise never counts as less than this share of its start value, so that weights cannot collapse. */
export const LOWEST_SIGMA_SHARE = 0.05;

/**
 * A track is not called a stranger for residuals below this share of the start value (0.03 px at a width of 960). On
 * clean pictures the best tracks agree within 0.007 px; measured by those alone, weights would throw out three in four
 * honest tracks, and each round the noise would shrink further.
 */
export const LOWEST_TRACK_SIGMA_SHARE = 0.3;

/** Share of the residual energy at which a step is solved well enough. */
const PCG_TOLERANCE = 1e-8;

/** What to adjust, and how far. */
export interface AdjustOptions {
  /** Expected noise per axis, normalised; the first step uses at least this. */
  readonly sigmaStart: number;
  readonly iterations: number;
  /** Conjugate-gradient steps per iteration. */
  readonly pcgIterations: number;
  readonly kernel: Kernel;
  /** Iteration (0-based) from which track weights are renewed, earlier when `stillSigmas` tells that all stands still; Infinity leaves them. */
  readonly trackWeightsFrom: number;
  /**
   * A step that moves the points by less than this, RMS over all of them in noise, ends the adjustment, once track weights have been
   * renewed if they are to be. The step is made, and the next would be far smaller. Left out, all iterations are made.
   */
  readonly stillSigmas?: number;
  /** Frames marked 1 keep their pose. */
  readonly held?: Uint8Array;
  /** True leaves all poses where they are. */
  readonly tracksOnly?: boolean;
  /**
   * Called after each iteration with the cost before it and the cost one iteration earlier, both at the noise and the track
   * weights of that earlier one: what the step in between gained. A track that comes or goes is no gain. True ends.
   */
  readonly isSettled?: (cost: number, previousCost: number) => boolean;
}

/** How an adjustment ended. */
export interface AdjustReport {
  /** Robust noise per axis at the last iteration, normalised. */
  readonly sigma: number;
  readonly iterations: number;
}

/** What an adjustment writes to, all of it anew at every iteration. */
export interface Room {
  readonly lin: Linearisation;
  readonly equations: NormalEquations;
}

/** The largest room so far. A clip is adjusted some hundred times, and fresh memory costs as much time as what is done in it. */
let largest: (Room & Pick<Observations, 'count' | 'frameCount' | 'trackCount'>) | null = null;

/** Room for these observations, taken from that of the adjustment before, which has ended. */
export function roomFor(obs: Observations): Room {
  const { count, frameCount, trackCount } = obs;
  if (
    !largest ||
    largest.count < count ||
    largest.frameCount < frameCount ||
    largest.trackCount < trackCount
  ) {
    const size = {
      count: Math.max(count, largest?.count ?? 0),
      frameCount: Math.max(frameCount, largest?.frameCount ?? 0),
      trackCount: Math.max(trackCount, largest?.trackCount ?? 0),
    };
    largest = { ...size, lin: makeLinearisation(size.count), equations: makeNormalEquations(size) };
  }
  const { lin, equations } = largest;
  return {
    lin: {
      residualX: lin.residualX.subarray(0, count),
      residualY: lin.residualY.subarray(0, count),
      projectedX: lin.projectedX.subarray(0, count),
      projectedY: lin.projectedY.subarray(0, count),
      inverseDepth: lin.inverseDepth.subarray(0, count),
      trackJacobian: lin.trackJacobian.subarray(0, 6 * count),
      inFront: lin.inFront.subarray(0, count),
    },
    equations: {
      frameBlocks: equations.frameBlocks.subarray(0, 36 * frameCount),
      reducedGradient: equations.reducedGradient.subarray(0, 6 * frameCount),
      trackFactors: equations.trackFactors.subarray(0, 6 * trackCount),
      trackGradient: equations.trackGradient.subarray(0, 3 * trackCount),
      coupling: equations.coupling.subarray(0, 18 * count),
      weights: equations.weights.subarray(0, count),
    },
  };
}

/** Adjusts `scene` in place. */
export function adjust(obs: Observations, scene: Scene, options: AdjustOptions): AdjustReport {
  const { sigmaStart, iterations, kernel, trackWeightsFrom } = options;
  const { lin, equations } = roomFor(obs);
  let sigma = sigmaStart;
  let previousCost = Infinity;
  let isWeighing = false;
  for (let iteration = 0; iteration < iterations; iteration++) {
    linearise(obs, scene, lin);
    const cost = options.isSettled ? robustCost(obs, lin, sigma, scene.trackWeights) : 0;
    const scale = residualScale(obs, lin, scene.trackWeights);
    sigma = Math.max(scale, iteration === 0 ? sigmaStart : LOWEST_SIGMA_SHARE * sigmaStart);
    isWeighing ||= iteration >= trackWeightsFrom;
    if (isWeighing)
      weighTracks(obs, lin, Math.max(sigma, LOWEST_TRACK_SIGMA_SHARE * sigmaStart), scene.trackWeights);
    accumulate(obs, lin, scene.trackWeights, sigma, kernel, equations, options.tracksOnly);

    const frameSteps = options.tracksOnly
      ? null
      : solveFrames(obs, equations, {
          maxIterations: options.pcgIterations,
          tolerance: PCG_TOLERANCE,
          held: options.held ?? null,
        });
    moveTracks(scene, solveTracks(obs, equations, frameSteps));
    if (frameSteps) movePoses(scene, frameSteps);

    if (
      options.stillSigmas !== undefined &&
      stepInSigmas(obs, equations, scene, frameSteps) < options.stillSigmas
    ) {
      if (isWeighing || trackWeightsFrom === Infinity) return { sigma, iterations: iteration + 1 };
      isWeighing = true;
    }
    if (!options.isSettled) continue;
    if (options.isSettled(cost, previousCost)) return { sigma, iterations: iteration + 1 };
    // Residuals are those before the step, so this is the cost that the next iteration starts to compare with.
    previousCost = robustCost(obs, lin, sigma, scene.trackWeights);
  }
  return { sigma, iterations };
}

/**
 * How far a step moves the points, RMS over the observations of trusted tracks, in noise per axis: what it takes off the sum of squares
 * to first order (the squared Newton decrement) is the sum of the squared moves.
 */
export function stepInSigmas(
  obs: Observations,
  { reducedGradient, trackGradient }: NormalEquations,
  { trackWeights }: Scene,
  frameSteps: Float64Array | null,
): number {
  const { trackCount, trackStart } = obs;
  let sum = 0;
  let trusted = 0;
  for (let k = 0; frameSteps && k < frameSteps.length; k++) sum += reducedGradient[k] * frameSteps[k];
  for (let i = 0; i < trackCount; i++) {
    if (trackWeights[i] <= 0) continue;
    const h0 = trackGradient[3 * i];
    const h1 = trackGradient[3 * i + 1];
    const h2 = trackGradient[3 * i + 2];
    sum += h0 * h0 + h1 * h1 + h2 * h2;
    trusted += trackStart[i + 1] - trackStart[i];
  }
  return Math.sqrt(Math.max(0, sum) / Math.max(trusted, 1));
}

/** Moves the tracks of a scene, 3 numbers each. */
export function moveTracks(scene: Scene, steps: Float64Array): void {
  const { points } = scene;
  for (let k = 0; k < points.length; k += 3) {
    points[k] += steps[k];
    points[k + 1] += steps[k + 1];
    // Inverse depth moves by half of itself at most: keeps it out of the non-linear far side.
    const limit = 0.5 * Math.abs(points[k + 2]) + 0.02;
    points[k + 2] += Math.max(-limit, Math.min(limit, steps[k + 2]));
  }
}

/**
 * How well a scene explains its observations: its own robust noise per axis (over the tracks it trusts), and the share
 * of all tracks, 0..1, that agree with it at a given noise, less the share it puts behind the camera.
 */
export interface Fit {
  readonly sigma: number;
  readonly agreementAt: (sigma: number) => number;
}

/** Measures the fit of a scene; the scene is not changed. */
export function measureFit(obs: Observations, scene: Scene, sigmaStart: number): Fit {
  const lin = makeLinearisation(obs.count);
  linearise(obs, scene, lin);
  const behind = scene.points.filter((rho, k) => k % 3 === 2 && rho < 0).length;
  return {
    sigma: residualScale(obs, lin, scene.trackWeights),
    agreementAt: (sigma) => {
      const weights = new Float64Array(obs.trackCount);
      weighTracks(obs, lin, Math.max(sigma, LOWEST_TRACK_SIGMA_SHARE * sigmaStart), weights);
      return weights.reduce((sum, weight) => sum + weight, -behind) / Math.max(obs.trackCount, 1);
    },
  };
}

/** Robust noise per axis of a scene, never below what an adjustment counts with. */
export function noiseOf(obs: Observations, scene: Scene, sigmaStart: number): number {
  const lin = makeLinearisation(obs.count);
  linearise(obs, scene, lin);
  return Math.max(residualScale(obs, lin, scene.trackWeights), LOWEST_SIGMA_SHARE * sigmaStart);
}
