/**
 * Vibration of the deck (pitch and roll in radians, heave in metres) from the vibration of the camera that stands on it, with the
 * noise of each.
 */
import { rms } from '../numerics/index.js';
import type { Motion } from '../motion/index.js';
import type { Axis } from '../run/index.js';
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

/** A column and the standard deviation of its white noise per frame. */
export interface NoisySeries {
  readonly values: Float64Array;
  readonly noiseSd: number;
}

/** Deck vibration; heave is null where the clip shows no vertical movement in metres. */
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
 * Turns the camera's vibration into the deck's, frames `fromFrame` up to but not with `toFrame`.
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
  const cut = (axis: Axis): Float64Array => motion.vibration[axis].slice(fromFrame, toFrame);
  const noise = (axis: Axis): number => rms(motion.noiseSd[axis].slice(fromFrame, toFrame));
  const { azimuthRad, offsetM, levellingHeightM } = mounting;
  const metric = hasMetricTranslation(motion);
  if (levellingHeightM !== null && !metric) {
    throw new RangeError('a self-levelling head needs translation in metres');
  }

  let [pitch, roll] = deckFromCamera([cut('tilt'), cut('roll')], azimuthRad);
  let [pitchSd, rollSd] = turnedSd([noise('tilt'), noise('roll')], azimuthRad);
  if (!metric) {
    return {
      pitchRad: { values: pitch, noiseSd: pitchSd },
      rollRad: { values: roll, noiseSd: rollSd },
      heaveM: null,
    };
  }

  // Without a usable axial series the lens counts as level: its part in the height is then small against its noise.
  const tiltRad = motion.axes.axial.status === 'notObservable' ? 0 : mounting.tiltRad;
  const [vertical, axial] = levelled([cut('vertical'), cut('axial')], tiltRad);
  const [verticalSd, axialSd] = turnedSd([noise('vertical'), noise('axial')], tiltRad);
  if (levellingHeightM !== null) {
    const [lateral, forward] = deckFromCamera([cut('lateral'), axial], azimuthRad);
    const [lateralSd, forwardSd] = turnedSd([noise('lateral'), axialSd], azimuthRad);
    pitch = forward.map((value) => -value / levellingHeightM);
    roll = lateral.map((value) => value / levellingHeightM);
    pitchSd = forwardSd / levellingHeightM;
    rollSd = lateralSd / levellingHeightM;
  }
  return {
    pitchRad: { values: pitch, noiseSd: pitchSd },
    rollRad: { values: roll, noiseSd: rollSd },
    heaveM: {
      values: vertical.map((value, i) => value - offsetM * pitch[i]),
      noiseSd: Math.hypot(verticalSd, offsetM * pitchSd),
    },
  };
}
