/**
 * What a stabilised path still holds of the shake, and what the noise of the measured angles adds to the picture: from the
 * measured vibration and the corrections actually taken, radians, to analysis px.
 *
 * Own derivation. All is judged above the lower edge of the motion's own band, with the motion's own high-pass, whatever
 * smoothing the target path has: less smoothing leaves more in the path.
 */
import { fourthDifferenceGain, fourthDifferenceVibration, mean, realFft, rms } from '../../numerics/index.js';
import type { Motion } from '../../motion/index.js';
import { ANGULAR_AXES, type AngularAxis } from '../../run/index.js';
import { NOTHING_LEFT, measuredCause, noiseCause, type CauseFrames } from './residual-frames.js';
import { pictureMeanSquares, type PictureReach } from './residual-reach.js';
import type { AngularVibration } from '../types.js';
import { withoutEnds } from '../path/vibration-at.js';

/** Half width of the running mean over the spectra, bins. */
const SPECTRAL_REACH = 4;

/** What the angles leave. */
export interface AnglesLeft {
  readonly path: CauseFrames;
  readonly tracking: CauseFrames;
}

/**
 * Shake that the target path holds, and noise that the warp writes.
 *
 * The path counts with what it holds beyond the intended move of the split, which reaches a little above the band edge
 * itself: at the motion's own smoothing that is exactly nothing, and nothing for a path that stands still or is smoother.
 * Noise that the path holds is not counted: what is left of the noise in the picture is that of the corrections.
 * An axis that nobody could measure has no corrections, and counts for nothing.
 *
 * @param taken angular vibration taken out, length n
 */
export function anglesLeft(motion: Motion, taken: AngularVibration, reach: PictureReach): AnglesLeft {
  // On a clip of a few frames the band begins above what its rate can hold: nothing lies in it.
  if (motion.bandHz[0] >= motion.rateHz / 2) return { path: NOTHING_LEFT, tracking: NOTHING_LEFT };
  const { held, axes } = anglesHeld(motion, taken);
  let meanSquare = 0;
  const noise: number[] = [];
  for (const { axis, beyond, carried } of axes) {
    meanSquare += reach[axis] ** 2 * Math.max(0, beyond);
    noise.push((reach[axis] * motion.axes[axis].floor) ** 2 * carried);
  }
  const squares = pictureMeanSquares(held, reach, null);
  return { path: measuredCause(squares, Math.sqrt(meanSquare)), tracking: noiseCause(noise) };
}

/** The part of it that no lens changes. */
interface AnglesHeld {
  /** What the path holds in the band, radians, without the ends. */
  readonly held: Readonly<Record<AngularAxis, Float64Array>>;
  /** Of the axes that were measured. */
  readonly axes: readonly {
    readonly axis: AngularAxis;
    /** Mean square beyond that of the intended move, noise off. */
    readonly beyond: number;
    /** Noise of the corrections over that of the motion's own. */
    readonly carried: number;
  }[];
}

/** What of an axis does not depend on the corrections that are taken. */
interface OwnAxis {
  /** Vibration in the middle of the clip, under the window of `noiseShares`. */
  readonly spectrum: HalfSpectrum;
  /** Noise that the motion's own corrections take. */
  readonly taken: number;
  /** Mean square of the intended move in the band, noise off. */
  readonly intended: number;
}

/** The same motion is looked at with many corrections, and the same corrections on many lenses; found once, forgotten with the motion. */
interface Known {
  readonly own: Readonly<Record<AngularAxis, OwnAxis | null>>;
  readonly held: WeakMap<AngularVibration, AnglesHeld>;
}

const known = new WeakMap<Motion, Known>();

function knownOf(motion: Motion): Known {
  const before = known.get(motion);
  if (before !== undefined) return before;
  const found = {
    own: { pan: ownAxis(motion, 'pan'), tilt: ownAxis(motion, 'tilt'), roll: ownAxis(motion, 'roll') },
    held: new WeakMap<AngularVibration, AnglesHeld>(),
  };
  known.set(motion, found);
  return found;
}

