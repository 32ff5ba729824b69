/**
 * From observations to a scene, whatever is known of the lens: with the distortion that was given, or with one that the
 * piece itself asks for.
 */
import type { Camera } from '../optics/index.js';
import { foundK1, knownDistortion } from './distortion/distortion-outcome.js';
import { possibleK1, unbend } from './distortion/unbend.js';
import { pieceSigns } from './doubt/piece-signs.js';
import type { Observations } from './observations.js';
import { SPLIT_DEFAULTS, type ResolvedSplit } from './options.js';
import { startOrder } from './parallax.js';
import {
  clipParallax,
  sigmaStartOf,
  strongestParallax,
  type ClipScale,
  type Piece,
  type PieceLens,
  type Reconstruction,
  type SolvedPiece,
} from './piece.js';
import { solvePiece, solveTurning } from './solve-piece.js';
import { rankByAgreement, startStretch } from './start.js';

/** So many values of k1 are tried where nothing holds. */
const TRIED_K1 = 4;
/** Parallax that makes a good start, px at a picture width of 960. */
const ENOUGH_PARALLAX_PX = 4;

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
  const solve = (lens: PieceLens): SolvedPiece => solvePiece({ seen, camera, clip, settings, lens });
  const first = straightened(solve({ known, startK1: known ? foundK1(known) : 0 }));
  if (known || first.holds) return withSigns(first, clip, settings);
  const startK1 = likelyK1(seen, camera, clip, settings);
  if (startK1 === 0) return withSigns(first, clip, settings);
  const second = straightened(solve({ known, startK1 }));
  return withSigns(second.holds ? second : first, clip, settings);

  /** Bent lines pass for parallax: once k1 is found, what is left of it decides again whether the camera travelled. */
  function straightened(found: SolvedPiece): SolvedPiece {
    if (known || found.mode === 'rotationOnly' || found.distortion.source !== 'found') return found;
    const k1 = foundK1(found.distortion);
    const { parallaxP } = strongestParallax(unbend(seen, k1), { camera, clip, settings });
    if (parallaxP < SPLIT_DEFAULTS.parallaxSure) return solve({ known: found.distortion, startK1: k1 });
    return { ...found, parallaxP };
  }
}

/** The possible k1 with which most tracks agree with one scene of the start of the clip; 0 when that is best. */
function likelyK1(seen: Observations, camera: Camera, clip: ClipScale, settings: ResolvedSplit): number {
  const [lowest] = possibleK1(camera);
  const tried = Array.from({ length: TRIED_K1 + 1 }, (_, k) => (k * lowest) / TRIED_K1);
  const pair = startOrder(clipParallax(seen, clip), ENOUGH_PARALLAX_PX * clip.unitPerPx, 1);
  if (pair.length === 0) return 0;
  return rankByAgreement(
    tried.map((k1) => ({
      value: k1,
      fit: startStretch(unbend(seen, k1), pair[0], sigmaStartOf(clip), settings.seed).fit,
    })),
  )[0];
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
  const piece: Piece = { seen, camera, clip, settings, lens: { known, startK1 } };
  return withSigns(solveTurning(piece, unbend(seen, startK1), parallaxP), clip, settings);
}

/** The piece with its signs of doubt in place of the observations that they are looked for in. */
function withSigns(solved: SolvedPiece, clip: ClipScale, { cutoffHz }: ResolvedSplit): Reconstruction {
  const { mode, scene, covariances, parallaxP, lostFrames, keptShare, holds } = solved;
  const { readout, distortion, unreliable } = solved;
  return {
    ...{ mode, scene, covariances, parallaxP, lostFrames, keptShare, holds },
    ...{ readout, distortion, unreliable },
    signs: holds ? pieceSigns(solved, clip, sigmaStartOf(clip), cutoffHz) : [],
  };
}
