/** The lines along which a floor is graded: each wheel line where the pass shows it, else the mean of both; metres. */
import type { SurfaceProfile } from '../profile/types.js';

/** Heights at even steps along one line and the standard deviation of their error, columns of equal length, metres. */
export interface ProfileLine {
  readonly heightM: Float64Array;
  readonly sdM: Float64Array;
}

/**
 * Left and right wheel line, or their mean alone.
 *
 * The mean is smoother than either line wherever the two differ, so what is graded from it may read up to 1.4 times too flat.
 */
export function profileLines({ heightM, sdM, sides }: SurfaceProfile): readonly ProfileLine[] {
  if (sides === null) return [{ heightM, sdM }];
  return [
    { heightM: sides.leftM, sdM: sides.sdM },
    { heightM: sides.rightM, sdM: sides.sdM },
  ];
}

/** Step of the profile and its whole length, metres; 0 for fewer than two points. */
export function profileExtent({ distanceM }: SurfaceProfile): {
  readonly stepM: number;
  readonly lengthM: number;
} {
  const count = distanceM.length;
  const lengthM = count < 2 ? 0 : distanceM[count - 1] - distanceM[0];
  return { stepM: count < 2 ? 0 : lengthM / (count - 1), lengthM };
}
