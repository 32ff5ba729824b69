/** Where the joints of a row are seen along the run, metres: the best score near each even place, and the spacing through them. */
import { searchM, type EvenRow } from './row-candidates.js';
import type { EventScan } from './types.js';

/** Joints nearer to an end of the run than this are not counted, frame steps. */
const END_FRAME_STEPS = 0.5;
/** Scatter of the places about an even row that is expected beforehand, frame steps (measured: a quarter), and its weight in joints. */
const SCATTER_FRAME_STEPS = 0.25;
const SCATTER_JOINTS = 4;

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
export function sharpenedPlace(scan: EventScan, placeM: number): number {
  const { placesM, score, spacingM } = scan;
  const i = Math.round((placeM - placesM[0]) / spacingM);
  if (i < 1 || i >= score.length - 1) return placeM;
  const bend = score[i - 1] - 2 * score[i] + score[i + 1];
  if (!(bend < 0) || score[i] < score[i - 1] || score[i] < score[i + 1]) return placesM[i];
  return placesM[i] + (spacingM * (score[i - 1] - score[i + 1])) / (2 * bend);
}

/** Spacing of joints by regression of their places on their number, metres, with its standard deviation. */
export function spacingThrough(
  placesM: readonly number[],
  spacingM: number,
  frameStepM: number,
): { spacingM: number; spacingSdM: number } {
  const n = placesM.length;
  const index = placesM.map((place) => Math.round((place - placesM[0]) / spacingM));
  const meanIndex = index.reduce((sum, k) => sum + k, 0) / n;
  const meanPlace = placesM.reduce((sum, place) => sum + place, 0) / n;
  let square = 0;
  let product = 0;
  index.forEach((k, i) => {
    square += (k - meanIndex) ** 2;
    product += (k - meanIndex) * (placesM[i] - meanPlace);
  });
  const slope = product / square;
  let rest = SCATTER_JOINTS * (SCATTER_FRAME_STEPS * frameStepM) ** 2;
  index.forEach((k, i) => (rest += (placesM[i] - meanPlace - slope * (k - meanIndex)) ** 2));
  return { spacingM: slope, spacingSdM: Math.sqrt(rest / (n - 2 + SCATTER_JOINTS) / square) };
}
