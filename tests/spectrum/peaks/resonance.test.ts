import { describe, expect, it } from 'vitest';
import { resonanceLift, trustedLift } from '../../../src/spectrum/peaks/resonance.js';
import { mayBeRipple } from '../../../src/spectrum/peaks/ripples.js';
import { expectWithin } from '../../support/expect-within.js';

describe('resonanceLift', () => {
  const mount = { freqHz: 5, dampingRatio: 0.05, gain: 0.5 };

  it('is 1 far below, |1 + g / 2iz|^2 at the resonance and (1 - g)^2 far above', () => {
    expectWithin(resonanceLift(0.01, mount), 1, { abs: 1e-5 });
    expectWithin(resonanceLift(5, mount), 26, { abs: 1e-9 });
    expectWithin(resonanceLift(5000, mount), 0.25, { abs: 1e-5 });
  });

  it('is not trusted below one fiftieth', () => {
    expectWithin(trustedLift({ ...mount, gain: 1 })(500), 0.02, { abs: 1e-12 });
  });
});

describe('mayBeRipple', () => {
  it('says so from half a ripple of the longest wheelbase on, and nothing without a speed', () => {
    // 1.5 m at 3 m/s: tops at 1, 3, 5 Hz; 0.2 m: 7.5 Hz.
    expect(mayBeRipple(1.05, 10, 3)).toBe(true);
    expect(mayBeRipple(0.8, 10, 3)).toBe(false);
    expect(mayBeRipple(5, 10, 0.5)).toBe(true);
    expect(mayBeRipple(5, 10, null)).toBe(false);
  });
});