/** Null for an axis that nobody could measure. */
function ownAxis(motion: Motion, axis: AngularAxis): OwnAxis | null {
  const { floor, plainFloor } = motion.axes[axis];
  if (!Number.isFinite(floor)) return null;
  const vibration = motion.vibration[axis];
  const own = inBand(vibration, motion);
  const inner = withoutEnds(vibration, motion.trimFrames);
  const spectrum = inner.length < 2 ? NO_SPECTRUM : realFft(tapered(inner));
  const whole = noiseShares(spectrum, withoutEnds(own, motion.trimFrames), motion);
  const intended = withoutEnds(
    vibration.map((v, t) => v - own[t]),
    motion.trimFrames,
  );
  return { spectrum, taken: whole.taken, intended: power(intended, plainFloor ** 2 * whole.left) };
}

function anglesHeld(motion: Motion, taken: AngularVibration): AnglesHeld {
  const ofMotion = knownOf(motion);
  const before = ofMotion.held.get(taken);
  if (before !== undefined) return before;
  const held = {} as Record<AngularAxis, Float64Array>;
  const axes: AnglesHeld['axes'][number][] = [];
  for (const axis of ANGULAR_AXES) {
    const vibration = motion.vibration[axis];
    const removed = inBand(taken[axis], motion);
    held[axis] = withoutEnds(
      vibration.map((v, t) => v - removed[t]),
      motion.trimFrames,
    );
    const own = ofMotion.own[axis];
    if (own === null) continue;
    const part = noiseShares(own.spectrum, withoutEnds(removed, motion.trimFrames), motion);
    const beyond = power(held[axis], motion.axes[axis].plainFloor ** 2 * part.left) - own.intended;
    // The floor holds for the noise of the motion's own corrections; others carry more or less of it.
    axes.push({ axis, beyond, carried: own.taken > 0 ? part.taken / own.taken : 1 });
  }
  const found = { held, axes };
  ofMotion.held.set(taken, found);
  return found;
}

function inBand(series: Readonly<Float64Array>, motion: Motion): Float64Array {
  return fourthDifferenceVibration(series, motion.rateHz, motion.bandHz[0]);
}

function power(series: Readonly<Float64Array>, noise: number): number {
  return series.length > 0 ? Math.max(0, rms(series) ** 2 - noise) : 0;
}

/** A spectrum from 0 to half the rate. */
type HalfSpectrum = ReturnType<typeof realFft>;

/** Of a series that is too short to have one. */
const NO_SPECTRUM: HalfSpectrum = { re: new Float64Array(0), im: new Float64Array(0) };

/**
 * Shares of the white noise in the band that corrections made from a series take along and leave behind, by the
 * least-squares gain of the corrections on the series at each frequency; exact for corrections that filter the series.
 *
 * @param x spectrum of the series under the window of `tapered`
 */
function noiseShares(
  x: HalfSpectrum,
  corrections: Readonly<Float64Array>,
  { rateHz, bandHz }: Motion,
): { readonly taken: number; readonly left: number } {
  const n = corrections.length;
  if (n < 2) return { taken: 1, left: 0 };
  const y = realFft(tapered(corrections));
  const bins = x.re.length;
  let whole = 0;
  let taken = 0;
  let left = 0;
  for (let k = 1; k < bins; k++) {
    let xx = 0;
    let re = 0;
    let im = 0;
    for (let j = Math.max(0, k - SPECTRAL_REACH); j <= Math.min(bins - 1, k + SPECTRAL_REACH); j++) {
      xx += x.re[j] ** 2 + x.im[j] ** 2;
      re += x.re[j] * y.re[j] + x.im[j] * y.im[j];
      im += x.re[j] * y.im[j] - x.im[j] * y.re[j];
    }
    const gainRe = xx > 0 ? re / xx : 1;
    const gainIm = xx > 0 ? im / xx : 0;
    const inside = fourthDifferenceGain((k * rateHz) / n, rateHz, bandHz[0]) ** 2;
    whole += inside;
    taken += inside * (gainRe ** 2 + gainIm ** 2);
    left += inside * ((1 - gainRe) ** 2 + gainIm ** 2);
  }
  return { taken: Math.min(1, taken / whole), left: Math.min(1, left / whole) };
}

/** Without its mean, under a Hann window: neighbouring frequencies must not leak. */
function tapered(series: Readonly<Float64Array>): Float64Array {
  const n = series.length;
  const middle = mean(series);
  return Float64Array.from(
    series,
    (value, t) => (value - middle) * 0.5 * (1 - Math.cos((2 * Math.PI * (t + 0.5)) / n)),
  );
}
