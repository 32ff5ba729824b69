/** The normal and Student t distributions: probabilities and quantiles. */
import { logGamma, regularisedGammaQ } from './gamma.js';

/** Standard deviations on either side that hold 95 % of a normal variate, as it is usually rounded. */
export const TWO_SIDED_95 = 1.96;

/** Chance that a standard normal variate is at most z; accurate in both tails. */
export function normalCdf(z: number): number {
  const tail = 0.5 * regularisedGammaQ(0.5, (z * z) / 2);
  return z < 0 ? tail : 1 - tail;
}

const CENTRAL_TOP = [
  -3.969683028665376e1, 2.209460984245205e2, -2.759285104469687e2, 1.38357751867269e2, -3.066479806614716e1,
  2.506628277459239,
];
const CENTRAL_BOTTOM = [
  -5.447609879822406e1, 1.615858368580409e2, -1.556989798598866e2, 6.680131188771972e1, -1.328068155288572e1,
  1,
];
const TAIL_TOP = [
  -7.784894002430293e-3, -3.223964580411365e-1, -2.400758277161838, -2.549732539343734, 4.374664141464968,
  2.938163982698783,
];
const TAIL_BOTTOM = [7.784695709041462e-3, 3.224671290700398e-1, 2.445134137142996, 3.754408661907416, 1];

const polynomial = (coefficients: readonly number[], x: number): number =>
  coefficients.reduce((sum, c) => sum * x + c, 0);

/**
 * Quantile of the standard normal distribution.
 *
 * @param p probability, 0..1; the ends give -Infinity and Infinity
 * @throws RangeError outside 0..1
 * @remarks Source: P. J. Acklam's rational approximation (relative error 1.2e-9), then one Halley step.
 * @example normalQuantile(0.975) // 1.95996
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`p must lie in 0..1, got ${p}`);
  if (p === 0) return -Infinity;
  if (p === 1) return Infinity;
  if (p > 0.5) return -normalQuantile(1 - p);
  let z: number;
  if (p < 0.02425) {
    const q = Math.sqrt(-2 * Math.log(p));
    z = polynomial(TAIL_TOP, q) / polynomial(TAIL_BOTTOM, q);
  } else {
    const q = p - 0.5;
    z = (polynomial(CENTRAL_TOP, q * q) * q) / polynomial(CENTRAL_BOTTOM, q * q);
  }
  const step = (normalCdf(z) - p) * Math.sqrt(2 * Math.PI) * Math.exp((z * z) / 2);
  return z - step / (1 + (z * step) / 2);
}

/** Continued fraction of the incomplete beta function, Lentz's method (Abramowitz & Stegun 26.5.8). */
function betaFraction(a: number, b: number, x: number): number {
  const tiny = 1e-300;
  const guard = (v: number): number => (Math.abs(v) < tiny ? tiny : v);
  let c = 1;
  let d = 1 / guard(1 - ((a + b) * x) / (a + 1));
  let h = d;
  for (let m = 1; m < 10_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / guard(1 + even * d);
    c = guard(1 + even / c);
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / guard(1 + odd * d);
    c = guard(1 + odd / c);
    const step = d * c;
    h *= step;
    if (Math.abs(step - 1) < 1e-16) break;
  }
  return h;
}

function regularisedBeta(a: number, b: number, x: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log(1 - x));
  return x < (a + 1) / (a + b + 2)
    ? (front * betaFraction(a, b, x)) / a
    : 1 - (front * betaFraction(b, a, 1 - x)) / b;
}

/**
 * Chance that a Student t variate is at most t.
 *
 * @param dof degrees of freedom, > 0, whole or not
 * @throws RangeError for dof <= 0
 */
export function studentCdf(t: number, dof: number): number {
  if (!(dof > 0)) throw new RangeError(`dof must be positive, got ${dof}`);
  const tail = 0.5 * regularisedBeta(dof / 2, 0.5, dof / (dof + t * t));
  return t < 0 ? tail : 1 - tail;
}

/**
 * Quantile of the Student t distribution.
 *
 * @param p probability, 0..1; the ends give -Infinity and Infinity
 * @param dof degrees of freedom, > 0, whole or not
 * @throws RangeError outside these bounds
 * @remarks Bisection of {@link studentCdf}; own derivation.
 * @example studentQuantile(0.975, 4) // 2.7764
 */
export function studentQuantile(p: number, dof: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`p must lie in 0..1, got ${p}`);
  if (!(dof > 0)) throw new RangeError(`dof must be positive, got ${dof}`);
  if (p === 0.5) return 0;
  if (p === 0 || p === 1) return p === 0 ? -Infinity : Infinity;
  if (p > 0.5) return -studentQuantile(1 - p, dof);
  let low = -1;
  while (studentCdf(low, dof) > p) low *= 2;
  let high = low === -1 ? 0 : low / 2;
  for (let i = 0; i < 200; i++) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (studentCdf(middle, dof) > p) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}
