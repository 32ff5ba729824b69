/**
 * The vibration that a chosen smoothing would remove: from the measured path (radians, and the translation unit of the
 * motion) to the part above a cut-off, with the noise that it carries.
 */
import { fourthDifferenceVibration, mean, rms } from '../../numerics/index.js';
import { AXES, sixAxes, type Axis, type SixAxes } from '../../run/index.js';
import type { Motion } from '../../motion/index.js';
import type { AngularVibration } from '../types.js';

/** Periods of the cut-off that must fit into a clip for the intended move to mean anything. */
export const LEAST_PERIODS = 3;
/** Highest cut-off, as a share of the frame rate. */
export const HIGHEST_CUTOFF_SHARE = 0.4;

/** A clip that misses either by less than this share, as the rounding of its time stamps may, misses nothing. */
const ROUNDING = 1e-3;

/** Vibration above one cut-off. */
export interface VibrationBand {
  /** Cumulative series, length n; radians and the translation unit of the motion. */
  readonly series: SixAxes;
  /** RMS per axis without the ends, noise taken off; the same units. */
  readonly rms: Readonly<Record<Axis, number>>;
  /** RMS per axis as measured, noise included, without the ends. */
  readonly rawRms: Readonly<Record<Axis, number>>;
}

/** The smoothing at which the motion was split, seconds: one over its lower band edge. */
export function smoothingOf(motion: Motion): number {
  return 1 / motion.bandHz[0];
}

/** Whether a smoothing can be judged on this clip: three of its periods fit, and its cut-off lies below the frame rate's reach. */
export function smoothingFits(motion: Motion, smoothingS: number): boolean {
  const { timeS, rateHz } = motion;
  return lastsFor(smoothingS, timeS.length / rateHz) && resolves(smoothingS, rateHz);
}

/** Whether three periods of a smoothing fit into a clip. */
export function lastsFor(smoothingS: number, durationS: number): boolean {
  return smoothingS * LEAST_PERIODS <= durationS * (1 + ROUNDING);
}

/** Whether the cut-off of a smoothing lies within the reach of a frame rate. */
export function resolves(smoothingS: number, rateHz: number): boolean {
  return 1 / smoothingS <= HIGHEST_CUTOFF_SHARE * rateHz * (1 + ROUNDING);
}

/**
 * The vibration above 1 / smoothingS.
 *
 * At the motion's own cut-off the motion's series and figures are given as they are. At another one the path is smoothed
 * anew (see `fourthDifferenceVibration`), and the white noise of each axis that falls into the new band is taken off.
 *
 * @throws RangeError when the cut-off lies outside what the frame rate allows
 */
export function vibrationAt(motion: Motion, smoothingS: number): VibrationBand {
  const cutoffHz = 1 / smoothingS;
  const own = isOwn(motion, cutoffHz);
  const series = own ? motion.vibration : sixAxes((axis) => aboveCutoff(motion, axis, cutoffHz));
  const deNoised = {} as Record<Axis, number>;
  const rawRms = {} as Record<Axis, number>;
  for (const axis of AXES) {
    const estimate = motion.axes[axis];
    rawRms[axis] = own ? estimate.rawRms : rmsWithoutEnds(series[axis], motion.trimFrames);
    const deNoise = (): number => {
      const noise = whiteVariance(motion, axis) * keptShare(cutoffHz, motion.rateHz);
      return Math.sqrt(Math.max(0, rawRms[axis] ** 2 - noise));
    };
    deNoised[axis] = own && estimate.rms !== null ? estimate.rms : deNoise();
  }
  return { series, rms: deNoised, rawRms };
}

/** Smoothings that are remembered for one motion: those of a trade-off, and as many of a slider. */
const MOST_REMEMBERED = 24;

/** The same motion is smoothed for many lenses and deliveries: found once, the oldest forgotten first, all with the motion. */
const known = new WeakMap<Motion, Map<number, AngularVibration>>();

/** The angles alone of `vibrationAt`: the very same object when it is asked for again. @throws RangeError as `vibrationAt` */
export function angularVibrationAt(motion: Motion, smoothingS: number): AngularVibration {
  const ofMotion = known.get(motion) ?? new Map<number, AngularVibration>();
  known.set(motion, ofMotion);
  const before = ofMotion.get(smoothingS);
  if (before !== undefined) return before;
  const cutoffHz = 1 / smoothingS;
  const column = (axis: 'pan' | 'tilt' | 'roll'): Float64Array =>
    isOwn(motion, cutoffHz) ? motion.vibration[axis] : aboveCutoff(motion, axis, cutoffHz);
  const found = { pan: column('pan'), tilt: column('tilt'), roll: column('roll') };
  if (ofMotion.size >= MOST_REMEMBERED)
    for (const oldest of [...ofMotion.keys()].slice(0, 1)) ofMotion.delete(oldest);
  ofMotion.set(smoothingS, found);
  return found;
}

/** A series without the samples at its ends that no statistic uses; the whole series when nothing else would be left. */
export function withoutEnds(series: Readonly<Float64Array>, trimFrames: number): Float64Array {
  const n = series.length;
  return n > 2 * trimFrames ? series.slice(trimFrames, n - trimFrames) : Float64Array.from(series);
}

/** Mean variance of the white noise on one axis of the path, in its unit squared; without the ends and frames that know none. */
export function whiteVariance(motion: Motion, axis: Axis): number {
  const known = withoutEnds(motion.noiseSd[axis], motion.trimFrames).filter(Number.isFinite);
  return known.length > 0 ? mean(known.map((sd) => sd * sd)) : 0;
}

/** True at the cut-off at which the motion was split. */
function isOwn(motion: Motion, cutoffHz: number): boolean {
  return Math.abs(cutoffHz / motion.bandHz[0] - 1) < 1e-9;
}

function rmsWithoutEnds(series: Readonly<Float64Array>, trimFrames: number): number {
  return series.length > 0 ? rms(withoutEnds(series, trimFrames)) : 0;
}

/** Share of white noise that a high-pass at the cut-off keeps. */
function keptShare(cutoffHz: number, rateHz: number): number {
  return 1 - cutoffHz / (rateHz / 2);
}

function aboveCutoff(motion: Motion, axis: Axis, cutoffHz: number): Float64Array {
  return fourthDifferenceVibration(motion.path[axis], motion.rateHz, cutoffHz);
}
