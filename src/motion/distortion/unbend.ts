/**
 * Observations through a lens that bends lines by k1 alone: seen points to ideal ones, in units of the focal length, and
 * which k1 a picture allows.
 */
import { isOneToOne, undistort, type Camera } from '../../optics/index.js';
import type { LensDistortion } from '../../run/index.js';
import type { Observations } from '../observations.js';

/** What lenses for moving pictures do to lines: from strong barrel to some pincushion; fisheyes are beyond the model. */
const STRONGEST_BARREL = -0.35;
const STRONGEST_PINCUSHION = 0.1;
/** Half diagonals up to which the picture must not fold: points at the very fold would be thrown anywhere. */
const UNFOLDED = 1.03;
const SEARCH_STEP = 0.0025;
/** Of k1 r^2: at -4/27 the model folds, and Newton steps get short. */
const UNFOLDED_Q = -0.147;
const MOST_NEWTON_STEPS = 30;
/** The step before the last, which is squared by the last. */
const NEWTON_STILL = 1e-9;

/** A lens with radial distortion of the third order alone. */
export function radialLens(k1: number): LensDistortion {
  return { k1, k2: 0, k3: 0, p1: 0, p2: 0 };
}

/** Lowest and highest k1 that are looked for; the lowest never folds the picture. */
export function possibleK1({ widthPx, heightPx, focalPx }: Camera): readonly [number, number] {
  const corner = (UNFOLDED * Math.hypot(widthPx, heightPx)) / (2 * focalPx);
  let lowest = STRONGEST_BARREL;
  while (lowest < 0 && !isOneToOne(radialLens(lowest), corner)) lowest += SEARCH_STEP;
  return [Math.min(0, lowest), STRONGEST_PINCUSHION];
}

/**
 * The observations with the bending of k1 taken off.
 *
 * @param seen points as seen, over the focal length; not changed
 * @returns the same observations with new x and y, the very same object when k1 is 0; all other columns are shared
 */
export function unbend(seen: Observations, k1: number): Observations {
  if (k1 === 0) return seen;
  const lens = radialLens(k1);
  const x = new Float64Array(seen.count);
  const y = new Float64Array(seen.count);
  for (let o = 0; o < seen.count; o++) {
    const growth = radialGrowth(k1 * (seen.x[o] ** 2 + seen.y[o] ** 2));
    if (Number.isNaN(growth)) {
      const ideal = undistort(lens, seen.x[o], seen.y[o]);
      x[o] = ideal.x;
      y[o] = ideal.y;
    } else {
      x[o] = growth * seen.x[o];
      y[o] = growth * seen.y[o];
    }
  }
  return { ...seen, x, y };
}

/**
 * Ideal radius over the radius r as seen: the root s of s + q s^3 = 1 with q = k1 r^2, by Newton steps, which creep up to it from one side.
 * The search for k1 asks for it a million times.
 * @returns NaN at the fold of the model and beyond
 */
function radialGrowth(q: number): number {
  if (!(q > UNFOLDED_Q)) return NaN;
  let s = 1;
  for (let step = 0; step < MOST_NEWTON_STEPS; step++) {
    const change = (1 - s - q * s * s * s) / (1 + 3 * q * s * s);
    s += change;
    if (Math.abs(change) < NEWTON_STILL) return s;
  }
  return NaN;
}
