/**
 * The path of the camera frame by frame, with its noise: what is left of a solved clip, or of a stretch of one, once its
 * observations have done their work. It holds a few numbers a frame and none a track.
 */
import type { Camera } from '../optics/index.js';
import type { Warning } from '../run/index.js';
import type { TrackTable } from '../tracking/index.js';
import type { DoubtSign } from './doubt/piece-signs.js';
import { evenTime } from './even-time.js';
import { sceneDepth } from './metric-scale.js';
import { keptObservations, prepareObservations } from './observations.js';
import type { ResolvedSplit } from './options.js';
import { pictureScale } from './picture-scale.js';
import { reconstructClip, segmentWarnings } from './segments/reconstruct-clip.js';
import type { DistortionReport, ReadoutReport, SceneDepth, UnreliableAxis } from './types.js';

/** Below these a clip tells nothing: frames and tracks. */
export const FEWEST_FRAMES = 12;
const FEWEST_TRACKS = 15;
/** Highest cut-off over the frame rate: above it nothing but a sliver below half the rate would be left to call vibration. */
const HIGHEST_CUTOFF = 0.4;

/** The path of the camera, in a unit of length of its own. */
export interface ClipPath {
  /** Stamp of every frame, seconds. */
  readonly timeS: Float64Array;
  readonly mode: 'full' | 'rotationOnly';
  /** World-to-camera rotations, 9 per frame, row-major, and camera centres, 3 per frame. */
  readonly rotations: Float64Array;
  readonly centres: Float64Array;
  /** Covariances of the poses, 36 per frame each; see FrameCovariances. */
  readonly white: Float64Array;
  readonly coherent: Float64Array;
  /** Live and kept tracks in each frame. */
  readonly tracks: Int32Array;
  readonly inliers: Int32Array;
  /** Robust noise of the tracks per axis, over the focal length. */
  readonly sigma: number;
  /** Null when rotation-only. */
  readonly depth: SceneDepth | null;
  /** Relative change of picture scale in each frame and its variance; null unless rotation-only. */
  readonly scaleChange: { readonly scale: Float64Array; readonly variance: Float64Array } | null;
  readonly parallaxP: number;
  readonly keptShare: number;
  readonly readout: ReadoutReport;
  readonly distortion: DistortionReport;
  readonly unreliable: readonly UnreliableAxis[];
  /** What speaks for doubt of the figures. */
  readonly signs: readonly DoubtSign[];
  readonly warnings: readonly Warning[];
}

/** A path and what became of each observation of the table; or why there is none. */
export type SolvedPath =
  | { readonly path: ClipPath; readonly kept: Uint8Array }
  | { readonly path: null; readonly why: 'tooLittle' | 'rateTooLow' | 'noOnePath' };

/** Solves the poses of all frames of a table together. */
export function solvePath(table: TrackTable, camera: Camera, settings: ResolvedSplit): SolvedPath {
  const prepared = prepareObservations(table, camera);
  const { observations: obs } = prepared;
  if (table.frameCount < FEWEST_FRAMES || obs.trackCount < FEWEST_TRACKS)
    return { path: null, why: 'tooLittle' };
  const { timeS } = table;
  const { rateHz } = evenTime(timeS);
  if (settings.cutoffHz > HIGHEST_CUTOFF * rateHz) return { path: null, why: 'rateTooLow' };
  const unitPerPx = camera.widthPx / 960 / camera.focalPx;
  const found = reconstructClip(obs, camera, { rateHz, timeS, unitPerPx }, settings);
  if (!found.holds) return { path: null, why: 'noOnePath' };
  const { mode, scene, covariances, parallaxP, keptShare, readout, distortion, unreliable, signs } = found;
  const { white, coherent, inliers, sigma, weights } = covariances;
  const tracks = Int32Array.from(inliers, (_, t) => obs.frameStart[t + 1] - obs.frameStart[t]);
  return {
    path: {
      ...{ timeS, mode, rotations: scene.rotations, centres: scene.centres },
      ...{ white, coherent, tracks, inliers, sigma },
      depth: mode === 'full' ? sceneDepth(covariances) : null,
      scaleChange: mode === 'rotationOnly' ? pictureScale(obs, covariances) : null,
      ...{ parallaxP, keptShare, readout, distortion, unreliable, signs },
      warnings: segmentWarnings(found, timeS),
    },
    kept: keptObservations(table, prepared, weights),
  };
}
