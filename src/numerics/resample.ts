/** Brings a series with uneven time stamps (seconds) to an even rate by a natural cubic spline, unit kept. */

/** An evenly spaced series and how far its samples were moved. */
export interface EvenSeries {
  /** Seconds, length m, timeS[k] = timeS[0] + k / rateHz. */
  readonly timeS: Float64Array;
  /** Length m, in the unit of the input. */
  readonly values: Float64Array;
  /** Largest distance, over the new samples, to the nearest given time stamp, seconds; 0 when nothing moved. */
  readonly largestShiftS: number;
}

/** Time stamps this close to the even grid count as on it: far below any frame time, above float rounding. */
const ON_GRID_S = 1e-9;

function requireRising(timeS: Readonly<Float64Array>): void {
  for (let i = 0; i < timeS.length; i++) {
    if (!Number.isFinite(timeS[i]) || (i > 0 && timeS[i] <= timeS[i - 1])) {
      throw new RangeError(`timeS must be finite and rise strictly, got ${timeS[i]} at sample ${i}`);
    }
  }
}

/** Second derivatives of the natural cubic spline at its knots (tridiagonal solve). */
function secondDerivatives(t: Readonly<Float64Array>, y: Readonly<Float64Array>): Float64Array {
  const n = t.length;
  const second = new Float64Array(n);
  const sweep = new Float64Array(n);
  for (let i = 1; i < n - 1; i++) {
    const left = t[i] - t[i - 1];
    const right = t[i + 1] - t[i];
    const share = left / (left + right);
    const pivot = share * second[i - 1] + 2;
    second[i] = (share - 1) / pivot;
    const slopeChange = (y[i + 1] - y[i]) / right - (y[i] - y[i - 1]) / left;
    sweep[i] = ((6 * slopeChange) / (left + right) - share * sweep[i - 1]) / pivot;
  }
  second[n - 1] = 0;
  for (let i = n - 2; i >= 0; i--) second[i] = second[i] * second[i + 1] + sweep[i];
  return second;
}

/**
 * Resamples to an even rate from the first time stamp up to the last.
 *
 * Time stamps that already lie on the even grid give back the very same values. The spline has no curvature at
 * both ends; what that does to the series fades by a factor of 4 per sample. Gaps are bridged by the spline and
 * show in `largestShiftS`.
 *
 * @param timeS seconds, length n >= 1, strictly rising
 * @param values length n, finite, any unit, not changed
 * @param rateHz samples per second of the result, > 0
 * @throws RangeError on unequal lengths, time stamps that do not rise, or a rate that is not positive
 * @remarks Source: natural cubic spline, de Boor, A Practical Guide to Splines.
 */
export function resampleEven(
  timeS: Readonly<Float64Array>,
  values: Readonly<Float64Array>,
  rateHz: number,
): EvenSeries {
  const n = timeS.length;
  if (n < 1 || values.length !== n) {
    throw new RangeError(`timeS and values must have the same length >= 1, got ${n} and ${values.length}`);
  }
  if (!(rateHz > 0 && Number.isFinite(rateHz)))
    throw new RangeError(`rateHz must be positive, got ${rateHz}`);
  requireRising(timeS);

  const count = Math.floor((timeS[n - 1] - timeS[0]) * rateHz + 1e-6) + 1;
  const even = new Float64Array(count);
  for (let k = 0; k < count; k++) even[k] = timeS[0] + k / rateHz;

  const second = secondDerivatives(timeS, values);
  const out = new Float64Array(count);
  let largestShiftS = 0;
  let i = 0;
  for (let k = 0; k < count; k++) {
    while (i < n - 2 && timeS[i + 1] <= even[k]) i++;
    const next = Math.min(i + 1, n - 1);
    const nearest = Math.abs(even[k] - timeS[i]) <= Math.abs(timeS[next] - even[k]) ? i : next;
    const shiftS = Math.abs(even[k] - timeS[nearest]);
    if (shiftS <= ON_GRID_S) {
      out[k] = values[nearest];
      continue;
    }
    largestShiftS = Math.max(largestShiftS, shiftS);
    const h = timeS[next] - timeS[i];
    const b = (even[k] - timeS[i]) / h;
    const a = 1 - b;
    const bend = ((a * a * a - a) * second[i] + (b * b * b - b) * second[next]) * ((h * h) / 6);
    out[k] = a * values[i] + b * values[next] + bend;
  }
  return { timeS: even, values: out, largestShiftS };
}
