/**
 * Deck pitch, roll and heave (radians, metres) that listed joints, bumps and dips give a setup, frame by frame: the rigid deck
 * over their shapes, rear axle and front axle each in its turn, averaged over the exposure and high-passed.
 *
 * A wheel climbs a step along its own circle, over sqrt(2 r h). A narrow gap of width g lets it sink by g^2 / 8r whatever its depth,
 * so a dip halves when the diameter doubles. The contact patch smooths as a bell. Own derivation.
 */
import { fourthDifferenceVibration } from '../../numerics/index.js';
import { bumpResponse } from './bump-response.js';
import type { PredictedFloor, SetupForPrediction } from './types.js';

/** Fewer frames than this have no vibration band. */
const FEWEST_FRAMES = 16;
const TRIM_S = 0.5;

/** Series of n frames without the half second at each end; all zero without events. */
export interface EventShake {
  readonly pitchRad: Float64Array;
  readonly heaveM: Float64Array;
  /** Null without a track width or when no event shows its sides. */
  readonly rollRad: Float64Array | null;
}

/**
 * The shake of the events of a floor under a setup.
 *
 * @returns null when the run is over before there is a vibration band
 */
export function eventShake(
  floor: PredictedFloor,
  setup: SetupForPrediction,
  contactCyclesPerM: number,
): EventShake | null {
  const { speedMps, rateHz, wheelbaseM, trackWidthM } = setup;
  const frames = 1 + Math.floor((floor.runLengthM / speedMps) * rateHz);
  const trim = Math.min(Math.round(TRIM_S * rateHz), Math.floor(frames / 4));
  if (frames - 2 * trim < FEWEST_FRAMES) return null;
  if (floor.events.length === 0) return stillness(frames - 2 * trim, trackWidthM !== null);
  const cut = (values: Float64Array): Float64Array =>
    fourthDifferenceVibration(values, rateHz, setup.cutoffHz).slice(trim, frames - trim);
  const { pitchRad, heaveM, rollRad } = bumpResponse(floor.events, {
    rearM: Float64Array.from({ length: frames }, (_, i) => (i * speedMps) / rateHz),
    frontAheadM: wheelbaseM,
    wheelbaseM,
    trackWidthM,
    diameterFactor: setup.wheel.diameterFactor,
    contactCyclesPerM,
    blurM: speedMps * setup.exposureS,
  });
  return { pitchRad: cut(pitchRad), heaveM: cut(heaveM), rollRad: rollRad && cut(rollRad) };
}

function stillness(count: number, withRoll: boolean): EventShake {
  const zero = (): Float64Array => new Float64Array(count);
  return { pitchRad: zero(), heaveM: zero(), rollRad: withRoll ? zero() : null };
}
