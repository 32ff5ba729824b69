/**
 * Motion of the deck (pitch and roll in radians, heave in metres) from the path of the camera that stands on it, with the noise of
 * each; nothing is high-passed.
 */
import { rms } from '../../numerics/index.js';
import type { Motion } from '../../motion/index.js';
import type { Axis } from '../../run/index.js';
import { deckFromCamera, levelled, turnedSd } from './deck-kinematics.js';

/** How the camera stands on the deck. */
export interface Mounting {
  /** Lens azimuth against travel, + to the right. */
  readonly azimuthRad: number;
  /** Lens tilt against travel, + up. */
  readonly tiltRad: number;
  /** Camera ahead of the middle between the axles, along the travel, metres. */
  readonly offsetM: number;
  /** Set for a head that keeps itself level: height of the lens over the deck's wheels, metres. Null for a locked head. */
  readonly levellingHeightM: number | null;
}

/** A column and the standard deviation of its noise per frame. */
export interface NoisySeries {
  readonly values: Float64Array;
  /** With the error that tracks share, as coding makes it. */
  readonly noiseSd: number;
  /** Without it: that error may as well be movement that coding took away. */
  readonly leastNoiseSd: number;
}

/** Deck motion; heave is null where the clip shows no vertical movement in metres. */
export interface DeckSeries {
  readonly pitchRad: NoisySeries;
  readonly rollRad: NoisySeries;
  readonly heaveM: NoisySeries | null;
}

/** Whether translation of the camera is known in metres. */
export function hasMetricTranslation(motion: Motion): boolean {
  return (
    motion.mode === 'full' &&
    motion.translationUnit === 'm' &&
    motion.observable !== 'no' &&
    motion.axes.vertical.status !== 'notObservable'
  );
}

/**
 * Turns the camera's path into the deck's motion, frames `fromFrame` up to but not with `toFrame`.
 *
 * On a locked head tilt and roll give the deck's angles. A self-levelling head keeps them at zero; there the deck's angles show
 * as the way that the lens is carried along by its height: forward = -h pitch, lateral = h roll.
 *
 * @throws RangeError for a self-levelling head without translation in metres
 */
export function deckSeries(
  motion: Motion,
  mounting: Mounting,
  fromFrame: number,
  toFrame: number,
): DeckSeries {
  const cut = (axis: Axis): Float64Array => motion.path[axis].slice(fromFrame, toFrame);
  const { azimuthRad, offsetM, levellingHeightM } = mounting;
  const metric = hasMetricTranslation(motion);
  if (levellingHeightM !== null && !metric) {
    throw new RangeError('a self-levelling head needs translation in metres');
  }
  const whitePart = (axis: Axis): number => rms(motion.noiseSd[axis].slice(fromFrame, toFrame));
  const least = deckNoise(motion, mounting, whitePart);
  const whole = deckNoise(motion, mounting, (axis) => whitePart(axis) * sharedErrorFactor(motion, axis));

  let [pitch, roll] = deckFromCamera([cut('tilt'), cut('roll')], azimuthRad);
  let heave: Float64Array | null = null;
  if (metric) {
    const [vertical, axial] = levelled([cut('vertical'), cut('axial')], levelledBy(motion, mounting));
    if (levellingHeightM !== null) {
      const [lateral, forward] = deckFromCamera([cut('lateral'), axial], azimuthRad);
      pitch = forward.map((value) => -value / levellingHeightM);
      roll = lateral.map((value) => value / levellingHeightM);
    }
    heave = vertical.map((value, i) => value - offsetM * pitch[i]);
  }
  return {
    pitchRad: { values: pitch, noiseSd: whole.pitch, leastNoiseSd: least.pitch },
    rollRad: { values: roll, noiseSd: whole.roll, leastNoiseSd: least.roll },
    heaveM: heave && { values: heave, noiseSd: whole.heave, leastNoiseSd: least.heave },
  };
}

/** Floor with the shared error over floor without: how much the white part understates the noise of an axis. */
function sharedErrorFactor(motion: Motion, axis: Axis): number {
  const { floor, plainFloor } = motion.axes[axis];
  return plainFloor > 0 && Number.isFinite(floor) ? Math.max(1, floor / plainFloor) : 1;
}

/** Without a usable axial series the lens counts as level: its part in the height is then small against its noise. */
function levelledBy(motion: Motion, { tiltRad }: Mounting): number {
  return motion.axes.axial.status === 'notObservable' ? 0 : tiltRad;
}

/** Standard deviations of the deck's series, carried over from those of the camera's axes. */
function deckNoise(
  motion: Motion,
  mounting: Mounting,
  sdOf: (axis: Axis) => number,
): { pitch: number; roll: number; heave: number } {
  const { azimuthRad, offsetM, levellingHeightM } = mounting;
  const [vertical, axial] = turnedSd([sdOf('vertical'), sdOf('axial')], levelledBy(motion, mounting));
  let [pitch, roll] = turnedSd([sdOf('tilt'), sdOf('roll')], azimuthRad);
  if (levellingHeightM !== null) {
    const [lateral, forward] = turnedSd([sdOf('lateral'), axial], azimuthRad);
    pitch = forward / levellingHeightM;
    roll = lateral / levellingHeightM;
  }
  return { pitch, roll, heave: Math.hypot(vertical, offsetM * pitch) };
}
