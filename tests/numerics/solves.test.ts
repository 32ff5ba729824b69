import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  choleskyInPlace,
  conjugateGradients,
  gaussianRandom,
  invert3,
  inverseDiagonal,
  invert6,
  invertSymmetric,
  seededRandom,
  solveSymmetric,
} from '../../src/numerics/index.js';
import { expectWithin } from '../support/expect-within.js';

/** Condition numbers below 1e4 here, so twelve digits of sixteen are left at least. */
const ROUNDING = 1e-9;
const seeds = fc.integer({ min: 0, max: 1e6 });

/** B^T B + 0.1 I: symmetric positive definite. */
function randomSymmetric(n: number, seed: number): Float64Array {
  const next = gaussianRandom(seededRandom(seed));
  const b = Float64Array.from({ length: 2 * n * n }, next);
  const a = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      for (let k = 0; k < 2 * n; k++) a[i * n + j] += b[k * n + i] * b[k * n + j];
    }
    a[i * n + i] += 0.1;
  }
  return a;
}

function product(a: Float64Array, b: Float64Array, n: number, columns: number): Float64Array {
  const out = new Float64Array(n * columns);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < columns; j++) {
      for (let k = 0; k < n; k++) out[i * columns + j] += a[i * n + k] * b[k * columns + j];
    }
  }
  return out;
}

function expectIdentity(m: Float64Array, n: number): void {
  for (let i = 0; i < n * n; i++) {
    expectWithin(m[i], i % (n + 1) === 0 ? 1 : 0, { abs: ROUNDING }, `element ${i}`);
  }
}

describe('dense symmetric systems', () => {
  it('are solved and inverted', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9 }), seeds, (n, seed) => {
        const a = randomSymmetric(n, seed);
        const x = Float64Array.from({ length: n }, (_, i) => i - 2);
        const solved = solveSymmetric(a, product(a, x, n, 1), n);
        for (let i = 0; i < n; i++) expectWithin(solved[i], x[i], { abs: ROUNDING });
        expectIdentity(product(a, invertSymmetric(a, n), n, n), n);
      }),
      { numRuns: 40, seed: 1 },
    );
  });

  it('tell single entries of the diagonal of the inverse from the factor', () => {
    fc.assert(
      fc.property(seeds, fc.integer({ min: 1, max: 24 }), (seed, n) => {
        const a = randomSymmetric(n, seed);
        const inverse = invertSymmetric(a, n);
        const factor = a.slice();
        expect(choleskyInPlace(factor, n)).toBe(true);
        // What the room held before does not count.
        const room = new Float64Array(n).fill(seed + 1);
        for (let j = 0; j < n; j++)
          expectWithin(inverseDiagonal(factor, j, n, room), inverse[(n + 1) * j], { rel: ROUNDING });
      }),
      { numRuns: 30 },
    );
  });

  it('are refused when not positive definite', () => {
    const saddle = Float64Array.from([1, 2, 2, 1]);
    expect(() => solveSymmetric(saddle, new Float64Array(2), 2)).toThrow(/positive definite/);
    expect(choleskyInPlace(saddle, 2)).toBe(false);
    expect(() => invertSymmetric(new Float64Array(3), 2)).toThrow(/4 numbers/);
    expect(() => solveSymmetric(new Float64Array(4), new Float64Array(3), 2)).toThrow(/2 numbers/);
  });
});

describe('inverses of small blocks', () => {
  it('work at an offset inside a longer array and leave the rest alone', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const store = new Float64Array(50).fill(7);
        store.set(randomSymmetric(6, seed), 5);
        const out = new Float64Array(40).fill(-1);
        expect(invert6(store, 5, out, 2)).toBe(true);
        expectIdentity(product(store.slice(5, 41), out.slice(2, 38), 6, 6), 6);
        expect([out[0], out[1], out[38], out[39]]).toEqual([-1, -1, -1, -1]);
      }),
      { numRuns: 40, seed: 2 },
    );
  });

  it('give the inverse of a 3 x 3 block that is not symmetric, in place too', () => {
    const block = Float64Array.from([2, 1, 0, -1, 3, 4, 0.5, 0, 1]);
    const inPlace = Float64Array.from(block);
    expect(invert3(inPlace, 0, inPlace, 0)).toBe(true);
    expectIdentity(product(block, inPlace, 3, 3), 3);
  });

  it('give the inverse of a 6 x 6 block in place', () => {
    const block = randomSymmetric(6, 11);
    const inPlace = Float64Array.from(block);
    invert6(inPlace, 0, inPlace, 0);
    expectIdentity(product(block, inPlace, 6, 6), 6);
  });

  it('say no to singular blocks and leave the output alone', () => {
    const out = new Float64Array(36).fill(3);
    expect(invert3(new Float64Array(9), 0, out, 0)).toBe(false);
    expect(invert6(new Float64Array(36), 0, out, 0)).toBe(false);
    expect(out.every((v) => v === 3)).toBe(true);
  });
});

describe('conjugateGradients', () => {
  const n = 20;
  const a = randomSymmetric(n, 5);
  const x = Float64Array.from({ length: n }, (_, i) => Math.cos(i));
  const b = product(a, x, n, 1);
  const multiply = (v: Float64Array, out: Float64Array): void => out.set(product(a, v, n, 1));

  it('reaches the solution with a diagonal preconditioner', () => {
    const result = conjugateGradients(
      multiply,
      (r, out) => r.forEach((v, i) => (out[i] = v / a[i * n + i])),
      b,
      { maxIterations: 100, tolerance: 1e-24 },
    );
    expect(result.converged).toBe(true);
    for (let i = 0; i < n; i++) expectWithin(result.x[i], x[i], { abs: ROUNDING });
  });

  it('holds unknowns at zero whose preconditioner row is zero', () => {
    const { x: held } = conjugateGradients(
      multiply,
      (r, out) => r.forEach((v, i) => (out[i] = i < 3 ? 0 : v)),
      b,
      {
        maxIterations: 50,
        tolerance: 1e-20,
      },
    );
    expect([held[0], held[1], held[2]]).toEqual([0, 0, 0]);
    expect(held[3]).not.toBe(0);
  });

  it('says when the iterations ran out', () => {
    const copy = (r: Float64Array, out: Float64Array): void => out.set(r);
    const result = conjugateGradients(multiply, copy, b, { maxIterations: 2, tolerance: 1e-20 });
    expect(result.converged).toBe(false);
    expect(result.iterations).toBe(2);
  });

  it('stops at once on a right-hand side of zero and on an indefinite matrix', () => {
    const copy = (r: Float64Array, out: Float64Array): void => out.set(r);
    const options = { maxIterations: 9, tolerance: 1e-12 };
    expect(conjugateGradients(multiply, copy, new Float64Array(n), options).iterations).toBe(0);
    const negate = (v: Float64Array, out: Float64Array): void => v.forEach((w, i) => (out[i] = -w));
    expect(conjugateGradients(negate, copy, b, options).converged).toBe(false);
  });
});
