import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/numerics/index.js';
import { bestMatching } from '../../../src/spectrum/causes/best-matching.js';
import { expectWithin } from '../../support/expect-within.js';

/** Every pairing tried. */
function bestSum(gains: readonly (readonly number[])[], row = 0, used: readonly number[] = []): number {
  if (row === gains.length) return 0;
  const alone = bestSum(gains, row + 1, used);
  return gains[row].reduce(
    (best, gain, j) =>
      used.includes(j) ? best : Math.max(best, gain + bestSum(gains, row + 1, [...used, j])),
    alone,
  );
}

describe('the best matching', () => {
  it('gains as much as the best of all pairings', () => {
    const random = seededRandom(2);
    for (let trial = 0; trial < 60; trial++) {
      const columns = 1 + Math.floor(5 * random());
      const gains = Array.from({ length: 1 + Math.floor(5 * random()) }, () =>
        Array.from({ length: columns }, () => 10 * random() - 5),
      );
      const matched = bestMatching(gains);
      const taken = matched.filter((column) => column !== null);
      expect(new Set(taken).size).toBe(taken.length);
      const sum = matched.reduce<number>((all, j, i) => all + (j === null ? 0 : gains[i][j]), 0);
      expectWithin(sum, bestSum(gains), { abs: 1e-9, why: 'rounding of sums' });
    }
  });

  it('leaves alone who gains nothing', () => {
    expect(
      bestMatching([
        [-1, -2],
        [3, -Infinity],
      ]),
    ).toEqual([null, 0]);
    expect(bestMatching([[], []])).toEqual([null, null]);
    expect(bestMatching([])).toEqual([]);
  });
});
