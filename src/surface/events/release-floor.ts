/**
 * What a stretch still says of added shapes once the floor may step freely at some places: information in 1/m^2 and score in 1/m,
 * both summed from each node on.
 *
 * An event that was found is not fitted by its shape alone, since no real event has quite that shape: every gap between nodes within
 * its reach becomes a step of its own with a prior of 2 mm, which takes any shape. Each such step is a rank-one change of the
 * information. Own derivation.
 */
import type { Release } from '../profile/surface-profile.js';
import type { StretchInformation } from '../profile/types.js';
import { along, firstNodeFrom, type SparseColumn } from './shapes.js';

/** Size of a freed step beforehand, metres. */
export const FREE_STEP_M = 0.002;

/** Beyond the half way of the exposure, how far about an event the floor is freed: wheel and edge, metres. */
const FREED_ABOUT_M = 0.007;

/** How one freed step changes all others: information S -> S - weights weights', score s -> s - weights pull. */
export interface FreedStep {
  readonly weights: Float64Array;
  readonly pull: number;
}

/** The floor that is freed for an event of that length at a place; a step has none. */
export function releaseAt(placeM: number, lengthM: number, blurM: number): Release {
  return { placeM, halfWidthM: lengthM / 2 + blurM / 2 + FREED_ABOUT_M };
}

/** Gaps whose middles lie within a release, by the node behind them; the nearest gap when there is none and the place is inside. */
export function gapsWithin(nodesM: Readonly<Float64Array>, { placeM, halfWidthM }: Release): number[] {
  const gaps: number[] = [];
  const first = Math.max(1, firstNodeFrom(nodesM, placeM - halfWidthM));
  for (let i = first; i < nodesM.length && nodesM[i - 1] < placeM + halfWidthM; i++) {
    if (Math.abs((nodesM[i - 1] + nodesM[i]) / 2 - placeM) < halfWidthM) gaps.push(i);
  }
  const inside = placeM > nodesM[0] && placeM <= nodesM[nodesM.length - 1];
  return gaps.length === 0 && inside ? [firstNodeFrom(nodesM, placeM)] : gaps;
}

/** Information and score of a stretch with steps freed one after the other; the information given is copied. */
export class FreedFloor {
  readonly nodesM: Float64Array;
  private readonly sums: Float64Array;
  private readonly scores: Float64Array;
  private readonly steps = new Map<number, Float64Array>();

  constructor({ nodesM, information, score }: StretchInformation) {
    this.nodesM = nodesM;
    this.sums = sumsFromEachNode(information, nodesM.length);
    const scores = Float64Array.from(score);
    for (let i = nodesM.length - 2; i >= 0; i--) scores[i] += scores[i + 1];
    this.scores = scores;
  }

  /** e' Q f, 1/m^2. */
  product(e: SparseColumn, f: SparseColumn): number {
    const n = this.nodesM.length;
    let sum = 0;
    for (let a = 0; a < e.at.length; a++)
      sum += e.by[a] * along(f, this.sums.subarray(e.at[a] * n, (e.at[a] + 1) * n));
    for (const weights of this.steps.values()) sum -= along(e, weights) * along(f, weights);
    return sum;
  }

  /** e' score, 1/m. */
  score(e: SparseColumn): number {
    return along(e, this.scores);
  }

  /**
   * Frees the step between node `gap - 1` and node `gap`.
   *
   * @returns null when it is free already
   */
  free(gap: number): FreedStep | null {
    if (this.steps.has(gap)) return null;
    const n = this.nodesM.length;
    const weights = this.sums.slice(gap * n, (gap + 1) * n);
    for (const other of this.steps.values()) {
      const factor = other[gap];
      for (let j = 0; j < n; j++) weights[j] -= factor * other[j];
    }
    const scale = 1 / Math.sqrt(weights[gap] + FREE_STEP_M ** -2);
    for (let j = 0; j < n; j++) weights[j] *= scale;
    const pull = this.scores[gap] * scale;
    for (let j = 0; j < n; j++) this.scores[j] -= weights[j] * pull;
    this.steps.set(gap, weights);
    return { weights, pull };
  }
}

/** S(i, j): sum of a matrix over all rows from i and columns from j on. */
export function sumsFromEachNode(matrix: Readonly<Float64Array>, n: number): Float64Array {
  const sums = Float64Array.from(matrix);
  for (let i = n - 1; i >= 0; i--) {
    const row = i * n;
    for (let j = n - 2; j >= 0; j--) sums[row + j] += sums[row + j + 1];
    if (i === n - 1) continue;
    for (let j = 0; j < n; j++) sums[row + j] += sums[row + n + j];
  }
  return sums;
}
