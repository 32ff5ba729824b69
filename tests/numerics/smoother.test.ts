import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fourthDifferenceGain,
  fourthDifferenceSmooth,
  gaussianRandom,
  seededRandom,
  solveSymmetric,
} from '../../src/numerics/index.js';
import { expectWithin } from '../support/expect-within.js';
import { evenly } from '../support/evenly.js';

const RATE_HZ = 30;
const CUTOFF_HZ = 0.8;
/** Rounding of the solve, relative to a series of size 1; measured 1e-11 at 60 frames a second. */
const ROUNDING = 1e-9;

const lengths = fc.integer({ min: 5, max: 200 });
const seeds = fc.integer({ min: 0, max: 1e6 });

function noise(n: number, seed: number): Float64Array {
  return Float64Array.from({ length: n }, gaussianRandom(seededRandom(seed)));
}

const largestDifference = (a: Float64Array, b: Float64Array): number =>
  a.reduce((worst, v, i) => Math.max(worst, Math.abs(v - b[i])), 0);

/** The normal equations written out in full. */
function denseSmooth(y: Float64Array, rateHz: number, cutoffHz: number): Float64Array {
  const n = y.length;
  const lambda = (2 * Math.sin((Math.PI * cutoffHz) / rateHz)) ** -8;
  const taps = [1, -4, 6, -4, 1];
  const a = new Float64Array(n * n);
  for (let i = 0; i < n; i++) a[i * n + i] = 1;
  for (let r = 0; r + 4 < n; r++) {
    for (let i = 0; i < 5; i++) {
      for (let j = 0; j < 5; j++) a[(r + i) * n + r + j] += lambda * taps[i] * taps[j];
    }
  }
  return solveSymmetric(a, y, n);
}

describe('fourthDifferenceSmooth', () => {
  it('solves the penalised least squares problem it states', () => {
    for (const n of [5, 6, 9, 60]) {
      const y = noise(n, n);
      expectWithin(
        largestDifference(fourthDifferenceSmooth(y, 10, CUTOFF_HZ), denseSmooth(y, 10, CUTOFF_HZ)),
        0,
        { abs: ROUNDING },
        `n = ${n}`,
      );
    }
  });

  it.each([24, 60, 120, 240])('follows a cubic move to both ends at %i frames a second', (rateHz) => {
    const move = Float64Array.from({ length: 10 * rateHz }, (_, i) => {
      const u = i / (10 * rateHz);
      return 5 + 3 * u + u * u - 2 * u ** 3;
    });
    const left = largestDifference(fourthDifferenceSmooth(move, rateHz, CUTOFF_HZ), move);
    expectWithin(left, 0, { abs: 1e-7, why: 'a tenth of a micrometre in metres: far below any noise floor' });
  });

  it('has the stated gain away from the ends', () => {
    const n = 40 * RATE_HZ;
    for (const freqHz of [0.5, 0.8, 1.5, 4]) {
      const wave = Float64Array.from({ length: n }, (_, i) => Math.sin((2 * Math.PI * freqHz * i) / RATE_HZ));
      const smooth = fourthDifferenceSmooth(wave, RATE_HZ, CUTOFF_HZ);
      const passed = 1 - fourthDifferenceGain(freqHz, RATE_HZ, CUTOFF_HZ);
      for (let i = 15 * RATE_HZ; i < 25 * RATE_HZ; i += 7) {
        expectWithin(smooth[i], passed * wave[i], {
          abs: 1e-6,
          why: 'what the ends add fades below this in 15 s',
        });
      }
    }
  });

  it('is linear', () => {
    fc.assert(
      fc.property(lengths, seeds, evenly(-9, 9), (n, seed, factor) => {
        const x = noise(n, seed);
        const y = noise(n, seed + 1);
        const together = fourthDifferenceSmooth(
          x.map((v, i) => v + factor * y[i]),
          RATE_HZ,
          CUTOFF_HZ,
        );
        const smoothY = fourthDifferenceSmooth(y, RATE_HZ, CUTOFF_HZ);
        const apart = fourthDifferenceSmooth(x, RATE_HZ, CUTOFF_HZ).map((v, i) => v + factor * smoothY[i]);
        expectWithin(largestDifference(together, apart), 0, { abs: 100 * ROUNDING });
      }),
      { numRuns: 40, seed: 1 },
    );
  });

  it('treats time forwards and backwards alike (zero phase)', () => {
    fc.assert(
      fc.property(lengths, seeds, (n, seed) => {
        const x = noise(n, seed);
        const forwards = fourthDifferenceSmooth(x, RATE_HZ, CUTOFF_HZ);
        const backwards = fourthDifferenceSmooth(x.slice().reverse(), RATE_HZ, CUTOFF_HZ).reverse();
        expectWithin(largestDifference(forwards, backwards), 0, { abs: 10 * ROUNDING });
      }),
      { numRuns: 40, seed: 2 },
    );
  });

  it('gives the mean of a series too short for a fourth difference', () => {
    expect(fourthDifferenceSmooth(Float64Array.from([1, 2, 6]), RATE_HZ, CUTOFF_HZ)).toEqual(
      Float64Array.from([3, 3, 3]),
    );
    expect(fourthDifferenceSmooth(new Float64Array(0), RATE_HZ, CUTOFF_HZ).length).toBe(0);
  });

  it('leaves its input alone', () => {
    const x = noise(50, 3);
    const copy = Float64Array.from(x);
    fourthDifferenceSmooth(x, RATE_HZ, CUTOFF_HZ);
    expect(x).toEqual(copy);
  });

  it('refuses gaps and frequencies that make no sense', () => {
    expect(() => fourthDifferenceSmooth(Float64Array.from([1, NaN, 2, 3, 4]), 30, 0.8)).toThrow(/sample 1/);
    expect(() => fourthDifferenceSmooth(new Float64Array(9), 0, 0.8)).toThrow(/rateHz/);
    expect(() => fourthDifferenceSmooth(new Float64Array(9), 30, 16)).toThrow(/cutoffHz/);
    expect(() => fourthDifferenceGain(1, 30, 0)).toThrow(/cutoffHz/);
  });
});
