/**
 * How the motion blur of a clip pulses once its picture stands still: the length of the smear of each frame from the path
 * of the camera (radians, translation unit) and the exposure in seconds; analysis px.
 *
 * The warp takes out where a frame lies, not how it is smeared: |f (theta(t + T/2) - theta(t - T/2))|, intended move and
 * vibration together, for the blur of a pan hides that of a shake. Moves smear as well, by f rho d, and together with the
 * turns; they count where translation can be told from rotation.
 */
import { mean, median, quantile, rms } from '../../numerics/index.js';
import type { Motion } from '../../motion/index.js';
import { ANGULAR_AXES, AXES, type Axis } from '../../run/index.js';
import { changeNoiseGain, changeWithinFrame } from '../turn/change-within-frame.js';
import { pictureMeanSquares, type PictureReach } from './residual-reach.js';
import { whiteVariance, withoutEnds } from '../path/vibration-at.js';

/** How the smear varies over the frames. */
export interface BlurPulse {
  /** 99.5 minus 0.5 percentile. */
  readonly range: number;
  /** RMS and 95th percentile of the distance from the median smear. */
  readonly rms: number;
  readonly p95: number;
}

/**
 * The pulsing of the smear over the frames without the ends; null without frames.
 *
 * @param exposureS 0 and above, up to one frame
 */
export function blurPulse(motion: Motion, reach: PictureReach, exposureS: number): BlurPulse | null {
  const lengths = smearLengths(motion, reach, exposureS);
  if (lengths.length === 0) return null;
  const usual = median(lengths);
  const off = lengths.map((length) => Math.abs(length - usual));
  return {
    range: quantile(lengths, 0.995) - quantile(lengths, 0.005),
    rms: rms(off),
    p95: quantile(off, 0.95),
  };
}

/** RMS length of the smear over the picture, of each frame without the ends. */
function smearLengths(motion: Motion, reach: PictureReach, exposureS: number): Float64Array {
  const told = motion.observable !== 'no' && motion.depth !== null;
  const change: Partial<Record<Axis, Float64Array>> = {};
  for (const axis of told ? AXES : ANGULAR_AXES) {
    if (motion.axes[axis].status === 'notObservable') continue;
    change[axis] = withoutEnds(changeInExposure(motion, axis, exposureS), motion.trimFrames);
  }
  return pictureMeanSquares(change, reach, motion.depth).map(Math.sqrt);
}

/** Change of the path during the exposure; that of the vibration scaled down to what is not noise. */
function changeInExposure(motion: Motion, axis: Axis, exposureS: number): Float64Array {
  const { rateHz, trimFrames } = motion;
  const vibration = motion.vibration[axis];
  const intended = motion.path[axis].map((value, t) => value - vibration[t]);
  const shake = changeWithinFrame(vibration, rateHz, -exposureS / 2, exposureS / 2);
  const move = changeWithinFrame(intended, rateHz, -exposureS / 2, exposureS / 2);
  const inner = withoutEnds(shake, trimFrames);
  const measured = inner.length > 0 ? mean(inner.map((v) => v * v)) : 0;
  const noise = whiteVariance(motion, axis) * changeNoiseGain(rateHz, exposureS);
  const trust = measured > 0 ? Math.sqrt(Math.max(0, 1 - noise / measured)) : 0;
  return move.map((value, t) => value + trust * shake[t]);
}
