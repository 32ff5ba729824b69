/**
 * Joints, steps, bumps and dips of a pass, and the pass without them: places in metres, the floor between them graded anew.
 *
 * Grade and events hang together: with joints in it a floor is graded too rough, and a rough floor hides joints. So the pass is
 * scanned, cleaned and graded again until the grade stays. Own method.
 */
import type { RolledDeck } from '../deck/rolled-deck.js';
import type { Release } from '../profile/surface-profile.js';
import type { FloorLevels } from '../profile/types.js';
import { levelsOf, refitPass, type FittedPass } from '../roughness/pass-fit.js';
import { contactSmearM } from './contact-smear.js';
import { findJointRow, type JointRowOptions } from './joint-row.js';
import { withoutOtherKicks } from './other-kicks.js';
import { withoutEvents } from './release-deck.js';
import { releaseEvents, type ReleasedEvents, type SeenEvent } from './release-events.js';
import { gapsWithin, releaseAt } from './release-floor.js';
import { sameJointM } from './row-places.js';
import { ALARMS_PER_M, scanEvents } from './scan.js';
import { GAP_M } from './shapes.js';
import type { EventScan, FoundEvent, JointRow } from './types.js';

/** Most scans, each with the floor graded without what the one before found; three are usual, one without events. */
const MOST_PASSES = 6;
/** Levels that differ by less, in ln, are the same: well within what a pass can tell. */
const SAME_LEVEL_LN = 0.1;
/** Floors without events show scores of 0.6 to 0.8 of what they should be in the middle (own measurement). */
const USUAL_QUIET = 0.7;
const LEAST_QUIET = 0.4;
/** An event is taken for the rest of a stronger one that is near: metres beyond its length, and over its score. */
const REST_ABOUT_M = 0.06;
const REST_TIMES = 10;

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
  let smearM = contactSmearM(fitted.masked.fit.contactCyclesPerM);
  let look = lookFor(deck, levelsOf(fitted), alarmsPerM, smearM);
  if (look !== null && smearM > 0 && mostlyBumps(look)) {
    smearM = 0;
    look = lookFor(deck, levelsOf(fitted), alarmsPerM, smearM);
  }
  if (look === null) return { scan: null, ...nothing };
  for (let pass = 1; pass < MOST_PASSES; pass++) {
    // While the level is far off, the floor that would be left at the events is, too.
    const left = plausible(look) ? 'floor' : 'nothing';
    const cleaned = withoutEvents(deck, look.scan.stretches, releasesOf(look), left);
    const levels = lowered(levelsOf(refitPass(fitted, cleaned)), look);
    if (sameLevels(levels, look.levels)) break;
    look = lookFor(deck, levels, alarmsPerM, smearM) ?? look;
  }

  const { scan, events: seen } = look;
  const standing = withoutOtherKicks(withoutRests(seen), deck.frontAheadM, scan.frameStepM);
  const row = findJointRow(scan, seen, { ...options, deck, standing });
  const releases = [...releasesOf(look), ...rowReleases(row, scan)];
  if (releases.length === 0) return { scan, ...nothing };
  const cleaned = withoutEvents(deck, scan.stretches, releases);
  return {
    scan,
    found: withoutJoints(standing, row, scan).map(({ shapeM, score, shape, lengthM }) => ({
      placeM: shapeM,
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

/** One scan and what stands out in it. */
interface Look extends ReleasedEvents {
  readonly levels: FloorLevels;
  readonly scan: EventScan;
}

function lookFor(deck: RolledDeck, levels: FloorLevels, alarmsPerM: number, smearM: number): Look | null {
  const scan = scanEvents(deck, levels, alarmsPerM, smearM);
  return scan && { levels, scan, ...releaseEvents(scan, alarmsPerM) };
}

function releasesOf({ events }: Look): Release[] {
  return events.map(({ release }) => release);
}

/** Whether what was found is smooth by itself: bumps make hard wheels pass for soft ones, joints show them as they are. */
function mostlyBumps({ events }: Look): boolean {
  const smooth = events.filter(({ shape, lengthM }) => shape !== 'step' && lengthM > GAP_M);
  const scores = (of: readonly SeenEvent[]): number => of.reduce((sum, { score }) => sum + score, 0);
  return scores(smooth) > scores(events) / 2;
}

/** Whether scores between events are as large as the levels of the scan make them. */
function plausible({ quiet }: Look): boolean {
  return quiet.mean >= LEAST_QUIET && quiet.difference >= LEAST_QUIET;
}

/**
 * Levels of the floor between what was found, brought down to what the scores there show when the scan took the floor for far
 * rougher than that: events that were not seen are then in the fit as well.
 */
function lowered({ meanTrackM3, differenceM3 }: FloorLevels, { levels, quiet }: Look): FloorLevels {
  const by = (level: number | null, scanned: number | null, share: number): number | null =>
    level === null || scanned === null || share >= LEAST_QUIET
      ? level
      : Math.min(level, (scanned * share) / USUAL_QUIET);
  return {
    meanTrackM3: by(meanTrackM3, levels.meanTrackM3, quiet.mean),
    differenceM3: by(differenceM3, levels.differenceM3, quiet.difference),
  };
}

function sameLevels(a: FloorLevels, b: FloorLevels): boolean {
  const same = (one: number | null, other: number | null): boolean =>
    one === other || (one !== null && other !== null && Math.abs(Math.log(one / other)) < SAME_LEVEL_LN);
  return same(a.meanTrackM3, b.meanTrackM3) && same(a.differenceM3, b.differenceM3);
}

function rowReleases(row: JointRow | null, { blurM }: EventScan): Release[] {
  return (row?.placesM ?? []).map((placeM) => releaseAt(placeM, 0, blurM));
}

/** Leaves out what is next to a far stronger event: no real event has quite the shape that was fitted. */
function withoutRests(seen: readonly SeenEvent[]): SeenEvent[] {
  const isRest = (one: SeenEvent): boolean =>
    seen.some(
      (other) =>
        Math.abs(other.placeM - one.placeM) < REST_ABOUT_M + other.lengthM / 2 &&
        other.score > REST_TIMES * one.score,
    );
  return seen.filter((one) => !isRest(one));
}

/** No joint is listed twice. */
function withoutJoints(
  seen: readonly SeenEvent[],
  row: JointRow | null,
  { frameStepM }: EventScan,
): SeenEvent[] {
  const reach = sameJointM(frameStepM);
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
