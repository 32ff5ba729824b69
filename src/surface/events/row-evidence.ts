/**
 * How much better a row of joints explains a pass than a floor without them: ln of the Bayes factor, from joint places in metres.
 *
 * Every joint has a step of its own under each wheel line and a dip, all drawn from normal distributions of one size tau. With
 * eigenpairs (w, u) of the information on these heights, ln Z = sum of u^2 / (w + 1 / tau^2) / 2 - ln(1 + w tau^2) / 2. One strong
 * event must not carry a row of otherwise empty places, so each joint counts no more than it would count alone, at the price of
 * finding its place (own derivation).
 */
import { symmetricEigen } from '../../numerics/index.js';
import type { StretchInformation, TrackSum } from '../profile/types.js';
import { FreedFloor, gapsWithin, releaseAt } from './release-floor.js';
import { columnAt, unitDip, unitStep, type SparseColumn } from './shapes.js';
import type { EventScan, FoundEvent } from './types.js';

/** Sizes of the heights that are tried, metres. */
const STEP_SIZES_M = [0.05e-3, 0.1e-3, 0.2e-3, 0.4e-3, 0.8e-3] as const;

/** Fewer joints are no row. */
export const LEAST_JOINTS = 4;

/** Evidence of one set of places. */
export interface RowEvidence {
  readonly lnEvidence: number;
  /** Size of the heights that explains them best, metres RMS. */
  readonly stepRmsM: number;
}

/** What the joints of a row are made of, under the mean of the tracks and as left minus right. */
export type JointColumns = (
  placeM: number,
  nodesM: Readonly<Float64Array>,
  track: TrackSum,
) => readonly SparseColumn[];

/** A lasting step with a dip beside it; roll sees the step only. */
export function jointColumns(blurM: number): JointColumns {
  const step = unitStep(blurM);
  const dip = unitDip(blurM);
  return (place, nodes, track) =>
    track === 'mean'
      ? [columnAt(step, place, nodes), columnAt(dip, place, nodes)]
      : [columnAt(step, place, nodes)];
}

/** What a stretch says of added shapes, and the part of the run that it answers for. */
export interface OpenStretch {
  readonly fromM: number;
  readonly toM: number;
  readonly tracks: readonly { readonly track: TrackSum; readonly floor: FreedFloor }[];
}

/**
 * Opens all stretches of a scan; cost n^2 each.
 *
 * @param released events whose shape, whatever it is, is let float and counts for nothing
 */
export function openStretches(scan: EventScan, released: readonly FoundEvent[]): OpenStretch[] {
  const open = (information: StretchInformation): OpenStretch['tracks'][number] => {
    const floor = new FreedFloor(information);
    for (const { placeM, lengthM } of released) {
      for (const gap of gapsWithin(floor.nodesM, releaseAt(placeM, lengthM, scan.blurM))) floor.free(gap);
    }
    return { track: information.track, floor };
  };
  return scan.stretches.map(({ mean, difference }, k) => ({
    fromM: k === 0 ? -Infinity : mean.stretch.answersM[0],
    toM: k === scan.stretches.length - 1 ? Infinity : mean.stretch.answersM[1],
    tracks: difference ? [open(mean), open(difference)] : [open(mean)],
  }));
}

/**
 * Evidence of joints at all of these places together.
 *
 * A stretch answers for the joints of its own part; joints next to it, which its nodes still see, are let float: they neither
 * count nor disturb.
 *
 * @param placesM rising, metres
 */
export function rowEvidence(
  stretches: readonly OpenStretch[],
  placesM: readonly number[],
  columns: JointColumns,
): RowEvidence {
  const sums = STEP_SIZES_M.map(() => 0);
  for (const { fromM, toM, tracks } of stretches) {
    for (const { track, floor } of tracks) {
      const { nodesM } = floor;
      const seen = placesM.filter((place) => place > nodesM[0] && place <= nodesM[nodesM.length - 1]);
      const beside = seen.filter((place) => place < fromM || place >= toM);
      if (beside.length === seen.length) continue;
      const lnZ = (places: readonly number[]): number[] =>
        lnEvidences(
          floor,
          places.flatMap((place) => columns(place, nodesM, track)),
        );
      const all = lnZ(seen);
      const others = lnZ(beside);
      sums.forEach((_, t) => (sums[t] += all[t] - others[t]));
    }
  }
  const best = sums.indexOf(Math.max(...sums));
  return { lnEvidence: sums[best], stepRmsM: STEP_SIZES_M[best] };
}

/** ln Z of all columns together, for each size. */
function lnEvidences(floor: FreedFloor, columns: readonly SparseColumn[]): number[] {
  const n = columns.length;
  const { matrix, score } = normalEquations(floor, columns);
  const { values, vectors } = symmetricEigen(matrix, n);
  const square = values.map((_, k) => {
    let along = 0;
    for (let i = 0; i < n; i++) along += vectors[k * n + i] * score[i];
    return along ** 2;
  });
  return STEP_SIZES_M.map((size) => {
    const prior = 1 / size ** 2;
    let sum = 0;
    for (let k = 0; k < n; k++) {
      const w = Math.max(values[k], 0);
      sum += square[k] / (w + prior) - Math.log1p(w / prior);
    }
    return sum / 2;
  });
}

/** All products of some columns, n * n row-major and symmetric, 1/m^2, and their scores, 1/m. */
export function normalEquations(
  floor: FreedFloor,
  columns: readonly SparseColumn[],
): { matrix: Float64Array; score: Float64Array } {
  const n = columns.length;
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++)
      matrix[i * n + j] = matrix[j * n + i] = floor.product(columns[i], columns[j]);
  }
  return { matrix, score: Float64Array.from(columns, (column) => floor.score(column)) };
}
