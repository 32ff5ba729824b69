/** What a piece of a clip is solved from, and the parallax in it. */
import type { Camera } from '../optics/index.js';
import type { FrameCovariances } from './covariance.js';
import type { DoubtSign } from './doubt/piece-signs.js';
import type { ReadoutAgainst } from './doubt/readout-against.js';
import type { Observations } from './observations.js';
import { SPLIT_DEFAULTS, type ResolvedSplit } from './options.js';
import { parallaxPairs, type ParallaxPair } from './parallax.js';
import type { Scene } from './scene.js';
import type { DistortionReport, ReadoutReport, UnreliableAxis } from './types.js';

/** Facts of the clip that the method scales with. */
export interface ClipScale {
  readonly rateHz: number;
  /** Stamp of every frame, seconds. */
  readonly timeS: Float64Array;
  /** Normalised units per pixel at a picture width of 960. */
  readonly unitPerPx: number;
}

/** A scene that explains the clip, and how well. */
export interface Reconstruction {
  readonly mode: 'full' | 'rotationOnly';
  readonly scene: Scene;
  readonly covariances: FrameCovariances;
  /** Parallax over start noise of the strongest pair of frames. */
  readonly parallaxP: number;
  readonly lostFrames: readonly number[];
  readonly keptShare: number;
  /** False when the fit is too poor to be believed. */
  readonly holds: boolean;
  /** What was done about a sensor that is read row by row, and the axes that this leaves in doubt. */
  readonly readout: ReadoutReport;
  /** What was done about a lens that bends lines. */
  readonly distortion: DistortionReport;
  readonly unreliable: readonly UnreliableAxis[];
  /** What speaks for doubt of the figures. */
  readonly signs: readonly DoubtSign[];
}

/** A piece as it was solved, with what its signs of doubt are looked for in. */
export interface SolvedPiece extends Omit<Reconstruction, 'signs'> {
  /** The observations that the scene is adjusted to: freed of what the lens bends, at the time of the middle row. */
  readonly observations: Observations;
  /** What the rows say against the readout that was given; null when nothing. */
  readonly readoutAgainst: ReadoutAgainst | null;
}

/** The lens while a piece is solved. */
export interface PieceLens {
  /** Null when it is to be looked for. */
  readonly known: DistortionReport | null;
  /** k1 that the first scene is made with. */
  readonly startK1: number;
}

/** A piece of a clip, or a short clip as a whole. */
export interface Piece {
  /** Points as seen, freed of a distortion that was given. */
  readonly seen: Observations;
  readonly camera: Camera;
  readonly clip: ClipScale;
  readonly settings: ResolvedSplit;
  readonly lens: PieceLens;
}

/** Noise per axis that is expected before the clip has told, normalised. */
export function sigmaStartOf({ unitPerPx }: ClipScale): number {
  return SPLIT_DEFAULTS.sigmaStartPx * unitPerPx;
}

/** Noise that parallax is counted in, normalised: what tracks usually have, or what those of a noisy clip do have. */
export function parallaxUnit(
  camera: Camera,
  { unitPerPx }: ClipScale,
  { trackNoisePx }: ResolvedSplit,
): number {
  return Math.max(SPLIT_DEFAULTS.sigmaStartPx * unitPerPx, trackNoisePx / camera.focalPx);
}

/** Pairs of frames through the clip with the parallax between them, half a second apart. */
export function clipParallax(obs: Observations, { rateHz, unitPerPx }: ClipScale): ParallaxPair[] {
  return parallaxPairs(obs, {
    strideFrames: Math.max(4, Math.round(rateHz / 2)),
    shortestFrames: Math.min(24, obs.frameCount - 1),
    longestFrames: Math.max(60, Math.round(2 * rateHz)),
    plenty: 20 * unitPerPx,
  });
}

/** Pairs of frames with the parallax between them, and the strongest of it over the noise of a start. */
export function strongestParallax(
  obs: Observations,
  { camera, clip, settings }: Pick<Piece, 'camera' | 'clip' | 'settings'>,
): { readonly pairs: ParallaxPair[]; readonly parallaxP: number } {
  const pairs = clipParallax(obs, clip);
  const strongest = pairs.reduce((most, pair) => Math.max(most, pair.scale), 0);
  return { pairs, parallaxP: strongest / parallaxUnit(camera, clip, settings) };
}
