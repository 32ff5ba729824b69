/** Which terms of the distortion model a set of views can carry: those that are needed, and that do not run wild beyond the views. */
import type { LensDistortion } from '../run/index.js';
import { isOneToOne } from './lens-distortion.js';

/** Terms of the model besides k1, which is always fitted: true where it is fitted. */
export interface LensTerms {
  readonly k2: boolean;
  readonly k3: boolean;
  /** p1 and p2 together. */
  readonly decentring: boolean;
}

/** A term stays when it is this many standard deviations from zero: chance alone does that in one case of a hundred. */
const NEEDED_DEVIATIONS = 2.6;
/** How far out crossings must go, in half diagonals, before r^7 and r^5 are tried: further in they only bend what is not seen. */
const REACH_FOR_K3 = 0.7;
const REACH_FOR_K2 = 0.5;

/**
 * The terms that views can carry by the part of the picture they reach.
 * @param reach how far out the views go, see meanReach
 */
export function termsFor(reach: number): LensTerms {
  return { k2: reach >= REACH_FOR_K2, k3: reach >= REACH_FOR_K3, decentring: true };
}

/**
 * The terms to try after a fit: one fewer where the fit asks for it, the same object where every term is needed.
 * @param deviations standard deviations of the fitted terms
 * @param cornerRadius distance of the picture's corners from its middle, over the focal length
 */
export function fewerTerms(
  terms: LensTerms,
  lens: LensDistortion,
  deviations: LensDistortion,
  cornerRadius: number,
): LensTerms {
  const isNeeded = (name: keyof LensDistortion): boolean =>
    Math.abs(lens[name]) > NEEDED_DEVIATIONS * deviations[name];
  const isWild = !isOneToOne(lens, cornerRadius);
  if (terms.k3 && (isWild || !isNeeded('k3'))) return { ...terms, k3: false };
  if (terms.decentring && !isNeeded('p1') && !isNeeded('p2')) return { ...terms, decentring: false };
  if (terms.k2 && (isWild || !isNeeded('k2'))) return { ...terms, k2: false };
  return terms;
}
