/**
 * Whether a motion log differs from the pictures as it would with a wrong focal length: by how many times that is too long,
 * from the gains (log over picture) of the turning axes.
 *
 * A focal length taken g times too long makes each shift of the picture a turn 1 / g as large about the two axes across
 * the lens, and leaves roll alone (own derivation, small angles). What parallax and distortion make of it differs a little
 * from axis to axis.
 */
import type { AngularAxis } from '../../run/index.js';

/** What is looked at of one axis. */
interface ComparedAxis {
  readonly correlation: number;
  readonly gain: number | null;
  readonly gainCi95: readonly [number, number] | null;
  readonly agrees: boolean;
}

/** Log and picture must show the same motion for their sizes to mean anything. */
const SAME_MOTION = 0.9;
/** Smaller differences need intervals that are clear of 1 and share a value. */
const CLEAR = Math.log(1.04);
/** Pan and tilt are alike within this share. */
const ALIKE = Math.log(1.1);
/** Roll may be off by this part of what pan and tilt are. */
const ROLL_SHARE = 0.5;
/** Intervals of 95 % stretched to about three deviations. */
const WIDENED = 1.5;

/**
 * By how many times the focal length in use is too long (below 1: too short); null when that is not what the gains show.
 *
 * @param axes null for an axis that was not compared
 */
export function focalFactor(axes: Readonly<Record<AngularAxis, ComparedAxis | null>>): number | null {
  const { pan, tilt, roll } = axes;
  if (!pan || !tilt || (pan.agrees && tilt.agrees)) return null;
  if (pan.gain === null || tilt.gain === null || !(pan.gain > 0 && tilt.gain > 0)) return null;
  if (Math.min(pan.correlation, tilt.correlation) < SAME_MOTION) return null;
  const [a, b] = [Math.log(pan.gain), Math.log(tilt.gain)];
  if (a * b <= 0) return null;
  const both = (a + b) / 2;
  if (roll?.gain && (roll.gain < 0 || Math.abs(Math.log(roll.gain)) > ROLL_SHARE * Math.abs(both)))
    return null;
  const large = Math.min(Math.abs(a), Math.abs(b)) > CLEAR;
  const alike = Math.abs(a - b) < ALIKE || overlap(reach(pan, WIDENED), reach(tilt, WIDENED));
  const clear = [pan, tilt].every((axis) => {
    const [low, high] = reach(axis, 1);
    return low > 1 || high < 1;
  });
  const told = large ? alike : clear && overlap(reach(pan, 1), reach(tilt, 1));
  return told ? Math.exp(both) : null;
}

/** The interval of a gain, stretched about the gain; a gain without one counts as exact. */
function reach({ gain, gainCi95 }: ComparedAxis, stretch: number): readonly [number, number] {
  const middle = gain ?? NaN;
  const [low, high] = gainCi95 ?? [middle, middle];
  return [middle - stretch * (middle - low), middle + stretch * (high - middle)];
}

function overlap(a: readonly [number, number], b: readonly [number, number]): boolean {
  return Math.max(a[0], b[0]) <= Math.min(a[1], b[1]);
}
