/**
 * One piece of a clip with a lens that is taken as known: is there parallax at all, a start that holds, its extension to the
 * whole piece and the final adjustment; or the rotation-only scene when the camera did not travel.
 */
import { LOWEST_TRACK_SIGMA_SHARE } from './adjust.js';
import { settleDistortion } from './distortion/distortion-outcome.js';
import { unbend } from './distortion/unbend.js';
import { extendToClip } from './extend.js';
import type { Observations } from './observations.js';
import { SPLIT_DEFAULTS } from './options.js';
import { startOrder, type ParallaxPair } from './parallax.js';
import { sigmaStartOf, strongestParallax, type Piece, type SolvedPiece } from './piece.js';
import { refineScene } from './refine.js';
import { keptShare } from './robust-weights.js';
import { rotationOnlyScene } from './rotation-only.js';
import { lensSettings, settleScene } from './settle-scene.js';
import { rankByAgreement, startStretch, type StartedStretch } from './start.js';

/** Starts to compare, and parallax that makes a good one. */
const ATTEMPTS = 3;
const ENOUGH_PARALLAX_PX = 4;
/** Noise of the whole clip over that of its best stretch from which another start is tried. */
const SUSPICIOUS = 1.4;
/** Full model against rotation only, when parallax is weak: residual must fall below this share. */
const WORTH_IT = 0.95;
/** Noise of a start over the worst that is believed, up to which a rolling shutter may be to blame. */
const SHEARED_ALLOWANCE = 2.5;

/** Solves a piece with the lens as it is taken: parallax decides whether the camera travelled. */
export function solvePiece(piece: Piece): SolvedPiece {
  const obs = unbend(piece.seen, piece.lens.startK1);
  const { pairs, parallaxP } = strongestParallax(obs, piece);
  piece.settings.onProgress(5, 100);

  if (parallaxP < SPLIT_DEFAULTS.parallaxNone) return solveTurning(piece, obs, parallaxP);
  const full = solveTravelling(piece, obs, pairs, parallaxP);
  if (full && parallaxP >= SPLIT_DEFAULTS.parallaxSure) return full;
  // Weak parallax, or no scene that holds: translation has to earn its place.
  const plain = solveTurning(piece, obs, parallaxP);
  return full && full.covariances.sigma < WORTH_IT * plain.covariances.sigma ? full : plain;
}

/** The full model from the best start that leads to a scene that holds; null when none does. */
function solveTravelling(
  piece: Piece,
  obs: Observations,
  pairs: readonly ParallaxPair[],
  parallaxP: number,
): SolvedPiece | null {
  const { seen, camera, clip, settings } = piece;
  const { rateHz, unitPerPx } = clip;
  const sigmaStart = sigmaStartOf(clip);
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

  let best: SolvedPiece | null = null;
  for (const start of ranked) {
    const { scene, lostFrames } = extendToClip(obs, start, {
      sigmaStart,
      hopFrames: Math.max(15, Math.round(rateHz / 2)),
      windowFrames: Math.max(45, Math.round(1.5 * rateHz)),
      onFrames: (done) => settings.onProgress(25 + Math.round((50 * done) / obs.frameCount), 100),
    });
    const straight = settleDistortion(seen, scene, lensSettings(piece));
    const size = { sigmaStart, rateHz, cutoffHz: settings.cutoffHz };
    refineScene(straight.observations, scene, camera, size, () => settings.onProgress(80, 100));
    const outcome = settleScene(piece, scene, straight, lostFrames, false);
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

/** The model of a camera that only turns. */
export function solveTurning(piece: Piece, obs: Observations, parallaxP: number): SolvedPiece {
  const { scene, lostFrames } = rotationOnlyScene(obs, sigmaStartOf(piece.clip));
  const straight = settleDistortion(piece.seen, scene, lensSettings(piece));
  const outcome = settleScene(piece, scene, straight, lostFrames, true);
  const kept = keptShare(scene.trackWeights);
  const holds = fits(outcome.covariances.sigma, kept, piece.clip.unitPerPx);
  return { mode: 'rotationOnly', scene, ...outcome, parallaxP, lostFrames, keptShare: kept, holds };
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
