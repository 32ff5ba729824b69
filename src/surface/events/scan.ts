/**
 * How much better a joint at each place of a run explains the pass than a rough floor alone: chi-square scores every few millimetres,
 * from the deck's series and the level of the floor.
 *
 * A joint is a step of its own under each wheel line with a dip beside it. What both axles make of it, and the opposite kick of the
 * second, is in the information on the heights; the floor's roughness and the drift of the series are integrated out of it.
 */
import type { RolledDeck } from '../deck/rolled-deck.js';
import { stretchInformation } from '../profile/stretch-information.js';
import { frameStepM, stretchesOf } from '../profile/stretches.js';
import type { FloorLevels } from '../profile/types.js';
import { jointFamily } from './bumps.js';
import { FreedFloor } from './release-floor.js';
import { FamilyScores, scoreThreshold, type FreedTracks } from './scan-scores.js';
import { firstNodeFrom } from './shapes.js';
import type { EventScan } from './types.js';

/** How often chance may give an event: once in 20 m, or once in 100 m for a list that must be short. */
export const ALARMS_PER_M = { usual: 1 / 20, strict: 1 / 100 } as const;

/** Places per frame step, and the least distance between them, metres. */
const PLACES_PER_FRAME_STEP = 3;
const LEAST_SPACING_M = 0.003;
/** The first place lies this far behind the rear axle's first, frame steps. */
const FIRST_FRAME_STEPS = 0.5;
/** Two places that are this far apart say something of their own: frame steps, and metres. */
const INDEPENDENT_FRAME_STEPS = 2 / 3;
const LEAST_INDEPENDENT_M = 0.008;

/**
 * Scans a run for joints and steps.
 *
 * Long passes are scanned stretch by stretch; each place is answered by the stretch whose part holds it.
 *
 * @param levels of the floor between events
 * @param alarmsPerM how often chance may lift a score above the threshold
 * @param smearM how far a soft wheel's contact smears shapes, see `contactSmearM`
 * @returns null when the deck shows no pitch, or the level of the mean of the tracks is not known
 */
export function scanEvents(
  deck: RolledDeck,
  { meanTrackM3, differenceM3 }: FloorLevels,
  alarmsPerM: number = ALARMS_PER_M.usual,
  smearM = 0,
): EventScan | null {
  if (deck.pitchRad === null || meanTrackM3 === null) return null;
  const stepM = frameStepM(deck);
  const blurM = deck.exposureS * deck.rateHz * stepM + smearM;
  const spacingM = Math.max(stepM / PLACES_PER_FRAME_STEP, LEAST_SPACING_M);
  const firstM = deck.rearM[0] + FIRST_FRAME_STEPS * stepM;
  const lastM = deck.rearM[deck.rearM.length - 1] + deck.frontAheadM;
  const placesM = Float64Array.from(
    { length: Math.ceil((lastM - firstM) / spacingM) },
    (_, i) => firstM + i * spacingM,
  );
  const withRoll = differenceM3 !== null && deck.rollRad !== null && deck.trackWidthM !== null;
  const stretches = stretchesOf(deck).map((stretch) => ({
    mean: stretchInformation(deck, 'mean', meanTrackM3, stretch),
    difference: withRoll ? stretchInformation(deck, 'difference', differenceM3, stretch) : null,
  }));

  const score = new Float64Array(placesM.length);
  const family = jointFamily(blurM);
  for (const stretch of stretches) {
    const [from, to] = placesAnswered(placesM, stretch);
    const scores = new FamilyScores(family, freedTracks(stretch), placesM.subarray(from, to));
    for (let k = from; k < to; k++) score[k] = scores.scoreAt(k - from);
  }
  const degreesOfFreedom = family.mean.length + (withRoll ? 1 : 0);
  const threshold = scoreThreshold(degreesOfFreedom, alarmsPerM * independentM(stepM));
  return { placesM, spacingM, score, degreesOfFreedom, threshold, frameStepM: stepM, blurM, stretches };
}

/** How far apart two places are that say something of their own about a joint, metres. */
export function independentM(stepM: number): number {
  return Math.max(INDEPENDENT_FRAME_STEPS * stepM, LEAST_INDEPENDENT_M);
}

/** Indices of the places that a stretch answers for, the end not included. */
export function placesAnswered(
  placesM: Readonly<Float64Array>,
  { mean }: EventScan['stretches'][number],
): [number, number] {
  const [fromM, toM] = mean.stretch.answersM;
  return [firstNodeFrom(placesM, fromM), firstNodeFrom(placesM, toM)];
}

/** A stretch ready for products with shapes, nothing freed yet. */
export function freedTracks({ mean, difference }: EventScan['stretches'][number]): FreedTracks {
  return { mean: new FreedFloor(mean), difference: difference && new FreedFloor(difference) };
}
