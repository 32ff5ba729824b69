/** How high a bump is where it counts most: under the wheel line that it lifts most, in mm. */
import type { SurfaceBump } from './surface-schema.js';

/** The largest height of a bump under any wheel line, mm without sign; its mean where the lines are not known apart. */
export function worstHeightMm({
  heightMm,
  leftMm,
  rightMm,
}: Pick<SurfaceBump, 'heightMm' | 'leftMm' | 'rightMm'>): number {
  return leftMm === null || rightMm === null
    ? Math.abs(heightMm)
    : Math.max(Math.abs(leftMm), Math.abs(rightMm));
}
