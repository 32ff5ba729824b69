/** Whether lamps on the mains flicker in the light of a clip, and where that may pass for motion, told from the shake of the picture. */
import type { Motion } from '../../motion/index.js';
import { shutterTimeS } from '../../optics/index.js';
import type { Sighting } from '../causes/types.js';
import { picturePxPerUnit } from '../picture-shift.js';
import type { SpectrumContext } from '../types.js';
import { falseMotionHz, type PictureShake } from './false-motion.js';
import { findFlicker, type Flicker } from './find-flicker.js';

/** Flicker of a clip. */
export interface ClipFlicker {
  /** Null without levels of the frames, and where no light stands out of what shake could do to it. */
  readonly flicker: Flicker | null;
  /** Frequencies as seen at which a peak of the motion may be nothing but that light, Hz. */
  readonly lampsHz: readonly number[];
}

/** Looks for flicker of lamps in a clip. */
export function flickerOfClip(
  motion: Motion,
  { rig, levels }: SpectrumContext,
  sightings: readonly Sighting[],
): ClipFlicker {
  if (levels === null) return { flicker: null, lampsHz: [] };
  const { widthPx, heightPx } = motion.camera;
  const shakes = sightings.map(({ axis, peak }): PictureShake => ({
    freqHz: peak.freqHz,
    shiftShare: (Math.SQRT2 * peak.rms * picturePxPerUnit(motion, axis)) / heightPx,
  }));
  const flicker = findFlicker(levels, {
    exposureS: rig.shutterAngleDeg === undefined ? null : shutterTimeS(rig.shutterAngleDeg, motion.rateHz),
    mainsHz: rig.mainsHz ?? null,
    readoutS: rig.readoutMs === undefined ? motion.readout.readoutS : rig.readoutMs / 1000,
    shakes,
  });
  return { flicker, lampsHz: falseMotionHz(flicker, shakes, widthPx / heightPx) };
}
