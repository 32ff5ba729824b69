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
import { factorBandedSymmetric, solveBandedFactored } from './banded.js';

/** Shortest series that has a fourth difference. */
const SHORTEST = 5;
const BANDS = 4;
const DIFFERENCE = [1, -4, 6, -4, 1] as const;
const REFINEMENTS = 2;

function penalty(rateHz: number, cutoffHz: number): number {
  if (!(rateHz > 0 && Number.isFinite(rateHz)))
    throw new RangeError(`rateHz must be positive, got ${rateHz}`);
  if (!(cutoffHz > 0 && cutoffHz <= rateHz / 2)) {
    throw new RangeError(`cutoffHz must lie above 0 and up to half of rateHz ${rateHz}, got ${cutoffHz}`);
  }
  return (2 * Math.sin((Math.PI * cutoffHz) / rateHz)) ** -8;
}

/** Lower bands of I + lambda D4^T D4 of order n. */
function systemBands(n: number, lambda: number): Float64Array {
  const width = BANDS + 1;
  const bands = new Float64Array(n * width);
  for (let i = 0; i < n; i++) bands[i * width] = 1;
  for (let row = 0; row + BANDS < n; row++) {
    for (let a = 0; a <= BANDS; a++) {
      for (let b = 0; b <= a; b++) bands[(row + a) * width + a - b] += lambda * DIFFERENCE[a] * DIFFERENCE[b];
    }
  }
  return bands;
}

/** y - z - D4^T (lambda D4 z), differences taken first so that rounding does not reach the slow part. */
function residual(y: Readonly<Float64Array>, z: Readonly<Float64Array>, lambda: number): Float64Array {
  const n = y.length;
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) out[i] = y[i] - z[i];
  for (let row = 0; row + BANDS < n; row++) {
    // Successive differences cancel exactly for slow moves; the weighted sum of five large numbers would not.
    const a = z[row + 1] - z[row];
    const b = z[row + 2] - z[row + 1];
    const c = z[row + 3] - z[row + 2];
    const d = z[row + 4] - z[row + 3];
    const fourth = d - c - 2 * (c - b) + (b - a);
    for (let k = 0; k <= BANDS; k++) out[row + k] -= lambda * DIFFERENCE[k] * fourth;
  }
  return out;
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
  if (n < SHORTEST) return new Float64Array(n).fill(centre);

  const centred = Float64Array.from(series, (v) => v - centre);
  const factor = factorBandedSymmetric(systemBands(n, lambda), n, BANDS);
  const smooth = solveBandedFactored(factor, BANDS, centred);
  // At high frame rates lambda passes 1e10 and one solve loses the slow part; refining wins it back.
  for (let round = 0; round < REFINEMENTS; round++) {
    const step = solveBandedFactored(factor, BANDS, residual(centred, smooth, lambda));
    for (let i = 0; i < n; i++) smooth[i] += step[i];
  }
  for (let i = 0; i < n; i++) smooth[i] += centre;
  return smooth;
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
