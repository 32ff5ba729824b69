/**
 * From observations to a scene: is there parallax at all, a start that holds, its extension to the whole clip and the
 * final adjustment; or the rotation-only scene when the camera did not travel. Either is brought to the middle row of each
 * frame in the end.
 */
import type { Camera } from '../optics/index.js';
import { LOWEST_TRACK_SIGMA_SHARE } from './adjust.js';
import type { FrameCovariances } from './covariance.js';
import { extendToClip } from './extend.js';
import type { Observations } from './observations.js';
import { SPLIT_DEFAULTS, type ResolvedSplit } from './options.js';
import { parallaxPairs, startOrder, type ParallaxPair } from './parallax.js';
import { settleReadout, type ReadoutOutcome } from './readout-outcome.js';
import { refineScene } from './refine.js';
import { keptShare } from './robust-weights.js';
import { rotationOnlyScene } from './rotation-only.js';
import type { Scene } from './scene.js';
import { rankByAgreement, startStretch, type StartedStretch } from './start.js';
import type { ReadoutReport, UnreliableAxis } from './types.js';

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
  readonly unreliable: readonly UnreliableAxis[];
}

/** Facts of the clip that the method scales with. */
export interface ClipScale {
  readonly rateHz: number;
  /** Stamp of every frame, seconds. */
  readonly timeS: Float64Array;
  /** Normalised units per pixel at a picture width of 960. */
  readonly unitPerPx: number;
}

/** Starts to compare, and parallax that makes a good one. */
const ATTEMPTS = 3;
const ENOUGH_PARALLAX_PX = 4;
/** Noise of the whole clip over that of its best stretch from which another start is tried. */
const SUSPICIOUS = 1.4;
/** Full model against rotation only, when parallax is weak: residual must fall below this share. */
const WORTH_IT = 0.95;
/** Noise of a start over the worst that is believed, up to which a rolling shutter may be to blame. */
const SHEARED_ALLOWANCE = 2.5;

/** Reconstructs poses and depths. `obs` must hold enough frames and tracks to try (see splitMotion). */
export function reconstruct(
  obs: Observations,
  camera: Camera,
  clip: ClipScale,
  settings: ResolvedSplit,
): Reconstruction {
  const pairs = clipParallax(obs, clip);
  const strongest = pairs.reduce((most, pair) => Math.max(most, pair.scale), 0);
  const parallaxP = strongest / parallaxUnit(camera, clip, settings);
  settings.onProgress(5, 100);

  if (parallaxP < SPLIT_DEFAULTS.parallaxNone) return turningCamera(obs, camera, clip, settings, parallaxP);
  const full = travellingCamera(obs, camera, pairs, parallaxP, clip, settings);
  if (full && parallaxP >= SPLIT_DEFAULTS.parallaxSure) return full;
  // Weak parallax, or no scene that holds: translation has to earn its place.
  const plain = turningCamera(obs, camera, clip, settings, parallaxP);
  return full && full.covariances.sigma < WORTH_IT * plain.covariances.sigma ? full : plain;
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

/** The full model from the best start that leads to a scene that holds; null when none does. */
function travellingCamera(
  obs: Observations,
  camera: Camera,
  pairs: readonly ParallaxPair[],
  parallaxP: number,
  clip: ClipScale,
  settings: ResolvedSplit,
): Reconstruction | null {
  const { rateHz, unitPerPx } = clip;
  const sigmaStart = SPLIT_DEFAULTS.sigmaStartPx * unitPerPx;
  const starts = soundStarts(
    startOrder(pairs, ENOUGH_PARALLAX_PX * unitPerPx, ATTEMPTS).map((pair) =>
      startStretch(obs, pair, sigmaStart, settings.seed),
    ),
    unitPerPx,
    settings.readoutS !== 0,
  );
  settings.onProgress(25, 100);
  const ranked = rankByAgreement(starts.map((start) => ({ value: start, fit: start.fit })));
  const noise = Math.min(...starts.map((start) => start.fit.sigma));

  let best: Reconstruction | null = null;
  for (const start of ranked) {
    const { scene, lostFrames } = extendToClip(obs, start, {
      sigmaStart,
      hopFrames: Math.max(15, Math.round(rateHz / 2)),
      windowFrames: Math.max(45, Math.round(1.5 * rateHz)),
      onFrames: (done) => settings.onProgress(25 + Math.round((50 * done) / obs.frameCount), 100),
    });
    const size = { sigmaStart, rateHz, cutoffHz: settings.cutoffHz };
    refineScene(obs, scene, camera, size, () => settings.onProgress(80, 100));
    const outcome = settled(obs, scene, lostFrames, camera, clip, settings, false);
    const kept = keptShare(scene.trackWeights);
    if (!fits(outcome.covariances.sigma, kept, unitPerPx)) continue;
    if (!best || outcome.covariances.sigma < best.covariances.sigma) {
      best = { mode: 'full', scene, ...outcome, parallaxP, lostFrames, keptShare: kept, holds: true };
    }
    // The whole clip much noisier than its stretches is a sign of a wrong start: try the next.
    if (best.covariances.sigma < SUSPICIOUS * Math.max(noise, LOWEST_TRACK_SIGMA_SHARE * sigmaStart)) break;
  }
  return best;
}

/** The rotation-only model. */
export function turningCamera(
  obs: Observations,
  camera: Camera,
  clip: ClipScale,
  settings: ResolvedSplit,
  parallaxP: number,
): Reconstruction {
  const { unitPerPx } = clip;
  const { scene, lostFrames } = rotationOnlyScene(obs, SPLIT_DEFAULTS.sigmaStartPx * unitPerPx);
  const outcome = settled(obs, scene, lostFrames, camera, clip, settings, true);
  const kept = keptShare(scene.trackWeights);
  const holds = fits(outcome.covariances.sigma, kept, unitPerPx);
  return { mode: 'rotationOnly', scene, ...outcome, parallaxP, lostFrames, keptShare: kept, holds };
}

/** Brings an adjusted scene to the middle rows and measures how sure it is. */
function settled(
  measured: Observations,
  scene: Scene,
  lostFrames: readonly number[],
  camera: Camera,
  { timeS, rateHz, unitPerPx }: ClipScale,
  { readoutS, cutoffHz }: ResolvedSplit,
  rotationOnly: boolean,
): ReadoutOutcome {
  const sigmaStart = SPLIT_DEFAULTS.sigmaStartPx * unitPerPx;
  const clip = { measured, timeS, lostFrames, sigmaStart };
  return settleReadout(clip, scene, camera, { readoutS, rateHz, cutoffHz, rotationOnly });
}

/** Starts that fit; where none does and the picture may be sheared by its readout, those that do not fit much worse. */
function soundStarts(
  starts: readonly StartedStretch[],
  unitPerPx: number,
  mayBeSheared: boolean,
): StartedStretch[] {
  const sound = (allowance: number): StartedStretch[] =>
    starts.filter((start) => fits(start.fit.sigma / allowance, start.keptShare, unitPerPx));
  const strict = sound(1);
  return strict.length > 0 || !mayBeSheared ? strict : sound(SHEARED_ALLOWANCE);
}

function fits(sigma: number, kept: number, unitPerPx: number): boolean {
  return sigma < SPLIT_DEFAULTS.worstSigmaPx * unitPerPx && kept >= SPLIT_DEFAULTS.leastKeptShare;
}
