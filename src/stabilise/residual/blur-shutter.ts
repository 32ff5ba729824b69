/** Which shutter would tame the pulsing of motion blur: degrees, from the motion of a clip and a limit in px of the delivery. */
import { shutterTimeS, type Camera } from '../../optics/index.js';
import type { Motion } from '../../motion/index.js';
import { blurPulse } from './blur-pulse.js';
import { pictureReach } from './residual-reach.js';
import { arcMinutesPerPx, type ViewedPicture } from './viewing.js';

/** Pulsing that is let pass anywhere, px of the delivery: as much as its own pixels blur a picture. Own choice. */
export const BLUR_PULSE_LIMIT_PX = 1;

/** Pulsing that is let pass from where the picture is watched: the finest detail that is seen. Own choice. */
const BLUR_PULSE_LIMIT_ARC_MIN = 1;

/**
 * Pulsing of the smear that is let pass, px of the delivery: a minute of arc from where it is watched, and one px where the viewer is
 * closer than that.
 *
 * @example blurPulseLimitPx({ widthPx: 1920, heightPx: 1080, viewingDistanceHeights: 3.1 }) // 1
 */
export function blurPulseLimitPx(delivery: ViewedPicture): number {
  return Math.max(BLUR_PULSE_LIMIT_PX, BLUR_PULSE_LIMIT_ARC_MIN / arcMinutesPerPx(delivery));
}

/** What `shutterForBlur` works from. */
export interface ShutterInput {
  readonly motion: Motion;
  /** Camera of the analysis frames. */
  readonly camera: Camera;
  readonly delivery: ViewedPicture;
  /** px of the delivery per px of the camera, zoom included. */
  readonly pxScale: number;
  /** That of the clip, 0..360. */
  readonly shutterAngleDeg: number;
}

/** A shutter angle, whole degrees. */
export interface ShutterAdvice {
  readonly shutterAngleDeg: number;
  /** Pulsing at that angle, px of the delivery. */
  readonly pulsePx: number;
}

/**
 * The largest shutter angle, in whole degrees and below the present one, at which the smear of the stabilised picture
 * pulses within the limit (99.5 minus 0.5 percentile).
 *
 * @returns null when it already does, or without frames; 1 degree when no angle is short enough
 * @throws RangeError when the limit is not positive or the present angle is not in 0..360
 * @example shutterForBlur({ motion, camera, delivery, pxScale, shutterAngleDeg: 180 })?.shutterAngleDeg
 */
export function shutterForBlur(
  input: ShutterInput,
  limitPx: number = blurPulseLimitPx(input.delivery),
): ShutterAdvice | null {
  if (!(limitPx > 0)) throw new RangeError(`limitPx must be positive, got ${limitPx}`);
  const { motion, camera, delivery, pxScale } = input;
  const reach = pictureReach(camera, delivery, pxScale);
  const pulsePx = (angleDeg: number): number =>
    (blurPulse(motion, reach, shutterTimeS(angleDeg, motion.rateHz))?.range ?? 0) * pxScale;
  if (pulsePx(input.shutterAngleDeg) <= limitPx) return null;
  // Always: within the limit at `within` (0 is sharp), beyond it at `beyond`.
  let within = 0;
  let beyond = Math.ceil(input.shutterAngleDeg);
  while (beyond - within > 1) {
    const middle = Math.floor((within + beyond) / 2);
    if (pulsePx(middle) <= limitPx) within = middle;
    else beyond = middle;
  }
  const shutterAngleDeg = Math.max(1, within);
  return { shutterAngleDeg, pulsePx: pulsePx(shutterAngleDeg) };
}
