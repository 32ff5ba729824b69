/**
 * The motion of a clip as if the dolly had run the same stretch at another speed with the floor alone shaking it: the
 * same samples on another time axis, split anew at the same cut-off in Hz. Units of the motion.
 */
import { quantile } from '../../numerics/index.js';
import { AXES, sixAxes, type Axis } from '../../run/index.js';
import type { AxisEstimate, Motion } from '../../motion/index.js';
import { smoothingOf, vibrationAt, withoutEnds } from '../path/vibration-at.js';

/**
 * The motion at `speedFactor` times the speed; at 1 the motion itself.
 *
 * Path, noise and scene stay; rate and upper band edge scale with the speed, the lower band edge does not, so waves of the
 * floor move between intended move and vibration. Figures are those of the new vibration; intervals and bounds keep
 * their width in proportion. Frames of the real take lie `speedFactor` times as far apart as these samples.
 *
 * @throws RangeError unless speedFactor is positive and finite, and the lower band edge below half the new rate
 */
export function motionAtSpeed(motion: Motion, speedFactor: number): Motion {
  if (!(speedFactor > 0 && Number.isFinite(speedFactor)))
    throw new RangeError(`speedFactor must be a positive number, got ${speedFactor}`);
  if (speedFactor === 1) return motion;
  const { path, bandHz, trimFrames } = motion;
  const n = motion.timeS.length;
  const start = n > 0 ? motion.timeS[0] : 0;
  const played: Motion = {
    ...motion,
    timeS: motion.timeS.map((s) => start + (s - start) / speedFactor),
    rateHz: motion.rateHz * speedFactor,
    // As if split at the same wave of the floor, until it is split anew below.
    bandHz: [bandHz[0] * speedFactor, bandHz[1] * speedFactor],
    resampleShiftS: motion.resampleShiftS / speedFactor,
    // The ends are left out by the second, not by the sample; but never most of the clip.
    trimFrames: Math.min(Math.round(trimFrames * speedFactor), Math.max(trimFrames, Math.floor(n / 4))),
  };
  const { series, rawRms } = vibrationAt(played, smoothingOf(motion));
  const keptNoise = Math.sqrt((1 - (2 * bandHz[0]) / played.rateHz) / (1 - (2 * bandHz[0]) / motion.rateHz));
  const axes = {} as Record<Axis, AxisEstimate>;
  for (const axis of AXES) {
    const inner = withoutEnds(series[axis], played.trimFrames);
    axes[axis] = estimateOf(motion.axes[axis], inner, rawRms[axis], keptNoise);
  }
  return {
    ...played,
    bandHz: [bandHz[0], played.bandHz[1]],
    intended: sixAxes((axis) => path[axis].map((value, t) => value - series[axis][t])),
    vibration: series,
    axes,
  };
}

/**
 * The estimate of an axis whose vibration has changed: figures of the new series, intervals and bounds in proportion.
 *
 * @param inner the new vibration without its ends
 * @param rawRms of `inner`, noise included
 * @param keptNoise noise of the new band over that of the old one, RMS
 */
export function estimateOf(
  before: AxisEstimate,
  inner: Float64Array,
  rawRms: number,
  keptNoise: number,
): AxisEstimate {
  const plainFloor = before.plainFloor * keptNoise;
  const floor = before.floor * keptNoise;
  const freed = Math.sqrt(Math.max(0, rawRms ** 2 - plainFloor ** 2));
  const grown = before.rms !== null && before.rms > 0 ? freed / before.rms : keptNoise;
  return {
    status: before.status,
    rms: before.rms === null ? null : freed,
    rawRms,
    peakToPeak: inner.length > 0 ? quantile(inner, 0.995) - quantile(inner, 0.005) : 0,
    maximum: inner.reduce((most, value) => Math.max(most, Math.abs(value)), 0),
    floor,
    plainFloor,
    ci95: before.ci95 && [before.ci95[0] * grown, before.ci95[1] * grown],
    below: Math.max(before.below * grown, floor),
  };
}
