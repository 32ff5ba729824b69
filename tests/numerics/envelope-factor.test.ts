/** The factor of an envelope matrix against a dense solve, and its compiled loops against the plain ones. */
import { describe, expect, it } from 'vitest';
import {
  choleskyInPlace,
  choleskySolveInPlace,
  envelopeRows,
  factorLessOuter,
  hasSimd,
  seededRandom,
  type EnvelopeRows,
  type OuterGroups,
} from '../../src/numerics/index.js';

const BLOCKS = 14;
const N = 6 * BLOCKS;

interface System {
  readonly rows: EnvelopeRows;
  readonly blocks: Float64Array;
  readonly groups: OuterGroups;
  /** The whole matrix, row by row. */
  readonly dense: Float64Array;
  readonly right: Float64Array;
}

/** Groups over runs of blocks, some with gaps, one of a single block, one empty and one of zeros. */
function madeUp(seed: number): System {
  const random = seededRandom(seed);
  const groups = [[0, 1, 2, 3], [2, 4, 5], [3], [], [5, 6, 7, 8, 9], [6, 10], [8, 9, 10, 11], [11, 12, 13]];
  const block = Int32Array.from(groups.flat());
  const groupStart = Int32Array.from([0, ...groups.keys()].map((_, g) => groups.slice(0, g).flat().length));
  const factor = Float64Array.from({ length: 18 * block.length }, () => random() - 0.5);
  const zeros = groupStart[6];
  factor.fill(0, 18 * zeros, 18 * groupStart[7]);
  const first = Int32Array.from({ length: BLOCKS }, (_, t) => t);
  const dense = new Float64Array(N * N);
  const blocks = new Float64Array(36 * BLOCKS);
  const add = (i: number, j: number, value: number): void => void (dense[N * i + j] += value);
  for (let g = 0; g < groups.length; g++) {
    for (let o = groupStart[g]; o < groupStart[g + 1]; o++) {
      first[block[o]] = Math.min(first[block[o]], block[groupStart[g]]);
      for (let p = groupStart[g]; p < groupStart[g + 1]; p++)
        for (let r = 0; r < 6; r++)
          for (let c = 0; c < 6; c++)
            for (let k = 0; k < 3; k++)
              add(
                6 * block[o] + r,
                6 * block[p] + c,
                -factor[18 * o + 3 * r + k] * factor[18 * p + 3 * c + k],
              );
    }
  }
  // So large on the diagonal that the whole is positive definite.
  for (let t = 0; t < BLOCKS; t++)
    for (let r = 0; r < 6; r++)
      for (let c = 0; c <= r; c++) {
        const value = r === c ? 12 + random() : random() - 0.5;
        blocks[36 * t + 6 * r + c] = value;
        blocks[36 * t + 6 * c + r] = value;
        add(6 * t + r, 6 * t + c, value);
        if (c < r) add(6 * t + c, 6 * t + r, value);
      }
  const right = Float64Array.from({ length: N }, () => random() - 0.5);
  return { rows: envelopeRows(first), blocks, groups: { groupStart, block, factor }, dense, right };
}

const largest = (values: Float64Array): number =>
  values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);

describe.each([
  ['compiled', true],
  ['plain', false],
])('the factor by the %s loops', (_, simd) => {
  it.each([1, 2, 3])('solves as a dense Cholesky does (seed %i)', (seed) => {
    const { rows, blocks, groups, dense, right } = madeUp(seed);
    const x = factorLessOuter(rows, blocks, groups, simd).solve(right);
    const expected = right.slice();
    const factor = dense.slice();
    expect(choleskyInPlace(factor, N)).toBe(true);
    choleskySolveInPlace(factor, expected, N);
    expect(largest(x.map((value, i) => value - expected[i]))).toBeLessThan(1e-13);
  });

  it('solves for one side after the other, and leaves them as they were', () => {
    const { rows, blocks, groups, dense, right } = madeUp(4);
    const factor = factorLessOuter(rows, blocks, groups, simd);
    const kept = right.slice();
    const twice = factor.solve(right.map((value) => 2 * value));
    const once = factor.solve(right);
    expect(right).toEqual(kept);
    expect(largest(twice.map((value, i) => value - 2 * once[i]))).toBeLessThan(1e-14);
    for (let i = 0; i < N; i++) {
      const sum = once.reduce((total, value, j) => total + dense[N * i + j] * value, 0);
      expect(sum).toBeCloseTo(right[i], 12);
    }
  });

  it('leaves an unknown alone that nothing informs', () => {
    const { rows, blocks, groups, right } = madeUp(5);
    const silent = 6 * 4 + 2;
    const mute = { ...groups, factor: groups.factor.slice() };
    groups.block.forEach((t, o) => {
      if (t === 4) mute.factor.fill(0, 18 * o + 6, 18 * o + 9);
    });
    for (let k = 0; k < 6; k++) {
      blocks[36 * 4 + 12 + k] = 0;
      blocks[36 * 4 + 6 * k + 2] = 0;
    }
    const x = factorLessOuter(rows, blocks, mute, simd).solve(right);
    expect(x[silent]).toBe(0);
    expect(x.every(Number.isFinite)).toBe(true);
  });
});

describe('the compiled loops', () => {
  it('run in this engine', () => expect(hasSimd()).toBe(true));

  it('give what the plain ones give, but for the last digits', () => {
    const { rows, blocks, groups, right } = madeUp(6);
    const [one, other] = [true, false].map((simd) =>
      factorLessOuter(rows, blocks, groups, simd).solve(right),
    );
    expect(largest(one.map((value, i) => value - other[i]))).toBeLessThan(1e-15);
  });

  it('grow their memory for a large system after a small one', () => {
    const small = madeUp(7);
    const before = factorLessOuter(small.rows, small.blocks, small.groups).solve(small.right);
    const count = 2000;
    const first = Int32Array.from({ length: count }, (_, t) => Math.max(0, t - 3));
    const blocks = new Float64Array(36 * count);
    for (let k = 0; k < blocks.length; k++) if ((k % 36) % 7 === 0) blocks[k] = 4;
    const none = { groupStart: Int32Array.of(0), block: new Int32Array(0), factor: new Float64Array(0) };
    const x = factorLessOuter(envelopeRows(first), blocks, none).solve(new Float64Array(6 * count).fill(1));
    expect(largest(x.map((value) => value - 0.25))).toBe(0);
    expect(factorLessOuter(small.rows, small.blocks, small.groups).solve(small.right)).toEqual(before);
  });
});
