/**
 * Events that are no more than the other kick of a stronger one: where the second axle met it, or the first. An axle never meets an
 * event quite as fitted (the pace wanders, the wheel climbs), and what is left over shows one wheelbase away. Places in metres.
 */
import { sameJointM } from './row-places.js';

/** A leftover has at most this part of the score of the event that it comes from; none of the joints of a row is so weak beside another. */
const LEFT_OVER = 1 / 5;

interface Scored {
  readonly placeM: number;
  readonly score: number;
}

/** The events without such leftovers. @param otherKickM distance between the axles along the run */
export function withoutOtherKicks<Event extends Scored>(
  events: readonly Event[],
  otherKickM: number,
  frameStepM: number,
): Event[] {
  const same = sameJointM(frameStepM);
  const isLeftOver = (one: Event): boolean =>
    events.some(
      ({ placeM, score }) =>
        Math.abs(Math.abs(placeM - one.placeM) - otherKickM) <= same && one.score < LEFT_OVER * score,
    );
  return events.filter((one) => !isLeftOver(one));
}
