/**
 * Whether a row of joints is rather one wheel that kicks once per turn: ln of the Bayes factor of kicks of an axle (metres) at the
 * places of the row.
 *
 * A joint kicks the front axle and, a wheelbase later, the rear one at the same place. A flat spot kicks its own axle only, or both
 * at the same time when both have one. The nodes of a stretch are the places of either axle, so a kick of one axle is a shape on its
 * nodes alone. Own derivation.
 */
import { nodesAbout } from '../profile/height-rows.js';
import { stretchDeck } from '../profile/stretches.js';
import type { StretchInformation } from '../profile/types.js';
import type { RolledDeck } from '../deck/rolled-deck.js';
import { rowEvidence, type JointColumns, type OpenStretch } from './row-evidence.js';
import { unitBump, type SparseColumn } from './shapes.js';
import type { EventScan } from './types.js';

/** Lengths of the kick of a flat spot or of something stuck to a wheel, metres. */
const KICK_LENGTHS_M = [0.015, 0.04] as const;
/** A node this near to a place of an axle, of the gap, is that place. */
const AT_NODE = 0.01;
/** With more of the nodes than this met by both axles, kicks of one cannot be told from joints. */
const MOST_SHARED = 0.2;

/** Which axles kick, each `true` at the place of the row or at the same time. */
interface Kick {
  readonly rear: boolean;
  readonly front: boolean;
  /** The axle that is at the place of the row. */
  readonly at: 'rear' | 'front';
}

const KICKS: readonly Kick[] = [
  { rear: false, front: true, at: 'front' },
  { rear: true, front: false, at: 'rear' },
  { rear: true, front: true, at: 'front' },
  { rear: true, front: true, at: 'rear' },
];

/** Nodes of a stretch where the rear and the front axle were in each frame. */
interface AxleNodes {
  readonly rearM: Float64Array;
  readonly rear: Int32Array;
  readonly front: Int32Array;
}

/**
 * The best evidence of kicks of one axle, or of both at the same time, at the places of a row.
 *
 * @param stretches of the scan, nothing released
 * @returns -Infinity where the axles' places coincide (the wheelbase is a whole number of frame steps), so that nothing can be said
 */
export function wheelEvidence(
  scan: EventScan,
  stretches: readonly OpenStretch[],
  deck: RolledDeck,
  placesM: readonly number[],
): number {
  const axles = new Map(
    scan.stretches
      .flatMap(({ mean, difference }) => (difference ? [mean, difference] : [mean]))
      .map((one): [Float64Array, AxleNodes] => [one.nodesM, axleNodes(deck, one)]),
  );
  if ([...axles.values()].some(({ rear, front }) => sharedShare(rear, front) > MOST_SHARED)) return -Infinity;
  return Math.max(
    ...KICKS.map(
      (kick) => rowEvidence(stretches, placesM, kickColumns(scan, deck.frontAheadM, kick, axles)).lnEvidence,
    ),
  );
}

function axleNodes(deck: RolledDeck, { stretch, nodesM }: StretchInformation): AxleNodes {
  const { rearM, frontAheadM } = stretchDeck(deck, stretch);
  const node = (placeM: number): number => {
    const { low, share } = nodesAbout(nodesM, placeM);
    return share > 1 - AT_NODE ? low + 1 : low;
  };
  return {
    rearM,
    rear: Int32Array.from(rearM, node),
    front: Int32Array.from(rearM, (place) => node(place + frontAheadM)),
  };
}

function sharedShare(rear: Int32Array, front: Int32Array): number {
  const nodes = new Set(rear);
  // Behind the front axle's first place only: before it there is nothing to share.
  const met = rear.filter((node) => node >= front[0]).length;
  return met === 0 ? 0 : front.filter((node) => nodes.has(node)).length / met;
}

function kickColumns(
  { blurM }: EventScan,
  frontAheadM: number,
  { rear, front, at }: Kick,
  axles: ReadonlyMap<Readonly<Float64Array>, AxleNodes>,
): JointColumns {
  const bumps = KICK_LENGTHS_M.map((lengthM) => unitBump(lengthM, blurM));
  return (place, nodesM, track) => {
    const nodes = axles.get(nodesM)!;
    const rearAtM = at === 'rear' ? place : place - frontAheadM;
    const columns = bumps.map(({ heightAt, reachM }) => {
      const heights = new Map<number, number>();
      nodes.rearM.forEach((way, t) => {
        if (Math.abs(way - rearAtM) > reachM) return;
        if (rear) heights.set(nodes.rear[t], heightAt(way - rearAtM));
        if (front) heights.set(nodes.front[t], heightAt(way - rearAtM));
      });
      return columnOf(heights, nodesM.length);
    });
    return track === 'mean' ? columns : columns.slice(0, 1);
  };
}

/** Heights at single ones of `count` nodes, as differences. */
function columnOf(heights: ReadonlyMap<number, number>, count: number): SparseColumn {
  const differences = new Map<number, number>();
  for (const [node, height] of heights) {
    differences.set(node, (differences.get(node) ?? 0) + height);
    if (node + 1 < count) differences.set(node + 1, (differences.get(node + 1) ?? 0) - height);
  }
  const at = [...differences.keys()].sort((a, b) => a - b);
  return { at, by: at.map((node) => differences.get(node)!) };
}
