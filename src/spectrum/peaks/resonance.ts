/** How a resonance between floor and lens lifts a spectrum, and what of that counts as its peak; power ratios and hertz. */
import type { Resonance } from './types.js';

/** A resonance at its frequency. */
export interface TunedResonance extends Resonance {
  readonly freqHz: number;
}

/** Above the resonance the mount isolates; the model is not trusted below this power. */
const LEAST_LIFT = 0.02;

/**
 * Power gain |1 + g r^2 / (1 - r^2 + 2 i z r)|^2 with r = f / f0.
 *
 * @example resonanceLift(5, { freqHz: 5, dampingRatio: 0.05, gain: 0.5 }) // |1 + 0.5 / 0.1 i|^2 = 26
 */
export function resonanceLift(freqHz: number, { freqHz: f0, dampingRatio, gain }: TunedResonance): number {
  const r = freqHz / f0;
  const re = 1 - r * r;
  const im = 2 * dampingRatio * r;
  const share = (gain * r * r) / (re * re + im * im);
  return (1 + share * re) ** 2 + (share * im) ** 2;
}

/** The same, never below 1 / 50, as a factor on the expected spectrum of a floor. */
export function trustedLift(resonance: TunedResonance): (freqHz: number) => number {
  return (freqHz) => Math.max(resonanceLift(freqHz, resonance), LEAST_LIFT);
}
