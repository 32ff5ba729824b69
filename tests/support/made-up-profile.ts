/** Height profiles of a straight spectrum, metres, as public code on ISO 8608 makes them: cosines of fixed size and random phase. */
import { inverseRealFft, seededRandom } from '../../src/numerics/index.js';
import { displacementPsd } from '../../src/surface/index.js';

export interface ProfileOptions {
  readonly seed: number;
  readonly gdM3: number;
  readonly waviness?: number;
  /** Heights, a power of two; the profile repeats itself after them. */
  readonly points: number;
  readonly spacingM: number;
  /** Ends of the spectrum, cycles/m; everything the points can hold unless given. */
  readonly fromCyclesPerM?: number;
  readonly toCyclesPerM?: number;
}

/** z(x) = sum of sqrt(2 Gd(n) dn) cos(2 pi n x + phase) over n = dn, 2 dn ..., dn = 1 / length; its power is the same for all seeds. */
export function madeUpProfile({
  seed,
  gdM3,
  waviness,
  points,
  spacingM,
  fromCyclesPerM = 0,
  toCyclesPerM = Infinity,
}: ProfileOptions): Float64Array {
  const random = seededRandom(seed);
  const step = 1 / (points * spacingM);
  const re = new Float64Array(points / 2 + 1);
  const im = new Float64Array(points / 2 + 1);
  // Half the sampling rate itself holds no free phase.
  for (let k = 1; k < points / 2; k++) {
    const phase = 2 * Math.PI * random();
    if (k * step < fromCyclesPerM || k * step > toCyclesPerM) continue;
    const size = (points / 2) * Math.sqrt(2 * displacementPsd(gdM3, k * step, waviness) * step);
    re[k] = size * Math.cos(phase);
    im[k] = size * Math.sin(phase);
  }
  return inverseRealFft(re, im, points);
}
