/** Where new tracks start: corners spread over the picture, the emptiest bucket served first; whole pixels before dither. */
import { quantile } from '../numerics/index.js';
import type { Corners } from '../vision/index.js';
import { BUCKETS, bucketOf, fillOf, type Positions } from './buckets.js';

/** Weakest corner that may be used, as a share of the strong corners of the same picture. */
const QUALITY = 0.003;

/** Quantile of the corner strengths that stands for "strong": a few very strong corners do not set the scale. */
const STRONG_QUANTILE = 0.99;

/** What the choice of starts needs to know. */
export interface StartRequest {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Most starts to give. */
  readonly count: number;
  /** Smallest distance between a start and any live track or other start, px. */
  readonly spacingPx: number;
  /** Corners weaker than this are passed over; see weakestUseful. */
  readonly weakest: number;
}

/** Strength below which a corner is too weak beside the strong ones of the same picture; 0 when there is no corner. */
export function weakestUseful(corners: readonly Corners[]): number {
  const strengths: number[] = [];
  for (const list of corners) for (const strength of list.strength) strengths.push(strength);
  return strengths.length ? QUALITY * quantile(strengths, STRONG_QUANTILE) : 0;
}

/**
 * Chooses up to `request.count` starts. Each goes to the bucket that holds the fewest tracks so far, the strongest
 * corner deciding between equals, and keeps its distance from all others.
 * @param corners corners of the picture, in any number of lists
 * @param live positions of the tracks that are alive
 */
export function chooseStarts(corners: readonly Corners[], live: Positions, request: StartRequest): Positions {
  const { widthPx, heightPx } = request;
  const buckets = rankedBuckets(corners, request);
  const filled = fillOf(live, widthPx, heightPx);
  const takenX = Array.from(live.xPx);
  const takenY = Array.from(live.yPx);
  const next = new Int32Array(buckets.length);
  const nearest = request.spacingPx * request.spacingPx;
  const xPx: number[] = [];
  const yPx: number[] = [];

  const isFree = (x: number, y: number): boolean => {
    for (let i = 0; i < takenX.length; i++) {
      const dx = takenX[i] - x;
      const dy = takenY[i] - y;
      if (dx * dx + dy * dy < nearest) return false;
    }
    return true;
  };

  while (xPx.length < request.count) {
    let best = -1;
    for (let b = 0; b < buckets.length; b++) {
      if (next[b] >= buckets[b].length) continue;
      const emptier = best < 0 || filled[b] < filled[best];
      const stronger =
        best >= 0 &&
        filled[b] === filled[best] &&
        buckets[b][next[b]].strength > buckets[best][next[best]].strength;
      if (emptier || stronger) best = b;
    }
    if (best < 0) break;
    const { x, y } = buckets[best][next[best]];
    next[best] += 1;
    if (!isFree(x, y)) continue;
    takenX.push(x);
    takenY.push(y);
    xPx.push(x);
    yPx.push(y);
    filled[best] += 1;
  }
  return { xPx, yPx };
}

interface Candidate {
  readonly x: number;
  readonly y: number;
  readonly strength: number;
}

/** Corners that are strong enough, by bucket, strongest first. */
function rankedBuckets(corners: readonly Corners[], request: StartRequest): Candidate[][] {
  const buckets: Candidate[][] = Array.from({ length: BUCKETS }, () => []);
  for (const list of corners) {
    for (let i = 0; i < list.strength.length; i++) {
      if (list.strength[i] < request.weakest) continue;
      const candidate = { x: list.xPx[i], y: list.yPx[i], strength: list.strength[i] };
      buckets[bucketOf(candidate.x, candidate.y, request.widthPx, request.heightPx)].push(candidate);
    }
  }
  for (const bucket of buckets) bucket.sort((a, b) => b.strength - a.strength || a.y - b.y || a.x - b.x);
  return buckets;
}
