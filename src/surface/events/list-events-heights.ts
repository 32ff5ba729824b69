/**
 * Heights of all listed events of a pass, fitted together so that neighbours do not share them: metres, under the mean of both wheel
 * tracks and as left minus right.
 *
 * Linear least squares with a normal prior of each size, on what the pass says of added shapes once the rough floor is integrated out
 * (own derivation).
 */
import { invertSymmetric } from '../../numerics/index.js';
import type { StretchInformation } from '../profile/types.js';
import { FreedFloor } from './release-floor.js';
import { normalEquations } from './row-evidence.js';
import { columnAt, unitDip, unitShape, type UnitShape } from './shapes.js';
import type { EventScan, FoundEvent } from './types.js';

/** An event to fit: where, of which shape, and how high such events are beforehand, metres. */
export interface EventToFit extends Pick<FoundEvent, 'placeM' | 'shape' | 'lengthM'> {
  readonly priorM: number;
}

/** Height and the standard deviation of its error, metres. */
export interface Height {
  readonly valueM: number;
  readonly sdM: number;
}

/** What the pass says of one event; + up, a dip is negative; `difference` is left minus right, null without deck roll. */
export interface FittedHeight {
  readonly mean: Height;
  readonly difference: Height | null;
}

/**
 * Fits all events of a scan.
 *
 * @param events in any order; each is answered by the stretch of its place, next to all others that this stretch sees
 * @returns in the same order
 */
export function eventHeights(scan: EventScan, events: readonly EventToFit[]): FittedHeight[] {
  const heights = new Array<FittedHeight>(events.length);
  const last = scan.stretches.length - 1;
  scan.stretches.forEach(({ mean, difference }, k) => {
    const [fromM, toM] = mean.stretch.answersM;
    const own = events.map(({ placeM }) => (placeM >= fromM || k === 0) && (placeM < toM || k === last));
    if (!own.includes(true)) return;
    const meanHeights = heightsIn(mean, events, scan.blurM);
    const differences = difference && heightsIn(difference, events, scan.blurM);
    own.forEach((mine, i) => {
      if (mine) heights[i] = { mean: meanHeights[i], difference: differences && differences[i] };
    });
  });
  return heights;
}

/** Heights of all events as one sum of the tracks sees them; those beyond the nodes keep their prior. */
function heightsIn(information: StretchInformation, events: readonly EventToFit[], blurM: number): Height[] {
  const { nodesM, track } = information;
  const columns = events.flatMap(({ placeM, shape, lengthM, priorM }, event) =>
    shapesOf({ shape, lengthM }, blurM, track).map((unit, k) => ({
      event,
      asked: k === 0,
      sign: unit.heightAt(0) < 0 ? -1 : 1,
      priorM,
      column: columnAt(unit, placeM, nodesM),
    })),
  );
  const n = columns.length;
  const { matrix, score } = normalEquations(
    new FreedFloor(information),
    columns.map(({ column }) => column),
  );
  columns.forEach(({ priorM }, i) => (matrix[i * n + i] += priorM ** -2));
  const covariance = invertSymmetric(matrix, n);
  const heights = new Array<Height>(events.length);
  columns.forEach(({ event, asked, sign }, i) => {
    if (!asked) return;
    let value = 0;
    for (let j = 0; j < n; j++) value += covariance[i * n + j] * score[j];
    heights[event] = { valueM: sign * value, sdM: Math.sqrt(covariance[i * n + i]) };
  });
  return heights;
}

/** The shape itself first; the mean of the tracks also sees a gap beside a step. */
function shapesOf(
  event: Pick<FoundEvent, 'shape' | 'lengthM'>,
  blurM: number,
  track: 'mean' | 'difference',
): UnitShape[] {
  const itself = unitShape(event, blurM);
  return event.shape === 'step' && track === 'mean' ? [itself, unitDip(blurM)] : [itself];
}
