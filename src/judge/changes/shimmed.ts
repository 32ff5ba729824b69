/** The motion with listed joints and bumps shimmed or bridged: what the rigid deck did over them is taken out of the camera's vibration. */
import { TWO_SIDED_95, fourthDifferenceVibration } from '../../numerics/index.js';
import type { Motion } from '../../motion/index.js';
import type { SixAxes, StoredFloor } from '../../run/index.js';
import { remedyTexts } from '../../texts/index.js';
import { bumpResponse, floorFromSurface, type PredictedEvent } from '../../surface/index.js';
import type { MeasuredPass } from '../pass/measured-pass.js';
import { cameraVibration, carriedLens } from './deck-shares.js';
import { capped, passages, quieted } from './kick-rest.js';
import { NOTHING_ELSE, unchanged, type ChangedMotion, type RefusedChange } from './types.js';
import { withVibration } from './with-vibration.js';

/** Least that the floor at a shimmed place may shake, over the rest of the floor. */
const LEAST_SHARE = 0.5;

/**
 * The pass with these entries of its list of bumps shimmed.
 *
 * A shimmed joint keeps the level on its far side: what goes is the kick above the lower edge of the vibration band. What the model
 * leaves of a kick is brought down to the shake of the rest of the pass. The range takes out the heights at either end of their 95 %
 * ranges, and lets the floor at a shimmed place shake from half of the rest to the most of the rest: of 24 made-up floors whose joints
 * were all shimmed 21 crops and every shake left lay within, the middle crop was foretold 1.03 times too high.
 */
export function shimmed(pass: MeasuredPass, bumps: readonly number[]): ChangedMotion | RefusedChange {
  const { floor, motion } = pass;
  const { surface } = pass.sections;
  if (bumps.length === 0) return unchanged(motion);
  if (floor === null) return { refused: remedyTexts.floorNotGraded };
  const listed = floorFromSurface({ ...surface, atMost: false });
  const events = bumps.flatMap((index) => listed?.events[index] ?? []);
  if (listed === null || events.length < bumps.length) return { refused: remedyTexts.noSuchBump };
  const without = (ends: number): SixAxes =>
    withoutEvents(
      pass,
      floor,
      events.map((event) => atEnd(event, ends)),
      listed.contactCyclesPerM,
    );
  const over = passages(motion, floor, events);
  const kicked = passages(motion, floor, listed.events);
  const ends = [without(0), without(-1), without(1)];
  const quiet = (vibration: SixAxes, share: number): Motion =>
    withVibration(motion, quieted(vibration, over, kicked, share));
  const shake = ({ axes }: Motion): number => axes.tilt.rawRms ** 2 + axes.roll.rawRms ** 2;
  const [least] = ends.map((one) => quiet(one, LEAST_SHARE)).sort((a, b) => shake(a) - shake(b));
  const [most] = ends
    .map((one) => withVibration(motion, capped(one, over, kicked)))
    .sort((a, b) => shake(b) - shake(a));
  return {
    expected: quiet(ends[0], 1),
    least,
    most,
    ...NOTHING_ELSE,
    assumes: [remedyTexts.shimsHold],
  };
}

function atEnd(event: PredictedEvent, ends: number): PredictedEvent {
  if (ends === 0 || event.heightM === 0) return event;
  const factor = 1 + (ends * TWO_SIDED_95 * event.heightSdM) / Math.abs(event.heightM);
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
): SixAxes {
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
  return cameraVibration(motion, carriedLens(pass, mounting), change);
}
