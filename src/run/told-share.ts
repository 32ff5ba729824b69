/** How the angular share of the shake (0..1) can be told: as a figure, as a range alone, or not at all. */
import type { MotionSection } from './document.js';
import { worstAngularAxis } from './worst-axis.js';

/** A range wider than this leaves the figure in it without a meaning. */
const WIDEST = 0.4;

/** The share as it can be told. */
export type ToldShare =
  | { readonly as: 'figure'; readonly share: number; readonly ci95: readonly [number, number] | null }
  | { readonly as: 'range'; readonly ci95: readonly [number, number] }
  | { readonly as: 'unknown' };

/** A share whose 95 % range is wider than 40 points is its range; without an angular axis above its noise there is none. */
export function toldShare(motion: Pick<MotionSection, 'angular' | 'angularShare'>): ToldShare {
  const { value: share, ci95 } = motion.angularShare;
  if (share === null || worstAngularAxis(motion) === null) return { as: 'unknown' };
  if (ci95 !== null && ci95[1] - ci95[0] > WIDEST) return { as: 'range', ci95 };
  return { as: 'figure', share, ci95 };
}
