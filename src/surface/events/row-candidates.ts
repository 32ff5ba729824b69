/** Where rows of joints may lie: spacings and first places, metres, whose places score best together along the run. */
import { chiSquareQuantile } from '../../numerics/index.js';
import { LEAST_JOINTS } from './row-evidence.js';
import type { EventScan } from './types.js';

/** Spacings that are looked at, metres: from small tiles to boards. */
const SPACINGS_M: readonly [number, number] = [0.1, 1.4];

/** A score beyond this tail counts no more than at it, so that a few strong events do not outweigh all places between them. */
const CAP_TAIL = 1e-5;
/** A joint is looked for this far from its place, in frame steps, or as much of what smears it; of 8 mm at least. */
const SEARCH_FRAME_STEPS = 0.4;
const LEAST_FRAME_STEP_M = 0.008;
/** Best spacings that are kept, how far apart they are at least, metres, and of how many the multiples are looked at, too. */
const KEPT = 12;
const APART_M = 0.004;
const MULTIPLIED = 6;
const MULTIPLES = [2, 3, 4, 5] as const;
/** A given spacing is believed to this share. */
export const GIVEN_SHARE = 0.03;

/** A row as laid out evenly: joints at firstM + k spacingM up to the end of the run. */
export interface EvenRow {
  readonly spacingM: number;
  readonly firstM: number;
}

interface ScoredRow extends EvenRow {
  readonly z: number;
}

/** How far a joint may lie from its even place, metres. */
export function searchM(scan: EventScan): number {
  return SEARCH_FRAME_STEPS * Math.max(scan.frameStepM, scan.blurM, LEAST_FRAME_STEP_M);
}

/**
 * The dozen best spacings, also shifted by a half, with the multiples of the best six, and the spacings near a given one.
 *
 * Scores are capped, the best within the search distance is taken at every place, and the sum over a row is compared with what as
 * many places of this run give by chance.
 *
 * @param givenM spacing that is known of the floor or rail, metres; null when none is
 * @returns those near the given one first, else best first; empty for runs that hold no four joints 0.1 m apart
 */
export function rowCandidates(scan: EventScan, givenM: number | null): EvenRow[] {
  const { placesM } = scan;
  const deviation = deviations(bestNearby(scan));
  if (deviation === null) return [];
  const spanM = placesM[placesM.length - 1] - placesM[0];
  const longest = spanM / (LEAST_JOINTS - 1);
  const best = (fromM: number, toM: number, most: number): EvenRow[] => {
    const rows: ScoredRow[] = [];
    for (const spacingM of spacings(fromM, Math.min(toM, longest), spanM, searchM(scan)))
      rows.push(bestPhase(deviation, scan, spacingM));
    return bestApart(rows, most);
  };
  const kept = best(...SPACINGS_M, KEPT);
  const multiples = kept.slice(0, MULTIPLIED).flatMap(({ spacingM, firstM }) =>
    MULTIPLES.filter((times) => times * spacingM < Math.min(SPACINGS_M[1], longest)).flatMap((times) =>
      Array.from({ length: times }, (_, k) => ({
        spacingM: times * spacingM,
        firstM: firstM + k * spacingM,
      })),
    ),
  );
  const near =
    givenM === null ? [] : best(givenM * (1 - GIVEN_SHARE), givenM * (1 + GIVEN_SHARE), MULTIPLIED);
  // With a wheelbase of so many spacings and a half, the second kicks make a row of their own half-way.
  const halfWay = kept.map(({ spacingM, firstM }) => ({ spacingM, firstM: firstM + spacingM / 2 }));
  return [...near, ...kept, ...halfWay, ...multiples];
}

/** How far each place is above the mean, in standard deviations; null where all are alike. */
function deviations(values: Float64Array): Float64Array | null {
  const count = values.length;
  let mean = 0;
  for (let i = 0; i < count; i++) mean += values[i] / count;
  let square = 0;
  for (let i = 0; i < count; i++) square += (values[i] - mean) ** 2 / count;
  return square > 0 ? values.map((value) => (value - mean) / Math.sqrt(square)) : null;
}

/** The first place from which a row of this spacing scores best, in standard deviations of a sum of as many places. */
function bestPhase(
  deviation: Float64Array,
  { placesM, spacingM: gridM }: EventScan,
  spacingM: number,
): ScoredRow {
  const last = placesM.length - 1;
  const perJoint = spacingM / gridM;
  const joints = Math.floor(last / perJoint);
  let best = -Infinity;
  let bestAt = 0;
  for (let phase = 0; phase < perJoint; phase++) {
    let sum = 0;
    for (let k = 0, at = phase + 0.5; k < joints; k++, at += perJoint)
      sum += deviation[Math.min(at | 0, last)];
    if (sum > best) {
      best = sum;
      bestAt = phase;
    }
  }
  return { spacingM, firstM: placesM[0] + bestAt * gridM, z: best / Math.sqrt(joints) };
}

/** Capped score, the best within the search distance of each place. */
function bestNearby(scan: EventScan): Float64Array {
  const cap = chiSquareQuantile(1 - CAP_TAIL, scan.degreesOfFreedom);
  const reach = Math.max(1, Math.round(searchM(scan) / scan.spacingM));
  return scan.score.map((_, i) => {
    let best = 0;
    const end = Math.min(scan.score.length - 1, i + reach);
    for (let k = Math.max(0, i - reach); k <= end; k++) if (scan.score[k] > best) best = scan.score[k];
    return Math.min(best, cap);
  });
}

/** Spacings so dense that the joints at the ends of the run are never more than half a search distance beside the row. */
function* spacings(fromM: number, toM: number, spanM: number, reachM: number): Generator<number> {
  for (let spacingM = fromM; spacingM < toM; spacingM *= 1 + reachM / spanM) yield spacingM;
}

function bestApart(rows: readonly ScoredRow[], most: number): EvenRow[] {
  const picked: ScoredRow[] = [];
  for (const row of [...rows].sort((a, b) => b.z - a.z)) {
    if (picked.length === most) break;
    if (picked.every(({ spacingM }) => Math.abs(spacingM - row.spacingM) > APART_M)) picked.push(row);
  }
  return picked;
}
