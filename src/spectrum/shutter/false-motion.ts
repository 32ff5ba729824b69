/** How much motion flickering light can make tracks show where there is none, in shares of the picture. */
import type { Flicker } from './find-flicker.js';

/** A line in the motion: frequency as seen, and amplitude of the picture's shift as a share of its height. */
export interface PictureShake {
  readonly freqHz: number;
  readonly shiftShare: number;
}

/**
 * Largest false shift as a share of the picture's width, for each part that the light changes by. Measured on textures of several
 * contrasts, lamps at 100 Hz, 24 frames/s, bands and none, tracks followed from frame to frame without templates: 0.0002 to 0.0013
 * (at 5 % depth 0.01 to 0.04 px of 640); the worst on a faint texture. Tracks on templates, which follow gain and offset, show less
 * than a tenth of it.
 */
export const FALSE_SHIFT_SHARE = 0.002;

/** Frequencies nearer than this many of their standard deviations are one; and never nearer than this, Hz. */
const SAME = { sd: 3, leastHz: 0.05 } as const;

/**
 * Where flicker may pass for motion: the place where frames show it, unless something there shakes the picture more than such light
 * can make tracks show. Then the lamp flickers and the picture shakes too.
 *
 * @param flicker null when there is none
 * @param shakes lines in the motion
 * @param aspect width over height of the picture
 * @returns frequencies as seen, Hz: one or none
 */
export function falseMotionHz(
  flicker: Flicker | null,
  shakes: readonly PictureShake[],
  aspect: number,
): number[] {
  if (flicker === null) return [];
  const { seenHz, seenSdHz, depthPercent } = flicker;
  const reach = (FALSE_SHIFT_SHARE * aspect * depthPercent) / 100;
  const near = Math.max(SAME.leastHz, SAME.sd * seenSdHz);
  const shaken = shakes.some(
    ({ freqHz, shiftShare }) => Math.abs(freqHz - seenHz) < near && shiftShare > reach,
  );
  return shaken ? [] : [seenHz];
}
