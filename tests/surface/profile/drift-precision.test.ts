import { describe, expect, it } from 'vitest';
import { fourthDifferenceSmooth, gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { driftPrecision } from '../../../src/surface/profile/drift-precision.js';
import { expectWithin } from '../../support/expect-within.js';

function times(k: Float64Array, y: Float64Array): Float64Array {
  return y.map((_, i) => y.reduce((sum, value, j) => sum + k[i * y.length + j] * value, 0));
}

describe('the precision of a series whose drift is free', () => {
  it.each([
    [5, 25, 0.8],
    [60, 25, 0.8],
    [90, 50, 0.3],
  ])(
    'applied to a series of %d frames is the series less its slow part (%d Hz, cut-off %d Hz)',
    (n, rate, cut) => {
      const y = Float64Array.from({ length: n }, gaussianRandom(seededRandom(n)));
      const smooth = fourthDifferenceSmooth(y, rate, cut);
      const vibration = times(driftPrecision(n, rate, cut), y);
      vibration.forEach((value, i) =>
        expectWithin(value, y[i] - smooth[i], { abs: 1e-9, why: 'rounding of the smoother' }, `frame ${i}`),
      );
    },
  );

  it('knows nothing of a cubic move, at 240 frames a second too', () => {
    const n = 300;
    const cubic = Float64Array.from({ length: n }, (_, i) => ((i - 100) / 100) ** 3 - i / 50 + 2);
    const k = driftPrecision(n, 240, 0.3);
    const seen = times(k, cubic).reduce((sum, value, i) => sum + value * cubic[i], 0);
    // The pitch of a short dolly has a precision of 2e10 / m^2; an offset is held by 100 / m^2.
    expectWithin(2e10 * seen, 0, { abs: 1, why: 'far below the prior on the offset' });
  });

  it('refuses what has no fourth difference and cut-offs outside', () => {
    expect(() => driftPrecision(4, 25, 0.8)).toThrow(/at least 5/);
    expect(() => driftPrecision(50, 25, 13)).toThrow(/cutoffHz/);
    expect(() => driftPrecision(50, 25, 0)).toThrow(/cutoffHz/);
  });
});
