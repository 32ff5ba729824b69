/**
 * The first stretch of the clip: poses and depths out of nothing, by trying several kinds of start and keeping the
 * one that explains the tracks best. Unit of length: the median depth of the stretch.
 *
 * Two kinds are needed: moves guessed from a pair of frames rescue arcs and push-ins, "everything equally far"
 * rescues flat scenes (own trials).
 */
import { median, quantile } from '../numerics/index.js';
import { rotationFromVector } from '../optics/index.js';
import { adjust, measureFit, type Fit } from './adjust.js';
import { fitPairMove, fitPairRotation } from './frame-pair.js';
import { sharedTracks, windowOf, type Observations, type SharedTracks } from './observations.js';
import type { ParallaxPair } from './parallax.js';
import { resect } from './resection.js';
import { keptShare } from './robust-weights.js';
import { moveCentre, rotationVector, turn } from './rotation-steps.js';
import { blankScene, placeTrack, scaleScene, type Scene } from './scene.js';
import { triangulate, twoViewMoves, type TwoViewMove } from './two-view.js';

/** Conjugate-gradient steps in local adjustments: depths there need not be perfect yet. */
const PCG_ITERATIONS = 20;
/** Nor need they be still: the whole clip is adjusted later. */
const STILL_SIGMAS = 0.1;
/** Tracks must be seen this often inside the stretch. */
const SEEN_IN_STRETCH = 4;
/** Tracks outside an explanation that are worth an explanation of their own: as a share of all, and at least. */
const STRANGER_SHARE = 0.3;
const FEWEST_STRANGERS = 15;
/** Parallax of a track over the stretch, in noise per axis, from which it counts. */
const PARALLAX_SIGMAS = 5;

/** A reconstructed stretch of the clip: frames first..last, tracks numbered by trackOfWhole. */
export interface StartedStretch {
  readonly first: number;
  readonly last: number;
  readonly trackOfWhole: Int32Array;
  readonly scene: Scene;
  readonly fit: Fit;
  /**
   * Share of its tracks that it keeps; 0 when most of those show no parallax. A person who walks past a camera on a stand
   * looks like a near thing that stands still in front of a moving camera, with the room at infinity.
   */
  readonly keptShare: number;
}

interface Candidate {
  readonly value: Scene;
  readonly fit: Fit;
}

/** Reconstructs the frames of a pair and those between. */
export function startStretch(
  whole: Observations,
  pair: ParallaxPair,
  sigmaStart: number,
  seed: number,
): StartedStretch {
  const { first, last } = pair;
  const { observations: obs, trackOfWhole } = windowOf(whole, first, last + 1, SEEN_IN_STRETCH);
  const shared = sharedTracks(obs, 0, last - first);
  const measured = (scene: Scene): Candidate => ({
    value: scene,
    fit: measureFit(obs, scene, sigmaStart),
  });
  const fromPairs = (tracks: SharedTracks, rotation: Float64Array): Candidate[] =>
    twoViewMoves(tracks, rotation, sigmaStart, 2, seed).map((move) => {
      const scene = pairStart(obs, tracks, move, sigmaStart);
      adjustLocally(obs, scene, sigmaStart, 6, 2);
      return measured(scene);
    });
  const equal = equalDepthStart(obs, sigmaStart);
  adjustLocally(obs, equal, sigmaStart, 6, 2);
  const candidates = [measured(equal), ...fromPairs(shared, pair.rotation)];

  // Who stands outside the best explanation so far may be the room, and the best explanation a person walking by.
  const best = rankByAgreement(candidates)[0];
  const strangers = pickTracks(shared, (i) => best.trackWeights[i] < 0.5);
  if (
    strangers.track.length > STRANGER_SHARE * shared.track.length &&
    strangers.track.length >= FEWEST_STRANGERS
  ) {
    candidates.push(...fromPairs(strangers, fitPairRotation(strangers).rotation));
  }
  const scene = rankByAgreement(candidates)[0];
  scaleScene(scene, trustedMedian(scene));
  const fit = measureFit(obs, scene, sigmaStart);
  const kept = mostShowParallax(scene, fit.sigma) ? keptShare(scene.trackWeights) : 0;
  return { first, last, trackOfWhole, scene, fit, keptShare: kept };
}

/**
 * Candidates in order of how many tracks agree with them, at one noise for all, that of the best fit. By its own noise
 * a scene that took a walking person for the room looks as sound as the right one.
 */
export function rankByAgreement<T>(candidates: readonly { readonly value: T; readonly fit: Fit }[]): T[] {
  const noise = Math.min(...candidates.map(({ fit }) => fit.sigma));
  return candidates
    .map(({ value, fit }) => ({ value, agreement: fit.agreementAt(noise) }))
    .sort((a, b) => b.agreement - a.agreement)
    .map(({ value }) => value);
}

/** The part of a pair's tracks that is wanted. */
function pickTracks(pair: SharedTracks, wanted: (track: number) => boolean): SharedTracks {
  const kept = Array.from(pair.track.keys()).filter((k) => wanted(pair.track[k]));
  const column = (from: Float64Array): Float64Array => Float64Array.from(kept, (k) => from[k]);
  return {
    track: Int32Array.from(kept, (k) => pair.track[k]),
    x1: column(pair.x1),
    y1: column(pair.y1),
    x2: column(pair.x2),
    y2: column(pair.y2),
  };
}

