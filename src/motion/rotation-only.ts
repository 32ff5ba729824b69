/**
 * The clip as a camera that only turns: three numbers per frame, a bearing per track, no depths. What is measured when
 * the camera did not travel, and the rival that the full model has to beat when it hardly did.
 */
import { adjust, type AdjustReport } from './adjust.js';
import { fitPairRotation } from './frame-pair.js';
import { sharedTracks, type Observations } from './observations.js';
import { FEWEST_TRACKS } from './resection.js';
import { blankScene, placeTrack, type Scene } from './scene.js';
import { multiply3 } from '../optics/index.js';

/** A step below this share of the noise is the last: far below the floor of a pose. */
const STILL_SIGMAS = 0.005;

/** A scene without depth and how it fits. */
export interface RotationOnlyScene extends AdjustReport {
  readonly scene: Scene;
  readonly lostFrames: readonly number[];
}

/**
 * Chains the rotations between neighbouring frames, then adjusts all frames and bearings together. Centres and
 * inverse depths stay zero throughout (see adjust.ts).
 */
export function rotationOnlyScene(obs: Observations, sigmaStart: number): RotationOnlyScene {
  const scene = blankScene(obs.frameCount, obs.trackCount);
  const lostFrames: number[] = [];
  for (let t = 1; t < obs.frameCount; t++) {
    const shared = sharedTracks(obs, t - 1, t);
    const before = scene.rotations.subarray(9 * (t - 1), 9 * t);
    if (shared.track.length < FEWEST_TRACKS) {
      lostFrames.push(t);
      scene.rotations.set(before, 9 * t);
      continue;
    }
    scene.rotations.set(multiply3(fitPairRotation(shared).rotation, before), 9 * t);
  }
  for (let i = 0; i < obs.trackCount; i++) {
    const o = obs.trackStart[i];
    placeTrack(scene, i, obs.frame[o], obs.x[o], obs.y[o], 0);
  }
  const report = adjust(obs, scene, {
    sigmaStart,
    iterations: 8,
    stillSigmas: STILL_SIGMAS,
    pcgIterations: 25,
    kernel: 'gemanMcClure',
    trackWeightsFrom: 3,
  });
  return { scene, lostFrames, ...report };
}
