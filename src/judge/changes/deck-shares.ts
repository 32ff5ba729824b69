/**
 * The part of the camera's vibration that the deck carries: pitch, roll (radians) and heave (metres) read off the camera's axes, and
 * the camera's axes after each of them is changed.
 *
 * A rigid head at a height h over the wheels and an offset o ahead of the middle between the axles is carried along: forward by -h
 * times pitch, sideways by h times roll, up by heave plus o times pitch. What else shakes on those axes stays as it is.
 */
import type { Motion } from '../../motion/index.js';
import { sixAxes, type SixAxes, type StoredFloor } from '../../run/index.js';
import { cameraFromDeck, deckFromCamera } from '../../surface/index.js';

/** Vibration of the deck, columns of the motion's length; heave is null where translation is not in metres. */
export interface DeckVibration {
  readonly pitchRad: Float64Array;
  readonly rollRad: Float64Array;
  readonly heaveM: Float64Array | null;
}

/** What the lens sits on. */
export interface CarriedLens {
  readonly mounting: StoredFloor['mounting'];
  /** Lens above the floor, metres; null when not given: then turns alone are carried over. */
  readonly heightM: number | null;
}

/** The deck's vibration as the camera shows it. */
export function deckVibration(
  { vibration, translationUnit }: Motion,
  { mounting }: CarriedLens,
): DeckVibration {
  const { azimuthRad, offsetM } = mounting;
  const [pitchRad, rollRad] = deckFromCamera([vibration.tilt, vibration.roll], azimuthRad);
  const heaveM =
    translationUnit === 'm' ? vibration.vertical.map((value, t) => value - offsetM * pitchRad[t]) : null;
  return { pitchRad, rollRad, heaveM };
}

/**
 * The camera's vibration after its deck shakes otherwise.
 *
 * @param change added to pitch, roll and heave, columns of the motion's length; heave counts only where translation is in metres
 */
export function cameraVibration(
  motion: Motion,
  { mounting, heightM }: CarriedLens,
  change: DeckVibration,
): SixAxes {
  const { azimuthRad, offsetM } = mounting;
  const { vibration } = motion;
  const plus = (series: Float64Array, added: Float64Array): Float64Array =>
    series.map((value, t) => value + added[t]);
  const [tilt, roll] = cameraFromDeck([change.pitchRad, change.rollRad], azimuthRad);
  const turned = { tilt: plus(vibration.tilt, tilt), roll: plus(vibration.roll, roll) };
  if (motion.translationUnit !== 'm') return sixAxes((axis) => ({ ...vibration, ...turned })[axis]);
  const up = (change.heaveM ?? new Float64Array(tilt.length)).map(
    (value, t) => value + offsetM * change.pitchRad[t],
  );
  const carried: Partial<SixAxes> = { vertical: plus(vibration.vertical, up) };
  if (heightM !== null) {
    const [lateral, axial] = cameraFromDeck(
      [change.rollRad.map((q) => heightM * q), change.pitchRad.map((p) => -heightM * p)],
      azimuthRad,
    );
    carried.lateral = plus(vibration.lateral, lateral);
    carried.axial = plus(vibration.axial, axial);
  }
  return sixAxes((axis) => ({ ...vibration, ...turned, ...carried })[axis]);
}
