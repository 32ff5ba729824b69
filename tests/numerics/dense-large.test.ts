import { describe, expect, it } from 'vitest';
import {
  addRowProducts,
  choleskyInPlace,
  choleskyLargeInPlace,
  gaussianRandom,
  mirrorLower,
  seededRandom,
  solveLowerRowsInPlace,
} from '../../src/numerics/index.js';
import {
  addRowProductsPlain,
  choleskyPlain,
  solveLowerRowsPlain,
} from '../../src/numerics/large/plain-loops.js';
import { addRowProductsSimd, choleskySimd, solveLowerRowsSimd } from '../../src/numerics/large/simd-loops.js';
import { expectWithin } from '../support/expect-within.js';

/** Sums of a hundred products of order one. */
const ROUNDING = { abs: 1e-11, why: 'rounding of sums of some hundred products' };
/** Below, at and above the width of a block, and with rests of groups of four and two. */
const ORDERS = [1, 2, 5, 31, 32, 33, 67, 130];

function randomRows(count: number, length: number, seed: number): Float64Array {
  return Float64Array.from({ length: count * length }, gaussianRandom(seededRandom(seed)));
}

/** X X^T + I in plain loops. */
function plainGram(x: Float64Array, count: number, length: number): Float64Array {
  const gram = new Float64Array(count * count);
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < count; j++) {
      for (let k = 0; k < length; k++) gram[i * count + j] += x[i * length + k] * x[j * length + k];
    }
    gram[i * count + i] += 1;
  }
  return gram;
}

function lower(a: Float64Array, n: number): number[] {
  return [...a].filter((_, at) => at % n <= Math.floor(at / n));
}

function expectSame(actual: readonly number[], expected: readonly number[]): void {
  expect(actual).toHaveLength(expected.length);
  actual.forEach((value, i) => expectWithin(value, expected[i], ROUNDING, `entry ${i}`));
}

describe('kernels for large dense matrices', () => {
  it.each(ORDERS)('factorise order %d as the plain factorisation does', (n) => {
    const a = plainGram(randomRows(n, n + 3, n), n, n + 3);
    const plain = a.slice();
    expect(choleskyInPlace(plain, n)).toBe(true);
    // What stands above the diagonal must not be read.
    const blocked = a.map((value, at) => (at % n > Math.floor(at / n) ? NaN : value));
    expect(choleskyLargeInPlace(blocked, n)).toBe(true);
    expectSame(lower(blocked, n), lower(plain, n));
  });

  it.each(ORDERS)('solve L x = b for many rows at order %d: L times the solution is b again', (n) => {
    const factor = plainGram(randomRows(n, n, n), n, n);
    choleskyLargeInPlace(factor, n);
    const count = 7;
    const b = randomRows(count, n, 99);
    const x = b.slice();
    solveLowerRowsInPlace(factor, n, x, count);
    for (let r = 0; r < count; r++) {
      for (let i = 0; i < n; i++) {
        let sum = 0;
        for (let k = 0; k <= i; k++) sum += factor[i * n + k] * x[r * n + k];
        expectWithin(sum, b[r * n + i], ROUNDING, `row ${r}, entry ${i}`);
      }
    }
  });

  it.each(ORDERS)('add and take off products of %d rows', (count) => {
    const length = 45;
    const x = randomRows(count, length, count);
    const gram = plainGram(x, count, length);
    const sum = new Float64Array(count * count);
    for (let i = 0; i < count; i++) sum[i * count + i] = 1;
    addRowProducts(1, sum, x, count, length);
    expectSame(lower(sum, count), lower(gram, count));
    mirrorLower(sum, count);
    expectSame([...sum], [...gram]);
    addRowProducts(-1, sum, x, count, length);
    const identity = gram.map((_, at) => (at % (count + 1) === 0 ? 1 : 0));
    expectSame(lower(sum, count), lower(identity, count));
  });

  it('say when a matrix is not positive definite, also beyond the first block', () => {
    const n = 50;
    const a = new Float64Array(n * n);
    for (let i = 0; i < n; i++) a[i * n + i] = i === 40 ? -1 : 1;
    expect(choleskyLargeInPlace(a, n)).toBe(false);
  });
});

describe('the compiled loops', () => {
  it.each(ORDERS)('give at order %d what the plain ones give', (n) => {
    const [compiled, plain] = [0, 1].map(() => plainGram(randomRows(n, n + 3, n), n, n + 3));
    expect(choleskySimd(compiled, n)).toBe(true);
    expect(choleskyPlain(plain, n)).toBe(true);
    expectSame(lower(compiled, n), lower(plain, n));

    const count = 7;
    const [x, y] = [0, 1].map(() => randomRows(count, n, 99));
    expect(solveLowerRowsSimd(plain, n, x, count)).toBe(true);
    solveLowerRowsPlain(plain, n, y, count);
    expectSame([...x], [...y]);

    const [c, d] = [0, 1].map(() => randomRows(n, n, 5));
    const rows = randomRows(n, 9, 7);
    expect(addRowProductsSimd(-1, c, rows, n, 9)).toBe(true);
    addRowProductsPlain(-1, d, rows, n, 9);
    expectSame(lower(c, n), lower(d, n));
  });

  it('see that a matrix is not positive definite', () => {
    expect(choleskySimd(Float64Array.of(1, 0, 2, 1), 2)).toBe(false);
  });

  it('take large matrices from the functions that are called', () => {
    const n = 220;
    const a = plainGram(randomRows(n, n, 3), n, n);
    const b = a.slice();
    expect(choleskyLargeInPlace(a, n)).toBe(true);
    expect(choleskySimd(b, n)).toBe(true);
    expect(a).toEqual(b);
  });
});
