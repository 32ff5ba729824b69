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
import type { MeasuredPass } from '../pass/measured-pass.js';

/** Vibration of the deck, columns of the motion's length; heave is null where translation is not in metres. */
export interface DeckVibration {
  readonly pitchRad: Float64Array;
  readonly rollRad: Float64Array;
  readonly heaveM: Float64Array | null;
}

/** What the lens sits on. */
export interface CarriedLens {
  readonly mounting: StoredFloor['mounting'];
  /** Lens above the floor as far as it is carried along, metres. */
  readonly heightM: number;
}

/** No lens of a dolly is carried along higher than that, metres. */
const HIGHEST_LENS_M = 4;

/**
 * How the lens of a pass is carried: at the height that the crew gave, else at the one that sideways shake shows per unit of roll
 * (and shake along the way per unit of pitch), by least squares; 0 without translation in metres.
 */
export function carriedLens({ motion, rig }: MeasuredPass, mounting: StoredFloor['mounting']): CarriedLens {
  if (motion.translationUnit !== 'm') return { mounting, heightM: 0 };
  if (rig.cameraHeightM !== undefined) return { mounting, heightM: rig.cameraHeightM };
  const { tilt, roll, lateral, axial } = motion.vibration;
  const [deckPitch, deckRoll] = deckFromCamera([tilt, roll], mounting.azimuthRad);
  const [sideways, forward] = deckFromCamera([lateral, axial], mounting.azimuthRad);
  const turned = sumOfProducts(deckRoll, deckRoll) + sumOfProducts(deckPitch, deckPitch);
  if (!(turned > 0)) return { mounting, heightM: 0 };
  const carried = sumOfProducts(sideways, deckRoll) - sumOfProducts(forward, deckPitch);
  return { mounting, heightM: Math.max(0, Math.min(HIGHEST_LENS_M, carried / turned)) };
}

function sumOfProducts(a: Float64Array, b: Float64Array): number {
  return a.reduce((sum, value, t) => sum + value * b[t], 0);
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
  const [lateral, axial] = cameraFromDeck(
    [change.rollRad.map((q) => heightM * q), change.pitchRad.map((p) => -heightM * p)],
    azimuthRad,
  );
  const carried = {
    vertical: plus(vibration.vertical, up),
    lateral: plus(vibration.lateral, lateral),
    axial: plus(vibration.axial, axial),
  };
  return sixAxes((axis) => ({ ...vibration, ...turned, ...carried })[axis]);
}
