/**
 * The deck's series as sums over heights, metres: nodes wherever an axle was when a frame was taken, and per frame the node heights
 * that pitch, heave or roll is made of.
 *
 * The front axle's places are nodes of their own. Reading them between the rear axle's would leave out how far a rough floor strays
 * from a straight line within one frame's way, which is more than the noise of the pitch.
 */
import { emptyRows, type SparseRows } from '../../numerics/index.js';
import type { NoisySeries } from '../deck/lens-path.js';
import type { RolledDeck } from '../deck/rolled-deck.js';
import { frameStepM } from './stretches.js';
import type { TrackSum } from './types.js';

/** Places nearer than this share of a frame's way are one node. */
const MERGED_SHARE = 0.05;
/** So are places nearer than this, metres: no wheel feels the difference. */
const MERGED_M = 0.00025;

/** A deck series as sums over heights; y = rows h + noise. */
export interface HeightSeries {
  /** Four entries a frame: two nodes about the rear axle, two about the front axle. `right` holds the series itself. */
  readonly rows: SparseRows;
  readonly noiseSd: number;
}

/** Nodes of a deck, rising, metres: all places of both axles, merged when next to the same. */
export function heightNodes(deck: RolledDeck): Float64Array {
  const { rearM, frontAheadM } = deck;
  const places = new Float64Array(2 * rearM.length);
  places.set(rearM);
  places.set(
    rearM.map((place) => place + frontAheadM),
    rearM.length,
  );
  places.sort();
  const merged = Math.max(MERGED_SHARE * frameStepM(deck), MERGED_M);
  let last = -Infinity;
  return places.filter((place) => {
    const kept = place - last > merged;
    if (kept) last = place;
    return kept;
  });
}

/** The series that see `track`, as sums over the heights at `nodesM`; none when the deck does not show that sum. */
export function heightSeries(
  deck: RolledDeck,
  track: TrackSum,
  nodesM: Readonly<Float64Array>,
): HeightSeries[] {
  const { wheelbaseM, trackWidthM, pitchRad, heaveM, rollRad } = deck;
  const found: HeightSeries[] = [];
  const add = ({ values, noiseSd }: NoisySeries, rear: number, front: number): void => {
    found.push({ rows: axleRows(deck, nodesM, rear, front, values), noiseSd });
  };
  if (track === 'mean') {
    if (pitchRad !== null) add(pitchRad, -1 / wheelbaseM, 1 / wheelbaseM);
    if (heaveM !== null) add(heaveM, 1 / 2, 1 / 2);
  } else if (rollRad !== null && trackWidthM !== null) {
    add(rollRad, 1 / (2 * trackWidthM), 1 / (2 * trackWidthM));
  }
  return found;
}

/** The gap that holds a place, by its lower node, and how far into it the place lies, 0..1; exact at a node, clamped at the ends. */
export function nodesAbout(
  nodesM: Readonly<Float64Array>,
  placeM: number,
): { readonly low: number; readonly share: number } {
  let low = 0;
  let high = nodesM.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (nodesM[middle] <= placeM) low = middle;
    else high = middle;
  }
  const share = (placeM - nodesM[low]) / (nodesM[high] - nodesM[low]);
  return { low, share: Math.min(1, Math.max(0, share)) };
}

function axleRows(
  { rearM, frontAheadM }: RolledDeck,
  nodesM: Readonly<Float64Array>,
  rear: number,
  front: number,
  values: Readonly<Float64Array>,
): SparseRows {
  const rows = emptyRows(rearM.length, 4);
  const write = (at: number, placeM: number, factor: number): void => {
    const { low, share } = nodesAbout(nodesM, placeM);
    rows.columns[at] = low;
    rows.coefficients[at] = factor * (1 - share);
    rows.columns[at + 1] = low + 1;
    rows.coefficients[at + 1] = factor * share;
  };
  for (let i = 0; i < values.length; i++) {
    const place = rearM[i];
    write(4 * i, place, rear);
    write(4 * i + 2, place + frontAheadM, front);
    rows.right[i] = values[i];
  }
  return rows;
}
