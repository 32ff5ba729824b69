/** The loops of loops.as.ts, for engines without SIMD: the same rows in memory, the same results to the last digits. */
import { SIDE, type EnvelopeRows, type OuterGroups } from './rows.js';

/** Takes the outer products of all groups off the matrix. */
export function takeOuterPlain(
  { first, start }: EnvelopeRows,
  groups: OuterGroups,
  values: Float64Array,
): void {
  const { groupStart, block, factor } = groups;
  for (let g = 0; g + 1 < groupStart.length; g++) {
    for (let o = groupStart[g]; o < groupStart[g + 1]; o++) {
      const t = block[o];
      const stride = SIDE * (t - first[t] + 1);
      for (let r = 0; r < SIDE; r++) {
        const f = 18 * o + 3 * r;
        for (let other = groupStart[g]; other <= o; other++) {
          const at = start[t] + r * stride + SIDE * (block[other] - first[t]);
          for (let c = 0; c < SIDE; c++) {
            const e = 18 * other + 3 * c;
            values[at + c] -=
              factor[f] * factor[e] + factor[f + 1] * factor[e + 1] + factor[f + 2] * factor[e + 2];
          }
        }
      }
    }
  }
}

/** Cholesky in place; the diagonal then holds 1 / L_ii, 0 where the pivot is no more than the least. */
export function factorPlain({ first, start }: EnvelopeRows, least: Float64Array, values: Float64Array): void {
  for (let t = 0; t < first.length; t++) {
    const stride = SIDE * (t - first[t] + 1);
    for (let r = 0; r < SIDE; r++) {
      const row = start[t] + r * stride - SIDE * first[t];
      const own = SIDE * t + r;
      for (let j = SIDE * first[t]; j <= own; j++) {
        const s = Math.floor(j / SIDE);
        const other = start[s] + (j - SIDE * s) * SIDE * (s - first[s] + 1) - SIDE * first[s];
        let sum = values[row + j];
        for (let k = SIDE * Math.max(first[t], first[s]); k < j; k++)
          sum -= values[row + k] * values[other + k];
        if (j < own) values[row + j] = sum * values[other + j];
        else values[row + j] = sum > least[own] ? 1 / Math.sqrt(sum) : 0;
      }
    }
  }
}
