/** Whether lamps on the mains flicker in the light of a clip, told from the shake that moves bright things through the picture. */
import type { Motion } from '../../motion/index.js';
import { shutterTimeS } from '../../optics/index.js';
import type { Sighting } from '../causes/types.js';
import { picturePxPerUnit } from '../picture-shift.js';
import type { SpectrumContext } from '../types.js';
import { findFlicker, type Flicker } from './find-flicker.js';

/** Looks for flicker; null without levels of the frames, and where none stands out of what shake could do to the light. */
export function flickerOf(
  motion: Motion,
  { rig, levels }: SpectrumContext,
  sightings: readonly Sighting[],
): Flicker | null {
  if (levels === null) return null;
  const { heightPx } = motion.camera;
  return findFlicker(levels, {
    exposureS: rig.shutterAngleDeg === undefined ? null : shutterTimeS(rig.shutterAngleDeg, motion.rateHz),
    mainsHz: rig.mainsHz ?? null,
    readoutS: rig.readoutMs === undefined ? motion.readout.readoutS : rig.readoutMs / 1000,
    shakes: sightings.map(({ axis, peak }) => ({
      freqHz: peak.freqHz,
      shiftShare: (Math.SQRT2 * peak.rms * picturePxPerUnit(motion, axis)) / heightPx,
    })),
  });
}
