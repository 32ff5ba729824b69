/** Which terms of the distortion model a set of views can carry: those that are needed, and that do not run wild beyond the views. */
import type { LensDistortion } from '../run/index.js';
import { distort } from './lens-distortion.js';

/** Terms of the model besides k1, which is always fitted: true where it is fitted. */
export interface LensTerms {
  readonly k2: boolean;
  readonly k3: boolean;
  /** p1 and p2 together. */
  readonly decentring: boolean;
}

/** Every term of the model. */
export const ALL_TERMS: LensTerms = Object.freeze({ k2: true, k3: true, decentring: true });

/** A term stays when it is this many standard deviations from zero: chance alone does that in one case of a hundred. */
const NEEDED_DEVIATIONS = 2.6;
/** How far out crossings must go, in half diagonals, before r^7 and r^5 are told apart from r^3. */
const REACH_FOR_K3 = 0.85;
const REACH_FOR_K2 = 0.6;

/** True when the picture of the lens grows outwards all the way to the ideal radius given: no place is seen twice. */
export function isOneToOne(lens: LensDistortion, radius: number): boolean {
  const steps = 100;
  for (let i = 1; i <= steps; i++) {
    const r = (radius * i) / steps;
    if (!(distort(lens, r, 0).x > distort(lens, (radius * (i - 1)) / steps, 0).x)) return false;
  }
  return true;
}

/**
 * The terms to try after a fit: one fewer where the fit asks for it, the same object where every term is needed.
 * @param deviations standard deviations of the fitted terms
 * @param reach how far out the views go, see meanReach
 * @param cornerRadius ideal radius of the picture's corners, over the focal length
 */
export function fewerTerms(
  terms: LensTerms,
  lens: LensDistortion,
  deviations: LensDistortion,
  reach: number,
  cornerRadius: number,
): LensTerms {
  const isNeeded = (name: keyof LensDistortion): boolean =>
    Math.abs(lens[name]) > NEEDED_DEVIATIONS * deviations[name];
  const isWild = !isOneToOne(lens, cornerRadius);
  if (terms.k3 && (isWild || reach < REACH_FOR_K3 || !isNeeded('k3'))) return { ...terms, k3: false };
  if (terms.decentring && !isNeeded('p1') && !isNeeded('p2')) return { ...terms, decentring: false };
  if (terms.k2 && (isWild || reach < REACH_FOR_K2 || !isNeeded('k2'))) return { ...terms, k2: false };
  return terms;
}
