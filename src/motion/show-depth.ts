/**
 * What to change so that the next pass tells translation from rotation, in numbers where they can be computed.
 *
 * The deviation of lateral motion is about sigma / (f sqrt(N) s), with s the standard deviation of the inverse depths
 * of the points (own derivation; within 5 % from 50 mm up, pessimistic for wide lenses). So a floor that is k times too high
 * asks for k times the spread: half of the points at inverse depth r + 2 k s, the others where they are, have it.
 */
import { fieldOfViewDeg, type Camera } from '../optics/index.js';
import { showDepthTexts } from '../texts/index.js';
import type { SceneDepth, SplitChange, UnsplitCause } from './types.js';

/** Spread of the inverse depths, as a share of their mean, at which pan and lateral are easily told apart (correlation 0.98). */
const EASY_SPREAD = 0.2;
/** Floor to aim at: half of the one above which translation is refused, metres. */
const FLOOR_AIM_M = 0.1e-3;
/** Parallax over noise to aim at: twice what makes translation sure. */
const PARALLAX_AIM = 20;
/** Narrower views than this (a 35 mm lens on full frame) gain by a wider lens when the scene is flat. */
const NARROW_VIEW_DEG = 54;
/** Parallax below this is hardly more than noise: no factor can be computed from it. */
const PARALLAX_SEEN = 3;

/** What is known of a clip that could not be split. */
export interface UnsplitClip {
  readonly cause: UnsplitCause;
  readonly camera: Camera;
  /** Null for a camera that did not travel. */
  readonly depth: SceneDepth | null;
  readonly metric: boolean;
  /** Larger of the noise floors of lateral and vertical motion, unit of the depths; null when neither was measured. */
  readonly floor: number | null;
  readonly parallaxP: number;
}

/** The changes that help, the most useful first; never empty. */
export function showDepth(clip: UnsplitClip): SplitChange[] {
  if (clip.cause === 'shortTracks')
    return [
      {
        code: 'slower-pan',
        text: showDepthTexts.slowerPan,
      },
    ];
  if (clip.cause === 'noTravel') return [rollFurther(clip.parallaxP), anyDepth()];
  const changes = [nearObject(clip)];
  if (fieldOfViewDeg(clip.camera.widthPx, clip.camera.focalPx) < NARROW_VIEW_DEG)
    changes.push({
      code: 'wider-lens',
      text: showDepthTexts.shorterLens,
    });
  if (clip.parallaxP < PARALLAX_AIM) changes.push(rollFurther(clip.parallaxP));
  return changes;
}

function nearObject({ depth, metric, floor }: UnsplitClip): SplitChange {
  if (!depth) return anyDepth();
  const short = metric && floor !== null ? floor / FLOOR_AIM_M : 0;
  const spread = Math.max(EASY_SPREAD * depth.meanInverse, short * depth.sdInverse);
  const near = 1 / (depth.meanInverse + 2 * spread);
  const where = metric
    ? showDepthTexts.withinMetres(near.toFixed(1), depth.median.toFixed(1))
    : showDepthTexts.withinPercent(Math.round((100 * near) / depth.median));
  return {
    code: 'near-object',
    text: showDepthTexts.nearObject(where),
  };
}

function anyDepth(): SplitChange {
  return {
    code: 'near-object',
    text: showDepthTexts.nearAndFar,
  };
}

function rollFurther(parallaxP: number): SplitChange {
  const factor = Math.ceil(PARALLAX_AIM / Math.max(parallaxP, PARALLAX_SEEN));
  return {
    code: 'roll-further',
    text: parallaxP < PARALLAX_SEEN ? showDepthTexts.roll : showDepthTexts.rollFarther(factor),
  };
}
