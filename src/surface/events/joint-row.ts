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
import { followedRow, settledRow } from './row-places.js';
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
 *   and when kicks of one axle's wheels explain such a row about as well
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
  const weigh = (placesM: readonly number[]): RowWeight => {
    const all = rowEvidence(stretches, placesM, columns);
    return {
      lnEvidence: rowEvidence(released, placesM, columns).lnEvidence + chance(scan, standing, placesM),
      lnEvidenceOfAll: all.lnEvidence,
      stepRmsM: all.stepRmsM,
    };
  };
  const row = chosenRow(weighedRows(scan, options, weigh), options.givenSpacingM ?? null, weigh);
  if (row === null || row.placesM.length < LEAST_JOINTS) return null;
  const { lnEvidenceOfAll: lnEvidence, stepRmsM } = row;
  if (row.lnEvidence <= EVIDENCE_BEYOND || lnEvidence <= ROW_EVIDENCE) return null;
  if (deck && wheelEvidence(scan, stretches, deck, row.placesM) > WHEEL_SHARE * lnEvidence) return null;
  return { ...settledRow(scan, standing, row), lnEvidence, stepRmsM };
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
 */
function chance(scan: EventScan, found: readonly FoundEvent[], rowM: readonly number[]): number {
  const reach = searchM(scan);
  const hits = rowM.filter((joint) => found.some(({ placeM }) => Math.abs(placeM - joint) <= reach)).length;
  const { placesM } = scan;
  const places = (placesM[placesM.length - 1] - placesM[0]) / (2 * reach);
  const onTheRow = Math.max(0, hits - 1) * Math.max(0, Math.log(places / Math.max(1, found.length)));
  return onTheRow - (rowM.length - hits) * MOVED_GAIN;
}
