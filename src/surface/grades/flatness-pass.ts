/** The pass that would hold enough of what floor flatness counts: its speed in m/s and its length in m, from the band of one that does not. */
import { FLATNESS_SPACING_M } from '../roughness/road-profile.js';
import { heldCurvatureShare, LEAST_HELD_SHARE, LEAST_LINE_M } from './flatness.js';

/** No dolly is pushed faster over a floor to be looked at, m/s. */
const FASTEST_MPS = 2;

/** Speeds are told in these steps, m/s. */
const STEP_MPS = 0.1;

/** Ends of a clip that no statistic uses, together, s. */
const ENDS_S = 1;

/**
 * The slowest pass that would do, in steps of 0.1 m/s. Rolled for the same time at another speed, every wavelength of a band grows with
 * the speed: so the length grows with it, and is at least a line of the survey and both ends of the clip.
 *
 * @param bandM shortest and longest wavelength of the pass, m
 * @param speedMps of the pass
 * @param rolledM its length
 * @returns null where it would have to be faster than a dolly is pushed
 */
export function passForFlatness(
  [shortestM, longestM]: readonly [number, number],
  speedMps: number,
  rolledM: number,
): { readonly speedMps: number; readonly lengthM: number } | null {
  for (let step = Math.ceil(speedMps / STEP_MPS + 1e-9); step * STEP_MPS <= FASTEST_MPS + 1e-9; step++) {
    const faster = (step * STEP_MPS) / speedMps;
    if (heldCurvatureShare([faster * shortestM, faster * longestM], FLATNESS_SPACING_M) < LEAST_HELD_SHARE)
      continue;
    const speed = Number((step * STEP_MPS).toFixed(1));
    return { speedMps: speed, lengthM: Math.ceil(Math.max(LEAST_LINE_M + ENDS_S * speed, faster * rolledM)) };
  }
  return null;
}
