/** Where the joints of a row are seen along the run, metres: the best score near each even place, and the spacing through them. */
import { searchM, type EvenRow } from './row-candidates.js';
import { placeSdM } from './list-events-places.js';
import type { EventScan, FoundEvent, JointRow } from './types.js';

/** Joints nearer to an end of the run than this are not counted, frame steps. */
const END_FRAME_STEPS = 0.5;
/** Beforehand the scatter of the places about a row is taken to be as claimed; that weighs as much as so many joints. */
const SCATTER_JOINTS = 4;
const SAME_JOINT_M = 0.015;
const SAME_JOINT_FRAME_STEPS = 0.8;
const SETTLING_ROUNDS = 2;

/** The places of an even row from one end of the run to the other, each moved to the best score within the search distance. */
export function seenPlaces(scan: EventScan, { spacingM, firstM }: EvenRow): number[] {
  const { placesM, score, spacingM: gridM } = scan;
  const start = placesM[0];
  const end = placesM[placesM.length - 1];
  const margin = END_FRAME_STEPS * scan.frameStepM;
  const reach = searchM(scan);
  const places: number[] = [];
  const first = firstM - Math.floor((firstM - start) / spacingM) * spacingM;
  for (let k = 0; first + k * spacingM < end; k++) {
    const even = first + k * spacingM;
    let best = -1;
    const from = Math.max(0, Math.ceil((even - reach - start) / gridM - 1e-9));
    const to = Math.min(placesM.length - 1, Math.floor((even + reach - start) / gridM + 1e-9));
    for (let i = from; i <= to; i++) if (best < 0 || score[i] > score[best]) best = i;
    const seen = best < 0 ? even : placesM[best];
    if (seen > start + margin && seen < end - margin) places.push(seen);
  }
  return places;
}

/** A place between the candidates: the top of the parabola through its score and both neighbours'. */
function sharpenedPlace(scan: EventScan, placeM: number): number {
  const { placesM, score, spacingM } = scan;
  const i = Math.round((placeM - placesM[0]) / spacingM);
  if (i < 1 || i >= score.length - 1) return placeM;
  const bend = score[i - 1] - 2 * score[i] + score[i + 1];
  if (!(bend < 0) || score[i] < score[i - 1] || score[i] < score[i + 1]) return placesM[i];
  return placesM[i] + (spacingM * (score[i - 1] - score[i + 1])) / (2 * bend);
}

/**
 * Places of a row that was laid out roughly, the even places following the joints: many spacings reach the same joints within the
 * search distance, and the one in their middle reaches them best.
 *
 * @returns null when the run holds fewer than `least` of them
 */
export function followedRow(
  scan: EventScan,
  even: EvenRow,
  least: number,
): { readonly spacingM: number; readonly placesM: readonly number[] } | null {
  let line = even;
  let placesM = seenPlaces(scan, line);
  for (let round = 0; round < SETTLING_ROUNDS && placesM.length >= least; round++) {
    line = lineThrough(scan, placesM, line.spacingM);
    placesM = seenPlaces(scan, line);
  }
  return placesM.length >= least ? { spacingM: line.spacingM, placesM } : null;
}

/** An event this near to a joint of a row is that joint, metres: 15 mm, or most of a frame step. */
export function sameJointM(frameStepM: number): number {
  return Math.max(SAME_JOINT_M, SAME_JOINT_FRAME_STEPS * frameStepM);
}

/**
 * Lays a row out anew through its joints: each goes where an event stands by itself, or else to the best score near its even place,
 * and the even places follow the joints.
 *
 * @param row at least three joints
 * @returns places of all joints within the run, and the spacing by weighted regression of their places on their number
 */
export function settledRow(
  scan: EventScan,
  found: readonly FoundEvent[],
  row: { readonly spacingM: number; readonly placesM: readonly number[] },
): Pick<JointRow, 'placesM' | 'spacingM' | 'spacingSdM'> {
  const same = sameJointM(scan.frameStepM);
  const own = (place: number): number => {
    const near = found.filter(({ placeM }) => Math.abs(placeM - place) <= same);
    if (near.length === 0) return sharpenedPlace(scan, place);
    return sharpenedPlace(
      scan,
      near.reduce((best, event) => (event.score > best.score ? event : best)).placeM,
    );
  };
  let placesM = row.placesM.map(own);
  let line = lineThrough(scan, placesM, row.spacingM);
  for (let round = 0; round < SETTLING_ROUNDS; round++) {
    placesM = seenPlaces(scan, line).map(own);
    line = lineThrough(scan, placesM, line.spacingM);
  }
  return { placesM, spacingM: line.spacingM, spacingSdM: line.spacingSdM };
}

/** Regression of places on their number, each weighed by how well its place is known. */
function lineThrough(
  scan: EventScan,
  placesM: readonly number[],
  spacingM: number,
): EvenRow & { readonly spacingSdM: number } {
  const weights = placesM.map((place) => placeSdM(scan, place) ** -2);
  const index = placesM.map((place) => Math.round((place - placesM[0]) / spacingM));
  const total = weights.reduce((sum, w) => sum + w, 0);
  const mean = (values: readonly number[]): number =>
    values.reduce((sum, v, i) => sum + weights[i] * v, 0) / total;
  const meanIndex = mean(index);
  const meanPlace = mean(placesM);
  let square = 0;
  let product = 0;
  index.forEach((k, i) => {
    square += weights[i] * (k - meanIndex) ** 2;
    product += weights[i] * (k - meanIndex) * (placesM[i] - meanPlace);
  });
  const slope = product / square;
  let rest = SCATTER_JOINTS;
  index.forEach((k, i) => (rest += weights[i] * (placesM[i] - meanPlace - slope * (k - meanIndex)) ** 2));
  const scatter = Math.max(1, rest / (placesM.length - 2 + SCATTER_JOINTS));
  return { spacingM: slope, firstM: meanPlace - slope * meanIndex, spacingSdM: Math.sqrt(scatter / square) };
}
