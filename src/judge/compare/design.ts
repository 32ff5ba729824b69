/** How the passes of two setups lie on the lanes of a floor, and how far a difference between them reaches. */
import type { ComparedPair } from '../../run/index.js';

export type Design = ComparedPair['design'];
export type Claim = ComparedPair['claim'];

/** One lane with what was rolled on it under either setup; a list may be empty. */
export interface LaneSides<Value> {
  readonly lane: string;
  readonly a: readonly Value[];
  readonly b: readonly Value[];
}

/** The lanes that count in a comparison. */
export interface LaneDesign<Value> {
  readonly design: Design;
  readonly lanes: readonly LaneSides<Value>[];
  /** Lanes that only one setup ran on, while others had both: left out, for floor and setup cannot be told apart there. */
  readonly leftOut: readonly string[];
}

/**
 * Lanes with both setups count alone wherever there is one: pass against pass on the same strip of floor. Where no lane has both,
 * each setup stands for the lanes that it was run on.
 */
export function designOf<Value>(sides: readonly LaneSides<Value>[]): LaneDesign<Value> {
  const used = sides.filter(({ a, b }) => a.length + b.length > 0);
  const both = used.filter(({ a, b }) => a.length > 0 && b.length > 0);
  if (both.length === 0) return { design: 'ownLanes', lanes: used, leftOut: [] };
  const leftOut = used.filter((lane) => !both.includes(lane)).map(({ lane }) => lane);
  return { design: both.length === 1 ? 'oneLane' : 'pairedLanes', lanes: both, leftOut };
}

/** A single lane speaks for itself; a lane each cannot tell the floor from the setup; several lanes stand for floors like these. */
export function claimOf<Value>({ design, lanes }: LaneDesign<Value>): Claim {
  if (design === 'oneLane') return 'thisLane';
  if (design === 'pairedLanes') return 'floorsLikeThese';
  const least = Math.min(...(['a', 'b'] as const).map((side) => lanesWith(lanes, side).length));
  return least < 2 ? 'nothing' : 'floorsLikeThese';
}

/** Lanes that one side ran on. */
export function lanesWith<Value>(
  lanes: readonly LaneSides<Value>[],
  side: 'a' | 'b',
): readonly LaneSides<Value>[] {
  return lanes.filter((lane) => lane[side].length > 0);
}
