/**
 * The list of a floor for the grip, worst first: joints, steps, bumps and dips with place (metres), time (seconds from the container),
 * height (metres), wheel line, and what each does to the picture (px).
 */
import { regularisedGammaQ } from '../../numerics/index.js';
import type { RolledDeck } from '../deck/rolled-deck.js';
import { eventHeights, type EventToFit, type FittedHeight, type Height } from './list-events-heights.js';
import { firstMeetingS, placeSdM, scoreNear } from './list-events-places.js';
import { pictureShiftPx, type PictureView } from './picture-shift.js';
import { sameJointM } from './row-places.js';
import { independentM } from './scan.js';
import type { EventKind, EventScan, FloorEvent, FoundEvent, JointRow, WheelLine } from './types.js';

/**
 * Stated over claimed deviations of a height, and the share of it that the fitted shape and place may be wrong by: no wheel climbs a
 * joint along quite the ramp that is fitted (own trials on made-up floors: 95 % of the true heights within 1.96 stated deviations).
 */
const OVER_CLAIMED = { mean: 1.2, difference: 1 } as const;
const SHAPE_SHARE = 0.15;
/**
 * What the shape adds to either wheel line, as a share of the higher one: a wheel goes up before a joint and down behind it, so lines that
 * step in opposite ways have no shape in common, and part of one is taken for the other (20 lines of made-up joints of 1 to 4 mm, filmed
 * at 0.3 m/s: off by 0.16 of the higher line RMS, by 0.44 at worst).
 */
const SIDE_SHARE = 0.2;
/** A wheel begins to climb before it is at a step, and is down behind it: this share of that way is unsure. */
const CLIMB_SHARE = 0.3;
/** Radius of a wheel that is not known, metres. */
const USUAL_RADIUS_M = 0.05;
/** How high events are beforehand, metres RMS: joints at least so much, and twice what explains their row. */
const JOINT_PRIOR_M = 0.3e-3;
const ROW_TIMES = 2;
const SINGLE_PRIOR_M = 5e-3;
/** A single event this near to one so many times as high is part of it: no real event has quite the shape that was fitted. */
const MERGE_M = 0.06;
const MERGE_TIMES = 5;
/** Chance is counted over no more places than this. */
const MOST_PLACES = 1000;
/** A wheel line is named when its height is beyond so many deviations ... */
const SURE_SDS = 2;
/** ... and so many times the other line's, for a joint of a row surely so: those run across both lines. */
const ONE_SIDED_TIMES = 2;

/** What a list is made from. */
export interface EventsToList {
  readonly scan: EventScan;
  /** Events that stand out by themselves. */
  readonly found: readonly FoundEvent[];
  readonly row: JointRow | null;
  readonly deck: RolledDeck;
  /** How the picture is framed and delivered; null or left out when not known. */
  readonly view?: PictureView | null | undefined;
}

interface Listed extends EventToFit {
  readonly joint: boolean;
  readonly score: number;
}

/**
 * Lists the events of a pass.
 *
 * Distances leave out the uncertainty of the scale: an error of 2 % of the speed moves an event at 5 m by 100 mm.
 *
 * @returns largest height under either wheel line first; empty for nothing found
 */
export function listEvents(input: EventsToList): FloorEvent[] {
  const { scan, found, row } = input;
  const joints = (row?.placesM ?? []).map((placeM): Listed => ({
    placeM,
    shape: 'step',
    lengthM: 0,
    priorM: Math.max(JOINT_PRIOR_M, ROW_TIMES * (row?.stepRmsM ?? 0)),
    joint: true,
    score: scoreNear(scan, placeM),
  }));
  const same = sameJointM(scan.frameStepM);
  const singles = found
    .filter(({ placeM }) => joints.every((joint) => Math.abs(joint.placeM - placeM) > same))
    .map((event): Listed => ({ ...event, priorM: SINGLE_PRIOR_M, joint: false }));
  const all = [...joints, ...singles];
  const merged = withoutParts(all, eventHeights(scan, all), same);
  const heights = eventHeights(scan, merged).map(widened);
  return merged
    .map((event, i) => floorEvent(event, heights[i], input))
    .sort((a, b) => effectM(b) - effectM(a));
}

