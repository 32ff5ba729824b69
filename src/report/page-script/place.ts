/** Where a value of the horizontal axis stands in a drawing, and the other way round; px of the drawing. */
import type { DrawnChart } from '../charts/index.js';

/** The horizontal axis of a drawing. */
export type DrawnAxis = Pick<DrawnChart, 'area' | 'domain' | 'log'>;

/** The value at a place, that of the nearer end beside the plot. */
export function valueAt({ area, domain, log }: DrawnAxis, xPx: number): number {
  const share = Math.min(1, Math.max(0, (xPx - area.left) / (area.right - area.left)));
  // Exactly the ends at the ends: a logarithm and back would miss them.
  if (share === 0 || share === 1) return domain[share];
  const [from, to] = domain;
  return log ? from * (to / from) ** share : from + share * (to - from);
}

/** The place of a value; null where it lies beside the plot. @example pxAt({ area, domain: [0, 8], log: false }, 9) // null */
export function pxAt({ area, domain: [from, to], log }: DrawnAxis, value: number): number | null {
  const share = log ? Math.log(value / from) / Math.log(to / from) : (value - from) / (to - from);
  // What was stored with few digits may lie a hair beside the end that it stands for.
  const hair = 1e-4;
  if (!(share >= -hair && share <= 1 + hair)) return null;
  return area.left + share * (area.right - area.left);
}
