/** Where a key takes the cursor among the places that can be read. Pure functions. */
import { nearestIndex } from '../charts/index.js';

/** Places that a page key steps over. */
const PAGE = 10;

/** How many places each key goes on; the ends are as far as it takes. */
const STEPS: Readonly<Record<string, number>> = {
  ArrowLeft: -1,
  ArrowDown: -1,
  ArrowRight: 1,
  ArrowUp: 1,
  PageDown: -PAGE,
  PageUp: PAGE,
  Home: -Infinity,
  End: Infinity,
};

/** Places that a key goes on, negative for back; null for a key that does not step. */
export function stepOf(key: string): number | null {
  return Object.hasOwn(STEPS, key) ? STEPS[key] : null;
}

/**
 * The place after a step. Where nothing was read yet, any step but one to an end goes to the first place.
 *
 * @param stops ascending
 * @param by places to go on; infinite for an end
 * @returns null where there is no place at all
 */
export function placeAfter(stops: readonly number[], at: number | null, by: number): number | null {
  if (stops.length === 0) return null;
  const last = stops.length - 1;
  const goal = at === null ? (by === Infinity ? last : 0) : nearestIndex(stops, at) + by;
  return stops[Math.min(last, Math.max(0, goal))];
}