function floorEvent(
  event: Listed,
  { mean, difference }: FittedHeight,
  { scan, row, deck, view }: EventsToList,
): FloorEvent {
  const sides = difference && sidesOf(mean, difference);
  const foundBy = !event.joint || event.score > scan.threshold ? 'itself' : 'pattern';
  const byPattern = event.joint && row ? 1 - Math.exp(-row.lnEvidence / row.placesM.length) : 0;
  const byItself = foundBy === 'itself' ? aloneConfidence(scan, event.score) : 0;
  const rolledOver = { ...event, meanM: mean.valueM, differenceM: difference && difference.valueM };
  return {
    kind: kindOf(event, mean),
    atM: event.placeM,
    atSdM: Math.hypot(
      placeSdM(scan, event.placeM),
      CLIMB_SHARE * climbM(effectM({ heightM: mean.valueM, sides })),
    ),
    atS: firstMeetingS(deck, event.placeM),
    heightM: mean.valueM,
    heightSdM: mean.sdM,
    sides,
    wheelLine: wheelLineOf(sides, event.joint),
    lengthM: event.lengthM,
    confidence: Math.max(byPattern, byItself),
    foundBy,
    pictureShiftPx: view ? pictureShiftPx(rolledOver, deck, view) : null,
  };
}

/** Leaves out what is part of another event: next to a far stronger one, or so near to a stronger one that both are one joint. */
function withoutParts(events: readonly Listed[], heights: readonly FittedHeight[], sameM: number): Listed[] {
  const size = heights.map(sizeM);
  const isPart = (i: number): boolean =>
    events.some((other, k) => {
      const apart = Math.abs(other.placeM - events[i].placeM);
      if (apart < MERGE_M && size[k] > MERGE_TIMES * size[i]) return true;
      return k !== i && apart <= sameM && size[k] > size[i];
    });
  return events.filter((event, i) => event.joint || !isPart(i));
}

function widened({ mean, difference }: FittedHeight): FittedHeight {
  const wider = ({ valueM, sdM }: Height, factor: number): Height => ({
    valueM,
    sdM: Math.hypot(factor * sdM, SHAPE_SHARE * valueM),
  });
  return {
    mean: wider(mean, OVER_CLAIMED.mean),
    difference: difference && wider(difference, OVER_CLAIMED.difference),
  };
}

function sizeM({ mean, difference }: FittedHeight): number {
  return Math.abs(mean.valueM) + Math.abs(difference?.valueM ?? 0) / 2;
}

/** Left and right are the mean with half the difference on either side. */
function sidesOf(mean: Height, difference: Height): NonNullable<FloorEvent['sides']> {
  const leftM = mean.valueM + difference.valueM / 2;
  const rightM = mean.valueM - difference.valueM / 2;
  const higherM = Math.max(Math.abs(leftM), Math.abs(rightM));
  return { leftM, rightM, sdM: Math.hypot(mean.sdM, difference.sdM / 2, SIDE_SHARE * higherM) };
}

function wheelLineOf(sides: FloorEvent['sides'], joint: boolean): WheelLine {
  if (sides === null) return 'unknown';
  const left = Math.abs(sides.leftM);
  const right = Math.abs(sides.rightM);
  const sure = SURE_SDS * sides.sdM;
  if (Math.max(left, right) <= sure) return 'unknown';
  const oneSided = (line: number, other: number): boolean =>
    other <= sure && line >= ONE_SIDED_TIMES * (joint ? other + sure : other);
  if (oneSided(left, right)) return 'left';
  return oneSided(right, left) ? 'right' : 'both';
}

function kindOf({ joint, shape }: Listed, { valueM }: Height): EventKind {
  if (joint) return 'joint';
  if (shape === 'step') return 'step';
  return valueM < 0 ? 'dip' : 'bump';
}

/** 1 minus the probability that a rough floor gives such a score somewhere along the run. */
function aloneConfidence({ placesM, degreesOfFreedom, frameStepM }: EventScan, score: number): number {
  const places = (placesM[placesM.length - 1] - placesM[0]) / independentM(frameStepM);
  const tail = regularisedGammaQ(degreesOfFreedom / 2, score / 2);
  return Math.max(0, 1 - tail * Math.min(Math.max(places, 1), MOST_PLACES));
}

/** Way of a hard wheel from the first touch of a step up to its top, metres. */
function climbM(heightM: number): number {
  return Math.sqrt(2 * USUAL_RADIUS_M * heightM);
}

/** Largest height under either wheel line. */
function effectM({ heightM, sides }: Pick<FloorEvent, 'heightM' | 'sides'>): number {
  return Math.max(Math.abs(heightM), Math.abs(sides?.leftM ?? 0), Math.abs(sides?.rightM ?? 0));
}
