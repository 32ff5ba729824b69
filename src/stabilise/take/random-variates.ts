/** Random variates that the forecasts draw from: gamma, and the largest of many normal numbers. */
import { normalQuantile } from '../../numerics/index.js';

/**
 * A gamma variate of shape >= 1 and scale 1.
 *
 * @param random uniform in [0, 1)
 * @param gaussian standard normal
 * @remarks Source: Marsaglia & Tsang 2000, ACM Trans. Math. Softw. 26.
 */
export function gammaVariate(shape: number, random: () => number, gaussian: () => number): number {
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const z = gaussian();
    const v = (1 + c * z) ** 3;
    if (v <= 0) continue;
    const u = 1 - random();
    // The first test spares most of the logarithms.
    if (u < 1 - 0.0331 * z ** 4 || Math.log(u) < 0.5 * z * z + d - d * v + d * Math.log(v)) return d * v;
  }
}

const TABLE_FROM = -4;
const TABLE_STEP = 0.05;
const TABLE_LENGTH = 800;
let table: Float64Array | null = null;

/**
 * The normal quantile whose upper tail is e^-g, by a table of g (error below 1e-3).
 *
 * With g = ln L - ln E, E an exponential variate of mean 1, this is the largest of Poisson(L) standard normal numbers, and
 * `-Infinity` (none of them) for g <= 0.
 */
export function largestOfPoisson(g: number): number {
  if (!(g > 0)) return -Infinity;
  // Upper tail e^-g is lower probability 1 - e^-g = exp(-e^-h).
  return largestOf(-Math.log(-Math.log1p(-Math.exp(-g))));
}

/**
 * The normal quantile of the probability exp(-e^-h), by a table of h (error below 1e-3).
 *
 * With h = ln K - ln E, E an exponential variate of mean 1, this is the largest of K standard normal numbers.
 */
export function largestOf(h: number): number {
  table ??= makeTable();
  const at = Math.min(Math.max((h - TABLE_FROM) / TABLE_STEP, 0), TABLE_LENGTH - 1.000001);
  const below = Math.floor(at);
  return table[below] + (at - below) * (table[below + 1] - table[below]);
}

function makeTable(): Float64Array {
  return Float64Array.from({ length: TABLE_LENGTH }, (_, i) => {
    const h = TABLE_FROM + i * TABLE_STEP;
    // The smaller of both tails keeps its digits.
    return h < 0 ? normalQuantile(Math.exp(-Math.exp(-h))) : -normalQuantile(-Math.expm1(-Math.exp(-h)));
  });
}
