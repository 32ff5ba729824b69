/**
 * From observations to a scene: is there parallax at all, a start that holds, its extension to the whole clip and the
 * final adjustment; or the rotation-only scene when the camera did not travel. Either is brought to the middle row of each
 * frame in the end.
 */
import type { Camera } from '../optics/index.js';
import { LOWEST_TRACK_SIGMA_SHARE } from './adjust.js';
import type { FrameCovariances } from './covariance.js';
import {
  cameraWith,
  foundK1,
  knownDistortion,
  recheckDistortion,
  settleDistortion,
  type DistortionOutcome,
  type DistortionSettings,
} from './distortion-outcome.js';
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
import type { DistortionReport, ReadoutReport, UnreliableAxis } from './types.js';
import { possibleK1, unbend } from './unbend.js';

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
/** So many values of k1 are tried where nothing holds. */
const TRIED_K1 = 4;
/** Noise of a start over the worst that is believed, up to which a rolling shutter may be to blame. */
const SHEARED_ALLOWANCE = 2.5;

/** The lens while a piece is solved. */
interface Lens {
  /** Null when it is to be looked for. */
  readonly known: DistortionReport | null;
  /** k1 that the first scene is made with. */
  readonly startK1: number;
}

/**
 * Reconstructs poses and depths.
 *
 * Where the lens is not known and nothing holds, the k1 that the start of the clip likes best is tried.
 *
 * @param seen points as seen, freed of a distortion that was given; enough frames and tracks to try (see splitMotion)
 */
export function reconstruct(
  seen: Observations,
  camera: Camera,
  clip: ClipScale,
  settings: ResolvedSplit,
): Reconstruction {
  const known = settings.distortion ?? knownDistortion(camera, settings.distortionGiven);
  const solve = (lens: Lens): Reconstruction => reconstructWith(seen, camera, clip, settings, lens);
  const first = straightened(solve({ known, startK1: known ? foundK1(known) : 0 }));
  if (known || first.holds) return first;
  const startK1 = likelyK1(seen, camera, clip, settings);
  if (startK1 === 0) return first;
  const second = straightened(solve({ known, startK1 }));
  return second.holds ? second : first;

  /** Bent lines pass for parallax: once k1 is found, what is left of it decides again whether the camera travelled. */
  function straightened(found: Reconstruction): Reconstruction {
    if (known || found.mode === 'rotationOnly' || found.distortion.source !== 'found') return found;
    const k1 = foundK1(found.distortion);
    const { parallaxP } = strongestParallax(unbend(seen, k1), camera, clip, settings);
    if (parallaxP < SPLIT_DEFAULTS.parallaxSure) return solve({ known: found.distortion, startK1: k1 });
    return { ...found, parallaxP };
  }
}

function reconstructWith(
  seen: Observations,
  camera: Camera,
  clip: ClipScale,
  settings: ResolvedSplit,
  lens: Lens,
): Reconstruction {
  const obs = unbend(seen, lens.startK1);
  const { pairs, parallaxP } = strongestParallax(obs, camera, clip, settings);
  settings.onProgress(5, 100);

  const plainCamera = (): Reconstruction => turning(seen, obs, camera, clip, settings, parallaxP, lens);
  if (parallaxP < SPLIT_DEFAULTS.parallaxNone) return plainCamera();
  const full = travellingCamera(seen, obs, camera, pairs, parallaxP, clip, settings, lens);
  if (full && parallaxP >= SPLIT_DEFAULTS.parallaxSure) return full;
  // Weak parallax, or no scene that holds: translation has to earn its place.
  const plain = plainCamera();
  return full && full.covariances.sigma < WORTH_IT * plain.covariances.sigma ? full : plain;
}

/** Pairs of frames with the parallax between them, and the strongest of it over the noise of a start. */
function strongestParallax(
  obs: Observations,
  camera: Camera,
  clip: ClipScale,
  settings: ResolvedSplit,
): { readonly pairs: ParallaxPair[]; readonly parallaxP: number } {
  const pairs = clipParallax(obs, clip);
  const strongest = pairs.reduce((most, pair) => Math.max(most, pair.scale), 0);
  return { pairs, parallaxP: strongest / parallaxUnit(camera, clip, settings) };
}

