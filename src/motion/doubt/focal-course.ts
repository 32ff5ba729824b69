/**
 * Whether the focal length changed during a pass: its slow course over the clip as a few more unknowns of the adjustment, beside all
 * poses and depths. Logarithm of the focal length, 0 where the clip has its mean one.
 *
 * A change of focal length scales the whole picture about its middle, near and far alike; a move along the lens scales what is near
 * more than what is far. In a scene of one single distance the two are the same, and nothing is told. The course is a sum of
 * cosines over the clip; its mean, an error of the focal length as given, is left free and tells nothing here.
 */
import { invertSymmetric, solveSymmetric } from '../../numerics/index.js';
import { adjust, LOWEST_TRACK_SIGMA_SHARE, measureFit, noiseOf } from '../adjust.js';
import { columnSteps } from '../column-step.js';
import { accumulate, makeNormalEquations } from '../normal-equations.js';
import type { Observations } from '../observations.js';
import { linearise, makeLinearisation } from '../projection.js';
import { keptShare, weighTracks } from '../robust-weights.js';
import { copyOfScene, type Scene } from '../scene.js';

/** The slow course of the focal length. */
export interface FocalCourse {
  /** Logarithm of the focal length over its mean, length of the piece in frames. */
  readonly logFocal: Float64Array;
  /** Largest less smallest, and the standard deviation of that difference for white noise. */
  readonly range: number;
  readonly rangeSd: number;
  /** How far the course stands from none: squared deviations of its cosines together, white noise. */
  readonly chiSquare: number;
  /** Share of the tracks, -1..1, that agree with a scene freed of the course and did not without; 0 where that was not tried. */
  readonly moreAgree: number;
}

/** Cosines of the course, the mean not counted: the fastest runs from end to end twice. */
const COSINES = 4;
/**
 * A course that stands this far from none is followed: the scene has taken up a part of it by false depths, and gives that back only
 * once the points are freed of the rest.
 */
const WORTH_FOLLOWING = 100;
/**
 * Where so few tracks agree with the scene, those that a course moved off it may be among the others: they are asked, too, at a noise
 * so many times that of the trusted ones.
 */
const FEW_AGREE = 0.55;
const LOOSE = 8;
const MOST_PASSES = 5;
/** A step below this share of the course so far counts as none. */
const STILL = 0.05;

/**
 * The course of the focal length over a piece; the scene is not changed.
 *
 * @param obs that the scene is adjusted to, with one focal length for all frames
 * @param sigmaStart expected noise per axis, normalised
 */
export function focalCourse(obs: Observations, scene: Scene, sigmaStart: number): FocalCourse {
  const first = courseStep(obs, scene, noiseOf(obs, scene, sigmaStart));
  const asked = first.chiSquare >= WORTH_FOLLOWING || keptShare(scene.trackWeights) < FEW_AGREE;
  if (!asked) return { ...first, moreAgree: 0 };
  const fit = measureFit(obs, scene, sigmaStart);
  const freed = followCourse(obs, scene, sigmaStart, fit.sigma);
  const after = measureFit(freed.observations, freed.scene, sigmaStart);
  const noise = Math.min(fit.sigma, after.sigma);
  return { ...first, ...freed.course, moreAgree: after.agreementAt(noise) - fit.agreementAt(noise) };
}

/** Follows the course step by step, all tracks asked loosely at first. */
function followCourse(
  obs: Observations,
  scene: Scene,
  sigmaStart: number,
  noise: number,
): {
  readonly observations: Observations;
  readonly scene: Scene;
  readonly course: Pick<FocalCourse, 'logFocal' | 'range'>;
} {
  const followed = copyOfScene(scene);
  let observations = obs;
  let logFocal = new Float64Array(obs.frameCount);
  let range = 0;
  for (let pass = 0; pass < MOST_PASSES; pass++) {
    const looseness = Math.max(1, LOOSE / 2 ** pass);
    const lin = makeLinearisation(obs.count);
    linearise(observations, followed, lin);
    weighTracks(
      observations,
      lin,
      looseness * Math.max(noise, LOWEST_TRACK_SIGMA_SHARE * sigmaStart),
      followed.trackWeights,
    );
    const step = courseStep(observations, followed, looseness * noise);
    logFocal = logFocal.map((value, t) => value + step.logFocal[t]);
    observations = withoutCourse(obs, logFocal);
    adjust(observations, followed, {
      sigmaStart: looseness * noise,
      iterations: 6,
      pcgIterations: 40,
      kernel: 'gemanMcClure',
      trackWeightsFrom: 2,
    });
    const before = range;
    range = Math.max(...logFocal) - Math.min(...logFocal);
    if (looseness === 1 && Math.abs(range - before) < STILL * range) break;
  }
  return { observations, scene: followed, course: { logFocal, range } };
}

