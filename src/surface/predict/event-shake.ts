/**
 * Deck pitch, roll and heave (radians, metres) that listed joints, bumps and dips give a setup, frame by frame: the rigid deck
 * over their shapes, rear axle and front axle each in its turn, averaged over the exposure and high-passed.
 *
 * A wheel climbs a step along its own circle, over sqrt(2 r h). A narrow gap of width g lets it sink by g^2 / 8r whatever its depth,
 * so a dip halves when the diameter doubles. The contact patch smooths as a bell. Own derivation.
 */
import { fourthDifferenceVibration } from '../../numerics/index.js';
import { laidHeights } from './laid-heights.js';
import type { PredictedEvent, PredictedFloor, SetupForPrediction } from './types.js';

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
  const lay = (heightOf: (event: PredictedEvent) => number): Float64Array =>
    rolledSeries(floor, setup, contactCyclesPerM, heightOf, frames);
  const cut = (values: Float64Array): Float64Array =>
    fourthDifferenceVibration(values, rateHz, setup.cutoffHz).slice(trim, frames - trim);
  const mean = lay(({ heightM }) => heightM);
  const rear = mean.subarray(0, frames);
  const front = mean.subarray(frames);
  const sides = floor.events.some(({ differenceM }) => differenceM !== null);
  let rollRad: Float64Array | null = null;
  if (trackWidthM !== null && sides) {
    const d = lay(({ differenceM }) => differenceM ?? 0);
    rollRad = cut(d.slice(0, frames).map((value, i) => (value + d[frames + i]) / (2 * trackWidthM)));
  }
  return {
    pitchRad: cut(rear.map((value, i) => (front[i] - value) / wheelbaseM)),
    heaveM: cut(rear.map((value, i) => (front[i] + value) / 2)),
    rollRad,
  };
}

function stillness(count: number, withRoll: boolean): EventShake {
  const zero = (): Float64Array => new Float64Array(count);
  return { pitchRad: zero(), heaveM: zero(), rollRad: withRoll ? zero() : null };
}

/** Heights under the rear axle, then under the front axle, averaged over each exposure; 2 * frames long. */
function rolledSeries(
  floor: PredictedFloor,
  setup: SetupForPrediction,
  contactCyclesPerM: number,
  heightOf: (event: PredictedEvent) => number,
  frames: number,
): Float64Array {
  const { speedMps, rateHz, exposureS, wheelbaseM, wheel } = setup;
  const events = floor.events.map((event) => ({ ...event, heightM: heightOf(event) }));
  const heights = laidHeights(events, {
    fromM: 0,
    toM: floor.runLengthM + wheelbaseM,
    diameterFactor: wheel.diameterFactor,
    contactCyclesPerM,
    blurM: speedMps * exposureS,
  });
  return Float64Array.from({ length: 2 * frames }, (_, i) => {
    const rearM = ((i % frames) * speedMps) / rateHz;
    return heights(rearM + (i < frames ? 0 : wheelbaseM));
  });
}
