/**
 * The intended move of a camera path: a zero-phase low-pass that follows slow moves up to both ends of the clip,
 * from one evenly spaced series in any unit.
 *
 * z = argmin |y - z|^2 + lambda |D4 z|^2 with D4 the fourth difference. Away from the ends it is a linear filter
 * with the low-pass gain 1 / (1 + lambda (2 sin(pi f / fs))^8), one half at the cut-off; at the ends it leaves
 * cubic moves untouched, where recursive filters run forwards and backwards leak a slow change of speed.
 *
 * Source: Whittaker 1923 and Henderson's graduation (penalised differences); the choice of order 4 and of lambda
 * by the half-gain frequency is our own derivation.
 */

/** Width of the fourth difference; a shorter series has none. */
const TAPS = 5;
const DIFFERENCE = [1, -4, 6, -4, 1] as const;

function penalty(rateHz: number, cutoffHz: number): number {
  if (!(rateHz > 0 && Number.isFinite(rateHz)))
    throw new RangeError(`rateHz must be positive, got ${rateHz}`);
  if (!(cutoffHz > 0 && cutoffHz <= rateHz / 2)) {
    throw new RangeError(`cutoffHz must lie above 0 and up to half of rateHz ${rateHz}, got ${cutoffHz}`);
  }
  return (2 * Math.sin((Math.PI * cutoffHz) / rateHz)) ** -8;
}

/**
 * Rotates one more row into an upper triangle of TAPS rows and TAPS + 1 columns (the last is the right-hand side),
 * by Givens rotations; the row is used up.
 */
function rotateIn(triangle: Float64Array, row: Float64Array): void {
  const width = TAPS + 1;
  for (let k = 0; k < TAPS; k++) {
    if (row[k] === 0) continue;
    const at = k * width;
    const length = Math.sqrt(triangle[at + k] ** 2 + row[k] ** 2);
    const c = triangle[at + k] / length;
    const s = row[k] / length;
    for (let j = k; j < width; j++) {
      const upper = triangle[at + j];
      triangle[at + j] = c * upper + s * row[j];
      row[j] = c * row[j] - s * upper;
    }
  }
}

/**
 * Least squares solution of [I; sqrt(lambda) D4] z = [y; 0] by orthogonal rotations in a window of five unknowns.
 *
 * The normal equations would square the condition number, 16 sqrt(lambda): at 240 frames a second they lose the
 * slow part of a path by millimetres in ten metres, the rotations keep it.
 */
function solvePenalised(y: Readonly<Float64Array>, lambda: number): Float64Array {
  const n = y.length;
  const width = TAPS + 1;
  const weight = Math.sqrt(lambda);
  const triangle = new Float64Array(TAPS * width);
  const row = new Float64Array(width);
  const factor = new Float64Array(n * width);
  for (let i = 0; i < n; i++) {
    row.fill(0);
    row[0] = 1;
    row[TAPS] = y[i];
    rotateIn(triangle, row);
    if (i + TAPS <= n) {
      for (let k = 0; k < TAPS; k++) row[k] = weight * DIFFERENCE[k];
      row[TAPS] = 0;
      rotateIn(triangle, row);
    }
    // The first row is final; the others move up and left to face the next five unknowns.
    factor.set(triangle.subarray(0, width), i * width);
    for (let r = 0; r < TAPS; r++) {
      for (let k = 0; k < TAPS; k++) {
        const last = r === TAPS - 1 || k === TAPS - 1;
        triangle[r * width + k] = last ? 0 : triangle[(r + 1) * width + k + 1];
      }
      triangle[r * width + TAPS] = r === TAPS - 1 ? 0 : triangle[(r + 1) * width + TAPS];
    }
  }
  const z = new Float64Array(n);
  for (let i = n - 1; i >= 0; i--) {
    let sum = factor[i * width + TAPS];
    for (let k = 1; k < TAPS && i + k < n; k++) sum -= factor[i * width + k] * z[i + k];
    z[i] = sum / factor[i * width];
  }
  return z;
}

/**
 * Low-pass of one series: argmin |y - z|^2 + lambda |D4 z|^2, lambda = (2 sin(pi fc / fs))^-8.
 *
 * Zero phase, linear, gain 1/2 at the cut-off; series minus result is the vibration. Cubic polynomials pass
 * unchanged. Cost O(n).
 *
 * @param series length n, evenly spaced at rateHz, any unit, no gaps, not changed
 * @param rateHz samples per second, > 0
 * @param cutoffHz frequency of half gain, above 0 and up to rateHz / 2
 * @returns length n, in the unit of the series; fewer than 5 samples have no fourth difference and give their mean,
 *   repeated n times; an empty series gives an empty one
 * @throws RangeError on a rate or cut-off outside these bounds, or a sample that is not finite
 */
export function fourthDifferenceSmooth(
  series: Readonly<Float64Array>,
  rateHz: number,
  cutoffHz: number,
): Float64Array {
  const lambda = penalty(rateHz, cutoffHz);
  const n = series.length;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    if (!Number.isFinite(series[i]))
      throw new RangeError(`series must be finite, got ${series[i]} at sample ${i}`);
    sum += series[i];
  }
  const centre = n > 0 ? sum / n : 0;
  if (n < TAPS) return new Float64Array(n).fill(centre);

  const smooth = solvePenalised(
    Float64Array.from(series, (v) => v - centre),
    lambda,
  );
  for (let i = 0; i < n; i++) smooth[i] += centre;
  return smooth;
}

/**
 * What {@link fourthDifferenceSmooth} leaves: the series minus its slow part, the vibration.
 *
 * @returns length n, in the unit of the series
 * @throws RangeError as {@link fourthDifferenceSmooth}
 */
export function fourthDifferenceVibration(
  series: Readonly<Float64Array>,
  rateHz: number,
  cutoffHz: number,
): Float64Array {
  const slow = fourthDifferenceSmooth(series, rateHz, cutoffHz);
  for (let i = 0; i < slow.length; i++) slow[i] = series[i] - slow[i];
  return slow;
}

/**
 * Amplitude gain of the vibration series (series minus {@link fourthDifferenceSmooth}) at one frequency, away from
 * the ends: H = x / (1 + x), x = (sin(pi f / fs) / sin(pi fc / fs))^8.
 *
 * @param freqHz 0 .. rateHz / 2
 * @returns 0..1; one half at the cut-off
 * @throws RangeError on a rate or cut-off that {@link fourthDifferenceSmooth} refuses
 * @example fourthDifferenceGain(1.5, 30, 0.8) // 0.993
 */
export function fourthDifferenceGain(freqHz: number, rateHz: number, cutoffHz: number): number {
  const x = penalty(rateHz, cutoffHz) * (2 * Math.sin((Math.PI * freqHz) / rateHz)) ** 8;
  return x / (1 + x);
}