/** Start from a guessed move between the first and the last frame. */
function pairStart(obs: Observations, shared: SharedTracks, guess: TwoViewMove, sigma: number): Scene {
  const scene = blankScene(obs.frameCount, obs.trackCount);
  const known = new Uint8Array(obs.trackCount);
  let depths = triangulate(shared, guess);
  let towards = 1;
  if (median(depths) < 0) {
    // The direction is known up to its sign; the scene lies in front.
    towards = -1;
    depths = depths.map((rho) => -rho);
  }
  const base = Math.max(median(depths), 1e-9);
  shared.track.forEach((i, k) => {
    placeTrack(scene, i, 0, shared.x1[k], shared.y1[k], Math.max(0.05, Math.min(8, depths[k] / base)));
    known[i] = 1;
  });

  // Each frame starts from its share of the whole move: keeps pan and lateral from trading places.
  const [wx, wy, wz] = rotationVector(guess.rotation);
  const r = guess.rotation;
  const [tx, ty, tz] = guess.direction.map((value) => -value * towards * base);
  for (let t = 0; t < obs.frameCount; t++) {
    const part = t / Math.max(obs.frameCount - 1, 1);
    scene.rotations.set(rotationFromVector(wx * part, wy * part, wz * part), 9 * t);
    for (let j = 0; j < 3; j++) {
      scene.centres[3 * t + j] = part * (r[j] * tx + r[3 + j] * ty + r[6 + j] * tz);
    }
    resect(obs, scene, t, (i) => known[i] === 1, sigma, 4);
  }
  placeRest(obs, scene, known);
  adjust(obs, scene, {
    sigmaStart: sigma,
    iterations: 8,
    stillSigmas: STILL_SIGMAS,
    pcgIterations: 0,
    kernel: 'huber',
    trackWeightsFrom: Infinity,
    tracksOnly: true,
  });
  adjustLocally(obs, scene, sigma, 5, 1);
  return scene;
}

/** Start from "all tracks are equally far and the camera neither pans nor tilts". */
function equalDepthStart(obs: Observations, sigma: number): Scene {
  const scene = blankScene(obs.frameCount, obs.trackCount);
  for (let t = 1; t < obs.frameCount; t++) {
    scene.rotations.copyWithin(9 * t, 9 * (t - 1), 9 * t);
    scene.centres.copyWithin(3 * t, 3 * (t - 1), 3 * t);
    const { rollW, move } = fitPairMove(sharedTracks(obs, t - 1, t));
    turn(scene.rotations, t, 0, 0, rollW);
    moveCentre(scene.rotations, scene.centres, t, move[0], move[1], move[2]);
  }
  placeRest(obs, scene, new Uint8Array(obs.trackCount));
  adjust(obs, scene, {
    sigmaStart: sigma,
    iterations: 8,
    stillSigmas: STILL_SIGMAS,
    pcgIterations: PCG_ITERATIONS,
    kernel: 'huber',
    trackWeightsFrom: Infinity,
  });
  return scene;
}

function adjustLocally(
  obs: Observations,
  scene: Scene,
  sigmaStart: number,
  iterations: number,
  trackWeightsFrom: number,
): void {
  adjust(obs, scene, {
    sigmaStart,
    iterations,
    stillSigmas: STILL_SIGMAS,
    pcgIterations: PCG_ITERATIONS,
    kernel: 'gemanMcClure',
    trackWeightsFrom,
  });
}

/** Tracks that nothing is known of start at the median depth, charted from the first frame that sees them. */
function placeRest(obs: Observations, scene: Scene, known: Uint8Array): void {
  for (let i = 0; i < obs.trackCount; i++) {
    const o = obs.trackStart[i];
    if (!known[i]) placeTrack(scene, i, obs.frame[o], obs.x[o], obs.y[o], 1);
  }
}

/** Whether more than half of the trusted tracks moved against the far distance by more than noise. */
function mostShowParallax({ centres, points, trackWeights }: Scene, sigma: number): boolean {
  const last = centres.length - 3;
  const base = Math.hypot(...[0, 1, 2].map((j) => centres[last + j] - centres[j]));
  let trusted = 0;
  let moved = 0;
  trackWeights.forEach((weight, i) => {
    if (weight <= 0.5) return;
    trusted++;
    if (points[3 * i + 2] * base > PARALLAX_SIGMAS * sigma) moved++;
  });
  return moved > trusted / 2;
}

/** Median inverse depth of the trusted tracks, never below a thousandth of the 90th percentile. */
function trustedMedian(scene: Scene): number {
  const depths = Array.from(scene.trackWeights.keys())
    .filter((i) => scene.trackWeights[i] > 0)
    .map((i) => scene.points[3 * i + 2]);
  if (depths.length === 0) return 1;
  return Math.max(median(depths), 1e-3 * Math.abs(quantile(depths, 0.9)), 1e-9);
}
