/**
 * What translational vibration leaves in the picture, analysis px: a move d = (lateral, vertical, axial) shifts a point of
 * inverse depth rho at (x, y) by f rho (-lateral + x axial, vertical + y axial), and a warp that turns the picture takes
 * none of it. Its mean over the depths shifts the whole picture; the part that goes with their spread is parallax.
 */
import type { Motion } from '../../motion/index.js';
import { TRANSLATIONAL_AXES, type TranslationalAxis } from '../../run/index.js';
import { boundedCause, measuredCause, type CauseFrames } from './residual-frames.js';
import { pictureMeanSquares, pxPerMove, type PictureReach } from './residual-reach.js';
import { withoutEnds, type VibrationBand } from '../path/vibration-at.js';

/** Translation left, and its part that differs between near and far. */
export interface TranslationLeft {
  readonly atMost: boolean;
  readonly all: CauseFrames;
  readonly parallax: CauseFrames;
}

/**
 * Picture motion by translational vibration.
 *
 * - Told from rotation: estimates; upper bounds when all three axes lie below the noise.
 * - Not told, but the depths are known: upper bounds, as if all that looks like pan and tilt were translation.
 * - Otherwise null.
 *
 * The picture motion of rows that are read at other times than mid-frame is in it: over the frames a row at another time
 * sees the same RMS.
 *
 * @param band vibration in the motion's own band
 */
export function translationLeft(
  motion: Motion,
  band: VibrationBand,
  reach: PictureReach,
): TranslationLeft | null {
  const { depth, axes } = motion;
  if (depth === null) return null;
  const observable =
    motion.observable !== 'no' && TRANSLATIONAL_AXES.every((axis) => axes[axis].status !== 'notObservable');
  const perMove = pxPerMove(reach, depth);
  const parallaxShare = depth.sdInverse / Math.hypot(depth.meanInverse, depth.sdInverse);
  const bounds = observable ? boundsBelowNoise(motion) : boundsOfUnsplit(motion);
  if (bounds !== null) {
    const rms = perMove * travelOf(bounds, reach);
    if (!Number.isFinite(rms)) return null;
    return { atMost: true, all: boundedCause(rms), parallax: boundedCause(rms * parallaxShare) };
  }
  if (!observable) return null;
  const { lateral, vertical, axial } = band.series;
  const squares = withoutEnds(
    pictureMeanSquares({ lateral, vertical, axial }, reach, depth),
    motion.trimFrames,
  );
  const rms = perMove * travelOf(band.rms, reach);
  return {
    atMost: false,
    all: measuredCause(squares, rms),
    parallax: measuredCause(squares, rms * parallaxShare),
  };
}

type Travel = Readonly<Record<TranslationalAxis, number>>;

/** An axial move scales the picture: its pixels move by their distance from the middle. */
function travelOf({ lateral, vertical, axial }: Travel, { axialArm }: PictureReach): number {
  return Math.hypot(lateral, vertical, axialArm * axial);
}

function boundsBelowNoise({ axes }: Motion): Travel | null {
  if (!TRANSLATIONAL_AXES.every((axis) => axes[axis].status === 'below')) return null;
  return { lateral: axes.lateral.below, vertical: axes.vertical.below, axial: axes.axial.below };
}

function boundsOfUnsplit({ axes, separation }: Motion): Travel | null {
  if (separation.unsplit === null) return null;
  const { lateral, vertical } = separation.unsplit.ifAllTranslation;
  return { lateral, vertical, axial: axes.axial.below };
}
