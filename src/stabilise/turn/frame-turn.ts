/**
 * The turn to take out of one frame, radians: of the frames that were corrected, and at any time between them for clips
 * whose frames are not evenly spaced.
 */
import type { Corrections, RowChanges } from '../types.js';

/** What is taken out of one frame: the turn of its middle row, and how the other rows differ. Radians. */
export interface FrameTurn {
  readonly pan: number;
  readonly tilt: number;
  readonly roll: number;
  /** Columns of length `knots`; null when the frame is turned as one. */
  readonly rows: RowChanges | null;
}

/** Samples on which a turn between samples draws: six, or four next to the ends. */
const FULL_WINDOW = 6;
const END_WINDOW = 4;

/**
 * The turn of sample t. Row columns are views into the corrections, not copies.
 *
 * @throws RangeError when there is no such sample
 */
export function turnOfFrame(corrections: Corrections, t: number): FrameTurn {
  const { vibration, rows } = corrections;
  if (!(Number.isInteger(t) && t >= 0 && t < vibration.pan.length))
    throw new RangeError(`t must be a sample in 0..${vibration.pan.length - 1}, got ${t}`);
  const ofFrame = (column: Float64Array, knots: number): Float64Array =>
    column.subarray(t * knots, (t + 1) * knots);
  return {
    pan: vibration.pan[t],
    tilt: vibration.tilt[t],
    roll: vibration.roll[t],
    rows: rows && {
      knots: rows.knots,
      pan: ofFrame(rows.pan, rows.knots),
      tilt: ofFrame(rows.tilt, rows.knots),
      roll: ofFrame(rows.roll, rows.knots),
    },
  };
}

/**
 * The turn at any time: the polynomial through the six samples around it (four next to the ends, fewer in a shorter
 * series), exact at the samples; before the first and after the last sample it is held.
 *
 * On even samples a vibration at a quarter of the sampling rate keeps 95 % of its amplitude half-way between two samples,
 * one at an eighth 99.9 %.
 *
 * @param timeS time of each sample, seconds, length n >= 1, strictly rising
 * @param atS seconds
 * @throws RangeError when timeS is empty, of another length than the corrections, or atS is not finite
 * @remarks Interpolation formula of Lagrange.
 */
export function correctionAt(corrections: Corrections, timeS: Float64Array, atS: number): FrameTurn {
  const n = timeS.length;
  if (n === 0 || corrections.vibration.pan.length !== n)
    throw new RangeError(
      `timeS must have one entry per sample, got ${n} for ${corrections.vibration.pan.length} samples`,
    );
  if (!Number.isFinite(atS)) throw new RangeError(`atS must be finite, got ${atS}`);
  const after = firstNotBefore(timeS, atS);
  if (after === n) return turnOfFrame(corrections, n - 1);
  if (after === 0 || timeS[after] === atS) return turnOfFrame(corrections, after);

  const centred = after >= FULL_WINDOW / 2 && after + FULL_WINDOW / 2 <= n;
  const size = centred ? FULL_WINDOW : Math.min(END_WINDOW, n);
  const first = Math.max(0, Math.min(n - size, after - size / 2));
  const weights = lagrangeWeights(timeS.subarray(first, first + size), atS);
  const at = (column: Float64Array, stride: number, offset: number): number => {
    let sum = 0;
    for (let i = 0; i < size; i++) sum += weights[i] * column[(first + i) * stride + offset];
    return sum;
  };
  const { vibration, rows } = corrections;
  const ofRows = (column: Float64Array, knots: number): Float64Array =>
    Float64Array.from({ length: knots }, (_, k) => at(column, knots, k));
  return {
    pan: at(vibration.pan, 1, 0),
    tilt: at(vibration.tilt, 1, 0),
    roll: at(vibration.roll, 1, 0),
    rows: rows && {
      knots: rows.knots,
      pan: ofRows(rows.pan, rows.knots),
      tilt: ofRows(rows.tilt, rows.knots),
      roll: ofRows(rows.roll, rows.knots),
    },
  };
}

/** Index of the first time at or after `atS`; n when there is none. */
function firstNotBefore(timeS: Float64Array, atS: number): number {
  let low = 0;
  let high = timeS.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (timeS[middle] < atS) low = middle + 1;
    else high = middle;
  }
  return low;
}

function lagrangeWeights(timeS: Float64Array, atS: number): Float64Array {
  return timeS.map((own) =>
    timeS.reduce(
      (product, other) => (other === own ? product : (product * (atS - other)) / (own - other)),
      1,
    ),
  );
}
