/**
 * Joints, steps, bumps and dips of a pass, and the pass without them: places in metres, the floor between them graded anew.
 *
 * Grade and events hang together: with joints in it a floor is graded too rough, and a rough floor hides joints. So the pass is
 * scanned, cleaned and graded again, three times. Own method.
 */
import type { RolledDeck } from '../deck/rolled-deck.js';
import type { Release } from '../profile/surface-profile.js';
import { levelsOf, refitPass, type FittedPass } from '../roughness/pass-fit.js';
import { findJointRow, type JointRowOptions } from './joint-row.js';
import { withoutEvents } from './release-deck.js';
import { releaseEvents, type SeenEvent } from './release-events.js';
import { gapsWithin, releaseAt } from './release-floor.js';
import { ALARMS_PER_M, scanEvents } from './scan.js';
import type { EventScan, FoundEvent, JointRow } from './types.js';

/** Scans, each with the floor graded without what the one before found. */
const PASSES = 3;
/** An event is taken for the rest of a stronger one that is near: metres beyond its length, and times as high. */
const REST_ABOUT_M = 0.06;
const REST_TIMES = 5;
/** An event this near to a joint of the row is that joint: metres, and frame steps. */
const JOINT_ABOUT_M = 0.015;
const JOINT_FRAME_STEPS = 0.8;

/** What is known beforehand, and how short the list should be. */
export interface FindEventsOptions extends JointRowOptions {
  /** How often chance may give an event, per metre; see `ALARMS_PER_M`. */
  readonly alarmsPerM?: number;
}

/** The events of a pass and the pass without them. */
export interface FoundEvents {
  /** The last scan, of the deck as it rolled; null when the deck cannot show events. */
  readonly scan: EventScan | null;
  /** Events that stand out by themselves and are no joint of the row, in the order of the run. */
  readonly found: readonly FoundEvent[];
  readonly row: JointRow | null;
  /** Where the floor was freed: for all of the above, and for the rests of strong events beside them. */
  readonly releases: readonly Release[];
  /** The deck as it would have rolled without them. */
  readonly cleaned: RolledDeck;
  /** The floor between the events. */
  readonly fitted: FittedPass;
  /** The floor as rolled, events and all. */
  readonly raw: FittedPass;
  /** Share of the places under the axles that were freed, 0..1. */
  readonly coveredShare: number;
}

/**
 * Finds the events of a pass.
 *
 * @param deck front axle placed as fitted (`withPhase`)
 * @param fitted of this deck
 * @returns nothing found, and the deck as it is, when pitch or the level of the floor is missing
 */
export function findEvents(
  deck: RolledDeck,
  fitted: FittedPass,
  options: FindEventsOptions = {},
): FoundEvents {
  const { alarmsPerM = ALARMS_PER_M.usual } = options;
  const nothing = { found: [], row: null, releases: [], cleaned: deck, fitted, raw: fitted, coveredShare: 0 };
  let scan = scanEvents(deck, levelsOf(fitted), alarmsPerM);
  if (scan === null) return { scan, ...nothing };
  let seen = releaseEvents(scan, alarmsPerM);
  let current = fitted;
  for (let pass = 1; pass < PASSES; pass++) {
    const before = seen.length;
    current = refitPass(
      fitted,
      withoutEvents(
        deck,
        scan.stretches,
        seen.map(({ release }) => release),
      ),
    );
    const next = scanEvents(deck, levelsOf(current), alarmsPerM);
    if (next === null) break;
    scan = next;
    seen = releaseEvents(scan, alarmsPerM);
    if (seen.length === before) break;
  }

  const row = findJointRow(scan, seen, options);
  const releases = [...seen.map(({ release }) => release), ...rowReleases(row, scan)];
  if (releases.length === 0) return { scan, ...nothing };
  const cleaned = withoutEvents(deck, scan.stretches, releases);
  return {
    scan,
    found: withoutJoints(withoutRests(seen), row, scan).map(({ placeM, score, shape, lengthM }) => ({
      placeM,
      score,
      shape,
      lengthM,
    })),
    row,
    releases,
    cleaned,
    fitted: refitPass(fitted, cleaned),
    raw: fitted,
    coveredShare: coveredShare(scan, releases),
  };
}

function rowReleases(row: JointRow | null, { blurM }: EventScan): Release[] {
  return (row?.placesM ?? []).map((placeM) => releaseAt(placeM, 0, blurM));
}

/** Leaves out what is next to an event or joint more than five times as high: no real event has quite the shape that was fitted. */
function withoutRests(seen: readonly SeenEvent[]): SeenEvent[] {
  const isRest = (one: SeenEvent): boolean =>
    seen.some(
      (other) =>
        Math.abs(other.placeM - one.placeM) < REST_ABOUT_M + other.lengthM / 2 &&
        Math.abs(other.heightM) > REST_TIMES * Math.abs(one.heightM),
    );
  return seen.filter((one) => !isRest(one));
}

/** No joint is listed twice. */
function withoutJoints(
  seen: readonly SeenEvent[],
  row: JointRow | null,
  { frameStepM }: EventScan,
): SeenEvent[] {
  const reach = Math.max(JOINT_ABOUT_M, JOINT_FRAME_STEPS * frameStepM);
  return seen.filter(
    ({ placeM }) => !(row?.placesM ?? []).some((joint) => Math.abs(joint - placeM) <= reach),
  );
}

function coveredShare({ stretches }: EventScan, releases: readonly Release[]): number {
  let covered = 0;
  let all = 0;
  for (const { mean } of stretches) {
    const { nodesM, stretch } = mean;
    const [fromM, toM] = stretch.answersM;
    const own = (node: number): boolean => nodesM[node] >= fromM && nodesM[node] < toM;
    for (let i = 1; i < nodesM.length; i++) if (own(i)) all++;
    const gaps = new Set(releases.flatMap((release) => gapsWithin(nodesM, release)));
    for (const gap of gaps) if (own(gap)) covered++;
  }
  return all > 0 ? covered / all : 0;
}
