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
    const ideal = undistort(lens, seen.x[o], seen.y[o]);
    x[o] = ideal.x;
    y[o] = ideal.y;
  }
  return { ...seen, x, y };
}
