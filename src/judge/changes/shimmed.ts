/** The motion with listed joints and bumps shimmed or bridged: what the rigid deck did over them is taken out of the camera's vibration. */
import { fourthDifferenceVibration } from '../../numerics/index.js';
import type { Motion } from '../../motion/index.js';
import { sixAxes, type SixAxes, type StoredFloor } from '../../run/index.js';
import { bumpResponse, floorFromSurface, type PredictedEvent } from '../../surface/index.js';
import type { MeasuredPass } from '../pass/measured-pass.js';
import { cameraVibration, carriedLens } from './deck-shares.js';
import type { ChangedMotion, RefusedChange } from './types.js';
import { withVibration } from './with-vibration.js';

/** Heights that are known this well are taken out as they are. */
const TWO_SD = 1.96;

/**
 * The pass with these entries of its list of bumps shimmed.
 *
 * A shimmed joint keeps the level on its far side: what goes is the kick above the lower edge of the vibration band. The range takes
 * out the heights at either end of their 95 % ranges.
 */
export function shimmed(pass: MeasuredPass, bumps: readonly number[]): ChangedMotion | RefusedChange {
  const { floor, motion } = pass;
  const { surface } = pass.sections;
  if (bumps.length === 0) return { expected: motion, least: motion, most: motion, assumes: [] };
  if (floor === null) return { refused: 'The floor of this pass was not graded: no joint is known to shim.' };
  const listed = floorFromSurface({ ...surface, atMost: false });
  const events = bumps.flatMap((index) => listed?.events[index] ?? []);
  if (listed === null || events.length < bumps.length)
    return { refused: 'No such joint or bump is in the list of this pass.' };
  const without = (ends: number): Motion =>
    withoutEvents(
      pass,
      floor,
      events.map((event) => atEnd(event, ends)),
      listed.contactCyclesPerM,
    );
  // The error of a height can go either way: the end that leaves more shake is the one further from what is there.
  const [expected, less, more] = [without(0), without(-1), without(1)];
  const shake = ({ axes }: Motion): number => axes.tilt.rawRms ** 2 + axes.roll.rawRms ** 2;
  const [least, most] = [expected, less, more].sort((a, b) => shake(a) - shake(b)).filter((_, i) => i !== 1);
  return {
    expected,
    least,
    most,
    assumes: ['The shims hold, and the ramps on either side are long.'],
  };
}

function atEnd(event: PredictedEvent, ends: number): PredictedEvent {
  if (ends === 0 || event.heightM === 0) return event;
  const factor = 1 + (ends * TWO_SD * event.heightSdM) / Math.abs(event.heightM);
  return {
    ...event,
    heightM: factor * event.heightM,
    differenceM: event.differenceM === null ? null : factor * event.differenceM,
  };
}

function withoutEvents(
  pass: MeasuredPass,
  { present, rearM, fromFrame, frontAheadM, mounting }: StoredFloor,
  events: readonly PredictedEvent[],
  contactCyclesPerM: number,
): Motion {
  const { motion } = pass;
  const { speedMps, exposureS, wheelbaseM, trackWidthM } = present.setup;
  const response = bumpResponse(events, {
    rearM: Float64Array.from(rearM),
    frontAheadM,
    wheelbaseM,
    trackWidthM,
    diameterFactor: 1,
    contactCyclesPerM,
    blurM: speedMps * exposureS,
  });
  const taken = (series: Float64Array | null): Float64Array => {
    const whole = new Float64Array(motion.timeS.length);
    if (series === null) return whole;
    // Beyond the moving stretch the deck stands on the level it had there.
    for (let t = 0; t < whole.length; t++)
      whole[t] = -series[Math.max(0, Math.min(series.length - 1, t - fromFrame))];
    return fourthDifferenceVibration(whole, motion.rateHz, motion.bandHz[0]);
  };
  const change = {
    pitchRad: mounting.pitchShows ? taken(response.pitchRad) : taken(null),
    rollRad: mounting.rollShows ? taken(response.rollRad) : taken(null),
    heaveM: taken(response.heaveM),
  };
  const vibration = cameraVibration(motion, carriedLens(pass, mounting), change);
  return withVibration(
    motion,
    heldOver(vibration, passages(motion, Float64Array.from(rearM), fromFrame, frontAheadM, events)),
  );
}

/** Samples before and after an axle is over an event in which its kick may show, seconds. */
const KICK_S = 0.12;
/** Where more of the pass than this is taken up by events nothing is left to hold them against. */
const MOST_TAKEN = 0.7;

/** For each sample, whether an axle is over one of the events just then. */
function passages(
  { timeS, rateHz }: Motion,
  rearM: Float64Array,
  fromFrame: number,
  frontAheadM: number,
  events: readonly PredictedEvent[],
): Uint8Array {
  const over = new Uint8Array(timeS.length);
  const reach = Math.ceil(KICK_S * rateHz);
  for (const { atM } of events)
    for (const place of [atM, atM - frontAheadM]) {
      const frame = rearM.findIndex((rear) => rear >= place);
      if (frame <= 0) continue;
      const middle = fromFrame + frame;
      over.fill(1, Math.max(0, middle - reach), Math.min(over.length, middle + reach + 1));
    }
  return over;
}

/**
 * Holds what the model leaves over at a shimmed place to the most that the rest of the pass shakes: a rest of the kick is an error of
 * shape or place, no floor.
 */
function heldOver(vibration: SixAxes, over: Uint8Array): SixAxes {
  const taken = over.reduce((sum, value) => sum + value, 0);
  if (taken === 0 || taken > MOST_TAKEN * over.length) return vibration;
  return sixAxes((axis) => {
    const series = vibration[axis];
    const most = series.reduce((top, value, t) => (over[t] ? top : Math.max(top, Math.abs(value))), 0);
    return series.map((value, t) => (over[t] ? Math.max(-most, Math.min(most, value)) : value));
  });
}
