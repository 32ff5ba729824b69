/** How high a bump is where it counts most: under the wheel line that it lifts most, in mm. */
import type { SurfaceBump } from './surface-schema.js';

/** Heights of a bump, mm. */
export type BumpHeights = Pick<SurfaceBump, 'heightMm' | 'leftMm' | 'rightMm'>;

/** The largest height of a bump under any wheel line, mm without sign; its mean where the lines are not known apart. */
export function worstHeightMm(heights: BumpHeights): number {
  return Math.abs(heightUnderWorstMm(heights));
}

/** The same with its sign: + up, a dip is negative. */
export function heightUnderWorstMm({ heightMm, leftMm, rightMm }: BumpHeights): number {
  if (leftMm === null || rightMm === null) return heightMm;
  return Math.abs(leftMm) >= Math.abs(rightMm) ? leftMm : rightMm;
}
