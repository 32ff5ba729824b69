/**
 * How the camera turns while the rows of a frame are read, radians: from the path of its angles (radians, one sample a
 * frame, at the time of the middle row) and the readout (seconds).
 *
 * A sensor is read from top to bottom; the row at share v of the height, 0 at the top edge of the picture and 1 at its
 * bottom edge, is read readout (v - 1/2) after the middle row. Readout from bottom to top is not considered.
 */
import { changesWithinFrame } from './change-within-frame.js';
import type { AngularVibration, RowChanges } from '../types.js';

/** Rows at which the change is given, unless asked otherwise: straight lines between nine follow half a period over a readout to 2 %. */
export const ROW_KNOTS = 9;

/**
 * path(t + time of a row) - path(t) of every frame, at rows evenly spaced from the top edge to the bottom edge.
 *
 * Takes the whole path, not the vibration alone: a steady pan shears the rows, too. Between the frames the path is
 * carried by its spectrum (see `changesWithinFrame`), so motion near half the frame rate is faded out.
 *
 * @param path pan, tilt and roll in radians, columns of one length n, evenly spaced
 * @param rateHz frames per second, > 0
 * @param readoutS from the first row to one past the last, >= 0; 0 gives zeros
 * @param knots rows at which the change is given, at least 2
 * @returns columns of length n * knots, all knots of a frame side by side
 * @throws RangeError when knots is no whole number of at least 2, or readoutS is negative or not finite
 * @example rowChanges(path, 25, 0.015).pan[0] // pan at the top edge of frame 0 minus pan at its middle row
 */
export function rowChanges(
  path: AngularVibration,
  rateHz: number,
  readoutS: number,
  knots: number = ROW_KNOTS,
): RowChanges {
  if (!(Number.isInteger(knots) && knots >= 2))
    throw new RangeError(`knots must be a whole number >= 2, got ${knots}`);
  if (!(readoutS >= 0 && Number.isFinite(readoutS)))
    throw new RangeError(`readoutS must be finite and >= 0, got ${readoutS}`);
  const spans = Array.from({ length: knots }, (_, k) => [0, readoutS * (k / (knots - 1) - 0.5)] as const);
  const column = (series: Float64Array): Float64Array => {
    const out = new Float64Array(series.length * knots);
    changesWithinFrame(series, rateHz, spans).forEach((change, k) => {
      for (let t = 0; t < series.length; t++) out[t * knots + k] = change[t];
    });
    return out;
  };
  return { knots, pan: column(path.pan), tilt: column(path.tilt), roll: column(path.roll) };
}
