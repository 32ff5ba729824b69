/**
 * What a ringing mount adds to an angle of the deck it stands on, in the unit of that angle, at any instant.
 *
 * The part is g u with u'' + 2 z w u' + w^2 u = -x'', whose response to the base x is r^2 / (1 - r^2 + 2 i z r). Solved for
 * the absolute angle y = u + x, so that x is never differentiated: y' = p - 2 z w (y - x), p' = -w^2 (y - x).
 */
import type { MountOptions } from './options.js';

/** Steps in one period of the fastest thing that matters, and at least this many a second. */
const STEPS_PER_S = 2000;
const STEPS_PER_PERIOD = 100;

/**
 * Makes the ringing.
 *
 * @param base angle of the deck at a time
 * @param fromS the mount is at rest with its base here; before, nothing is added
 * @param toS after this the last value is held
 * @returns what is added to the base's angle at a time, linear between steps
 */
export function makeRinging(
  { freqHz, dampingRatio, gain }: MountOptions,
  base: (timeS: number) => number,
  fromS: number,
  toS: number,
): (timeS: number) => number {
  const stepS = 1 / Math.max(STEPS_PER_S, STEPS_PER_PERIOD * freqHz);
  const count = Math.ceil((toS - fromS) / stepS) + 1;
  const w = 2 * Math.PI * freqHz;
  const added = new Float64Array(count);
  const slopes = (y: number, p: number, x: number): [number, number] => [
    p - 2 * dampingRatio * w * (y - x),
    -w * w * (y - x),
  ];
  let x = base(fromS);
  let y = x;
  let p = 0;
  for (let k = 1; k < count; k++) {
    // Runge and Kutta's step of fourth order.
    const middle = base(fromS + (k - 0.5) * stepS);
    const end = base(fromS + k * stepS);
    const [y1, p1] = slopes(y, p, x);
    const [y2, p2] = slopes(y + (stepS / 2) * y1, p + (stepS / 2) * p1, middle);
    const [y3, p3] = slopes(y + (stepS / 2) * y2, p + (stepS / 2) * p2, middle);
    const [y4, p4] = slopes(y + stepS * y3, p + stepS * p3, end);
    y += (stepS / 6) * (y1 + 2 * y2 + 2 * y3 + y4);
    p += (stepS / 6) * (p1 + 2 * p2 + 2 * p3 + p4);
    x = end;
    added[k] = gain * (y - x);
  }
  return (timeS) => {
    const at = Math.min(count - 1, Math.max(0, (timeS - fromS) / stepS));
    const i = Math.min(count - 2, Math.floor(at));
    return added[i] + (at - i) * (added[i + 1] - added[i]);
  };
}