/** The possible k1 with which most tracks agree with one scene of the start of the clip; 0 when that is best. */
function likelyK1(seen: Observations, camera: Camera, clip: ClipScale, settings: ResolvedSplit): number {
  const sigmaStart = SPLIT_DEFAULTS.sigmaStartPx * clip.unitPerPx;
  const [lowest] = possibleK1(camera);
  const tried = Array.from({ length: TRIED_K1 + 1 }, (_, k) => (k * lowest) / TRIED_K1);
  const pair = startOrder(clipParallax(seen, clip), ENOUGH_PARALLAX_PX * clip.unitPerPx, 1);
  if (pair.length === 0) return 0;
  return rankByAgreement(
    tried.map((k1) => ({
      value: k1,
      fit: startStretch(unbend(seen, k1), pair[0], sigmaStart, settings.seed).fit,
    })),
  )[0];
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
  seen: Observations,
  obs: Observations,
  camera: Camera,
  pairs: readonly ParallaxPair[],
  parallaxP: number,
  clip: ClipScale,
  settings: ResolvedSplit,
  lens: Lens,
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
    const straight = settleDistortion(seen, scene, lensSettings(camera, clip, settings, lens));
    const size = { sigmaStart, rateHz, cutoffHz: settings.cutoffHz };
    refineScene(straight.observations, scene, camera, size, () => settings.onProgress(80, 100));
    const outcome = settled(seen, straight, scene, lostFrames, camera, clip, settings, lens, false);
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

/** The rotation-only model, with the lens as far as it is known or shows. */
export function turningCamera(
  seen: Observations,
  camera: Camera,
  clip: ClipScale,
  settings: ResolvedSplit,
  parallaxP: number,
): Reconstruction {
  const known = settings.distortion ?? knownDistortion(camera, settings.distortionGiven);
  const startK1 = known ? foundK1(known) : 0;
  return turning(seen, unbend(seen, startK1), camera, clip, settings, parallaxP, { known, startK1 });
}

function turning(
  seen: Observations,
  obs: Observations,
  camera: Camera,
  clip: ClipScale,
  settings: ResolvedSplit,
  parallaxP: number,
  lens: Lens,
): Reconstruction {
  const { unitPerPx } = clip;
  const { scene, lostFrames } = rotationOnlyScene(obs, SPLIT_DEFAULTS.sigmaStartPx * unitPerPx);
  const straight = settleDistortion(seen, scene, lensSettings(camera, clip, settings, lens));
  const outcome = settled(seen, straight, scene, lostFrames, camera, clip, settings, lens, true);
  const kept = keptShare(scene.trackWeights);
  const holds = fits(outcome.covariances.sigma, kept, unitPerPx);
  return { mode: 'rotationOnly', scene, ...outcome, parallaxP, lostFrames, keptShare: kept, holds };
}

function lensSettings(
  camera: Camera,
  { rateHz, unitPerPx }: ClipScale,
  { cutoffHz }: ResolvedSplit,
  { known, startK1 }: Lens,
): DistortionSettings {
  const sigmaStart = SPLIT_DEFAULTS.sigmaStartPx * unitPerPx;
  return { camera, distortion: known, startK1, sigmaStart, rateHz, cutoffHz };
}

/**
 * Brings an adjusted scene to the middle rows and measures how sure it is; looks at the lens once more where the rows
 * blurred the first look.
 */
function settled(
  seen: Observations,
  { observations, distortion }: DistortionOutcome,
  scene: Scene,
  lostFrames: readonly number[],
  camera: Camera,
  clip: ClipScale,
  settings: ResolvedSplit,
  lens: Lens,
  rotationOnly: boolean,
): ReadoutOutcome & DistortionOutcome {
  const { cutoffHz } = settings;
  const { timeS, rateHz, unitPerPx } = clip;
  const sigmaStart = SPLIT_DEFAULTS.sigmaStartPx * unitPerPx;
  const settle = (measured: Observations, bent: DistortionReport, readoutS: number | null): ReadoutOutcome =>
    settleReadout({ measured, timeS, lostFrames, sigmaStart }, scene, cameraWith(camera, bent), {
      readoutS,
      rateHz,
      cutoffHz,
      rotationOnly,
    });
  const outcome = settle(observations, distortion, settings.readoutS);
  if (lens.known || outcome.readout.state !== 'corrected') return { ...outcome, distortion };
  const context = lensSettings(camera, clip, settings, lens);
  const again = recheckDistortion(outcome.observations, scene, distortion, context);
  if (!again) return { ...outcome, distortion };
  const straight = unbend(seen, foundK1(again));
  return { ...settle(straight, again, settings.readoutS), distortion: again };
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
