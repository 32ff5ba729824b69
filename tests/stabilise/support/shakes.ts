/** Corrections from formulas, for tests of what they cost. */
import type { AngularAxis } from '../../../src/run/index.js';
import type { Corrections } from '../../../src/stabilise/index.js';

/** A sine of the given amplitude in radians on one axis, its peaks of both signs hit exactly; 80 frames. */
export function sineOn(axis: AngularAxis, amplitudeRad: number): Corrections {
  const still = (): Float64Array => new Float64Array(80);
  const sine = still().map((_, t) => amplitudeRad * Math.sin((Math.PI / 2) * t));
  return { vibration: { pan: still(), tilt: still(), roll: still(), [axis]: sine }, rows: null };
}
