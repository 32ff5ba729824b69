/**
 * Joints at even distances along the run (tiles, boards, rail lengths), metres, from the scores of single events and from what all
 * joints of a row explain together.
 *
 * Own method: many joints are too weak to stand out by themselves, but a row of them is not. Spacings are found by the sum of the
 * scores along them, each joint moves to where it is seen best, and the row is believed for the evidence of its joints together.
 */
import type { RolledDeck } from '../deck/rolled-deck.js';
import { GIVEN_SHARE, rowCandidates, searchM } from './row-candidates.js';
import { explainsAsMuch, thinnedRow, widestRow, type RowWeight, type WeighedRow } from './row-choice.js';
import { LEAST_JOINTS, jointColumns, openStretches, rowEvidence } from './row-evidence.js';
import { followedRow, sameJointM, seenPlaces, settledRow } from './row-places.js';
import { wheelEvidence } from './row-wheel.js';
import type { EventScan, FoundEvent, JointRow } from './types.js';

/** Evidence from which a row is believed. */
const ROW_EVIDENCE = 13;
/** ... and what is asked of it beyond the events that stand by themselves anyway. */
const EVIDENCE_BEYOND = 9;
/** Joints are believed while kicks of a wheel explain less than this share (own trials: joints below 0.35, flat spots above 0.6). */
const WHEEL_SHARE = 0.5;
/** What a place gains by being moved to its best score where there is nothing (own trials on clean floors). */
const MOVED_GAIN = 0.5;

/** What is known beforehand. */
export interface JointRowOptions {
  /**
   * Spacing of the joints, metres (length of tiles or rails), if known: preferred to other spacings that explain as much, but
   * believed for the same evidence only.
   */
  readonly givenSpacingM?: number | null | undefined;
  /** The deck of the scan; without it a wheel that kicks once per turn is not told from joints. */
  readonly deck?: RolledDeck | undefined;
  /** The events found that are no leftover of another one; all of them unless given. */
  readonly standing?: readonly FoundEvent[] | undefined;
}

/**
 * The row of joints that a pass shows.
 *
 * Events that stand by themselves are released first, so that a few strong ones cannot carry a row of empty places between them: at
 * a joint of the row each counts what finding its place by chance would cost, no more.
 *
 * @param found events that stand by themselves, joints or not
 * @returns null when no row of at least four joints, 0.1 to 1.4 m apart (or as given), has a ln Bayes factor above 13 against a
 *   floor without joints, and above 9 beyond the events that stand by themselves,
 *   and when kicks of one axle's wheels explain such a row about as well. A row of a given spacing is also looked for through the events
 *   that stand by themselves: strong joints are events each, and where the pace wanders their places are off by more than weak ones are
 *   searched for
 */
export function findJointRow(
  scan: EventScan,
  found: readonly FoundEvent[],
  options: JointRowOptions = {},
): JointRow | null {
  const columns = jointColumns(scan.blurM);
  const stretches = openStretches(scan, []);
  const released = openStretches(scan, found);
  const { deck, standing = found } = options;
  const weighWithin =
    (reachM: number) =>
    (placesM: readonly number[]): RowWeight => {
      const all = rowEvidence(stretches, placesM, columns);
      const beyond = rowEvidence(released, placesM, columns).lnEvidence;
      return {
        lnEvidence: beyond + chance(scan, standing, placesM, reachM),
        lnEvidenceOfAll: all.lnEvidence,
        stepRmsM: all.stepRmsM,
      };
    };
  const isBelieved = ({ placesM, lnEvidence, lnEvidenceOfAll }: WeighedRow): boolean =>
    placesM.length >= LEAST_JOINTS &&
    lnEvidence > EVIDENCE_BEYOND &&
    lnEvidenceOfAll > ROW_EVIDENCE &&
    !(deck && wheelEvidence(scan, stretches, deck, placesM) > WHEEL_SHARE * lnEvidenceOfAll);
  const givenM = options.givenSpacingM ?? null;
  const weigh = weighWithin(searchM(scan));
  const chosen = chosenRow(weighedRows(scan, options, weigh), givenM, weigh);
  const usual = chosen && isBelieved(chosen) ? chosen : null;
  if (givenM !== null) {
    const weighWide = weighWithin(sameJointM(scan.frameStepM));
    const through = rowThrough(scan, standing, givenM, weighWide);
    const usualEvidence = usual === null ? -Infinity : weighWide(usual.placesM).lnEvidence;
    if (through && through.lnEvidence > usualEvidence && isBelieved(through))
      return asFound(scan, standing, through);
  }
  return usual && asFound(scan, standing, usual);
}

