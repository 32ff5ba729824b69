/** Where new tracks start: corners spread over the picture, the emptiest bucket served first; whole pixels before dither. */
import { quantile } from '../numerics/index.js';
import type { Corners } from './corners.js';
import { GRID } from './options.js';

/** Weakest corner that may be used, as a share of the strong corners of the same picture. */
const QUALITY = 0.003;

/** Quantile of the corner strengths that stands for "strong": a few very strong corners do not set the scale. */
const STRONG_QUANTILE = 0.99;

/** A list of positions as columns, px. */
export interface Positions {
  readonly xPx: readonly number[];
  readonly yPx: readonly number[];
}

/** What the choice of starts needs to know. */
export interface StartRequest {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Most starts to give. */
  readonly count: number;
  /** Smallest distance between a start and any live track or other start, px. */
  readonly spacingPx: number;
}

/** Bucket of a position, row by row. */
export function bucketOf(xPx: number, yPx: number, widthPx: number, heightPx: number): number {
  const column = Math.min(GRID.columns - 1, Math.max(0, Math.floor((xPx * GRID.columns) / widthPx)));
  const row = Math.min(GRID.rows - 1, Math.max(0, Math.floor((yPx * GRID.rows) / heightPx)));
  return row * GRID.columns + column;
}

/**
 * Chooses up to `request.count` starts. Each goes to the bucket that holds the fewest tracks so far, the strongest
 * corner deciding between equals, and keeps its distance from all others.
 * @param corners corners of the picture, in any number of lists
 * @param live positions of the tracks that are alive
 */
export function chooseStarts(corners: readonly Corners[], live: Positions, request: StartRequest): Positions {
  const { widthPx, heightPx } = request;
  const buckets = rankedBuckets(corners, widthPx, heightPx);
  const filled = new Int32Array(buckets.length);
  for (let i = 0; i < live.xPx.length; i++)
    filled[bucketOf(live.xPx[i], live.yPx[i], widthPx, heightPx)] += 1;
  const takenX = [...live.xPx];
  const takenY = [...live.yPx];
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
function rankedBuckets(corners: readonly Corners[], widthPx: number, heightPx: number): Candidate[][] {
  const buckets: Candidate[][] = Array.from({ length: GRID.columns * GRID.rows }, () => []);
  const strengths = Float64Array.from(corners.flatMap((list) => [...list.strength]));
  if (strengths.length === 0) return buckets;
  const weakest = QUALITY * quantile(strengths, STRONG_QUANTILE);
  for (const list of corners) {
    for (let i = 0; i < list.strength.length; i++) {
      if (list.strength[i] < weakest) continue;
      const candidate = { x: list.xPx[i], y: list.yPx[i], strength: list.strength[i] };
      buckets[bucketOf(candidate.x, candidate.y, widthPx, heightPx)].push(candidate);
    }
  }
  for (const bucket of buckets) bucket.sort((a, b) => b.strength - a.strength || a.y - b.y || a.x - b.x);
  return buckets;
}