/** The points as one focal length for all frames would have shown them. */
function withoutCourse(obs: Observations, logFocal: Float64Array): Observations {
  const factor = logFocal.map((value) => Math.exp(-value));
  return {
    ...obs,
    x: obs.x.map((x, o) => x * factor[obs.frame[o]]),
    y: obs.y.map((y, o) => y * factor[obs.frame[o]]),
  };
}

/** What the residuals ask the course to be, to first order, at a noise per axis. */
function courseStep(obs: Observations, scene: Scene, sigma: number): Omit<FocalCourse, 'moreAgree'> {
  const { frameCount, count, frame, track } = obs;
  const lin = makeLinearisation(count);
  const equations = makeNormalEquations(obs);
  linearise(obs, scene, lin);
  accumulate(obs, lin, scene.trackWeights, sigma, 'gemanMcClure', equations);
  const waves = Array.from({ length: COSINES + 1 }, (_, k) =>
    Float64Array.from({ length: frameCount }, (__, t) => Math.cos((Math.PI * k * (t + 0.5)) / frameCount)),
  );
  const columns = waves.map((wave) => ({
    x: lin.projectedX.map((px, o) => px * wave[frame[o]]),
    y: lin.projectedY.map((py, o) => py * wave[frame[o]]),
  }));
  const stepOf = columnSteps(obs, lin, equations, scene.trackWeights, sigma);
  const left = columns.map((column) => stepOf(column).left);

  const n = COSINES + 1;
  const matrix = new Float64Array(n * n);
  const right = new Float64Array(n);
  for (let o = 0; o < count; o++) {
    const w = (equations.weights[o] * scene.trackWeights[track[o]]) / (sigma * sigma);
    if (w === 0) continue;
    for (let r = 0; r < n; r++) {
      right[r] += w * (left[r].x[o] * lin.residualX[o] + left[r].y[o] * lin.residualY[o]);
      for (let c = 0; c < n; c++) {
        matrix[n * r + c] += w * (left[r].x[o] * left[c].x[o] + left[r].y[o] * left[c].y[o]);
      }
    }
  }
  // Nothing may be told at all: a bound of a hundredfold focal length keeps the system solvable.
  for (let r = 0; r < n; r++) matrix[(n + 1) * r] += 1e-4;
  const shares = solveSymmetric(matrix, right, n);
  const covariance = invertSymmetric(matrix, n);
  const inner = new Float64Array(COSINES * COSINES);
  for (let r = 0; r < COSINES; r++)
    for (let c = 0; c < COSINES; c++) inner[COSINES * r + c] = covariance[n * (r + 1) + c + 1];
  const told = shares.subarray(1);
  const whitened = solveSymmetric(inner, told, COSINES);
  const chiSquare = told.reduce((sum, value, k) => sum + value * whitened[k], 0);

  const logFocal = Float64Array.from({ length: frameCount }, (_, t) =>
    told.reduce((sum, share, k) => sum + share * waves[k + 1][t], 0),
  );
  const highest = logFocal.indexOf(Math.max(...logFocal));
  const lowest = logFocal.indexOf(Math.min(...logFocal));
  const gap = waves.map((wave) => wave[highest] - wave[lowest]);
  let variance = 0;
  for (let r = 1; r < n; r++) for (let c = 1; c < n; c++) variance += gap[r] * gap[c] * covariance[n * r + c];
  return {
    logFocal,
    range: logFocal[highest] - logFocal[lowest],
    rangeSd: Math.sqrt(Math.max(0, variance)),
    chiSquare,
  };
}