function asFound(scan: EventScan, standing: readonly FoundEvent[], row: WeighedRow): JointRow {
  const { lnEvidenceOfAll: lnEvidence, stepRmsM } = row;
  return { ...settledRow(scan, standing, row), lnEvidence, stepRmsM };
}

/**
 * The row of about the given spacing that the most speaks for of those laid through one of the events, joints where events stand. Of so
 * few rows chance meets many events hardly ever, so that each may lie as far off as one joint may.
 */
function rowThrough(
  scan: EventScan,
  standing: readonly FoundEvent[],
  givenM: number,
  weigh: (placesM: readonly number[]) => RowWeight,
): WeighedRow | null {
  const rows = standing
    .map(({ placeM }) => seenPlaces(scan, { spacingM: givenM, firstM: placeM }))
    .filter((placesM) => placesM.length >= LEAST_JOINTS)
    .map((placesM) => settledRow(scan, standing, { spacingM: givenM, placesM }))
    .filter(({ spacingM }) => Math.abs(spacingM / givenM - 1) <= GIVEN_SHARE)
    .map((row) => ({ ...row, ...weigh(row.placesM) }));
  return rows.reduce<WeighedRow | null>(
    (best, row) => (best === null || row.lnEvidence > best.lnEvidence ? row : best),
    null,
  );
}

/** All rows that may be there, joints where they are seen, with their evidence; those with fewer than four joints left out. */
export function weighedRows(
  scan: EventScan,
  options: JointRowOptions,
  weigh: (placesM: readonly number[]) => RowWeight,
): WeighedRow[] {
  return rowCandidates(scan, options.givenSpacingM ?? null)
    .map((even) => followedRow(scan, even, LEAST_JOINTS))
    .filter((row) => row !== null)
    .map((row) => ({ ...row, ...weigh(row.placesM) }));
}

function chosenRow(
  rows: readonly WeighedRow[],
  givenM: number | null,
  weigh: (placesM: readonly number[]) => RowWeight,
): WeighedRow | null {
  if (givenM !== null) {
    const near = rows.filter(({ spacingM }) => Math.abs(spacingM / givenM - 1) <= GIVEN_SHARE);
    const given = widestRow(near);
    if (given && rows.every((row) => explainsAsMuch(given, row))) return given;
  }
  const widest = widestRow(rows);
  return widest && thinnedRow(widest, weigh);
}

/**
 * What chance says of the places of a row. An event that stands by itself and lies on the row counts ln of the places per such event:
 * to be there by chance would cost that; one of them is free, for the row was laid through it. Any other joint was moved to its best score, which gains it something on any floor, and that
 * is taken off.
 *
 * @param reachM how far an event may lie from its joint
 */
function chance(
  scan: EventScan,
  found: readonly FoundEvent[],
  rowM: readonly number[],
  reachM: number,
): number {
  const hits = rowM.filter((joint) => found.some(({ placeM }) => Math.abs(placeM - joint) <= reachM)).length;
  const { placesM } = scan;
  const places = (placesM[placesM.length - 1] - placesM[0]) / (2 * reachM);
  const onTheRow = Math.max(0, hits - 1) * Math.max(0, Math.log(places / Math.max(1, found.length)));
  return onTheRow - (rowM.length - hits) * MOVED_GAIN;
}
