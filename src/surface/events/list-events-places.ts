/** How well the place of an event is known, metres, and when the dolly is over it, seconds from the container. */
import { rearAtS, type RolledDeck } from '../deck/rolled-deck.js';
import type { EventScan } from './types.js';

/** Bounds of the deviation of a place, frame steps: floor and wheel alone, and a place anywhere within the search distance. */
const LEAST_FRAME_STEPS = 0.12;
const MOST_FRAME_STEPS = 0.4;
/** The deviation over what the curvature of the score claims (own trials on made-up floors). */
const OVER_CLAIMED = 1.3;

/**
 * Standard deviation of the place of an event from the curvature of its score, which is twice a ln likelihood: 2 / sd^2 at its top.
 *
 * @param placeM near a candidate place of the scan
 */
export function placeSdM(scan: EventScan, placeM: number): number {
  const { placesM, score, spacingM, frameStepM } = scan;
  const i = Math.min(Math.max(Math.round((placeM - placesM[0]) / spacingM), 1), score.length - 2);
  const bend = score[i - 1] - 2 * score[i] + score[i + 1];
  const claimed = bend < 0 ? spacingM * Math.sqrt(-2 / bend) : Infinity;
  const most = Math.max(MOST_FRAME_STEPS * frameStepM, spacingM);
  return Math.min(most, Math.hypot(OVER_CLAIMED * claimed, LEAST_FRAME_STEPS * frameStepM, spacingM / 4));
}

/** Score of the best candidate within one candidate spacing of a place. */
export function scoreNear({ placesM, score, spacingM }: EventScan, placeM: number): number {
  const i = Math.round((placeM - placesM[0]) / spacingM);
  let best = 0;
  for (let k = Math.max(0, i - 1); k <= Math.min(score.length - 1, i + 1); k++)
    best = Math.max(best, score[k]);
  return best;
}

/**
 * When the first axle that meets a place in the clip is over it: the front one, or the rear one where the front had passed before.
 *
 * @returns seconds from the container, between frames by even speed; the first or last frame for places beyond the run
 */
export function firstMeetingS(deck: RolledDeck, placeM: number): number {
  const { rearM, frontAheadM, timeS } = deck;
  const rearAtM = placeM >= rearM[0] + frontAheadM ? placeM - frontAheadM : placeM;
  return rearAtS(deck, rearAtM) ?? (rearAtM < rearM[0] ? timeS[0] : timeS[timeS.length - 1]);
}
