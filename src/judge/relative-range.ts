/** How far several axes taken together may lie from their figure: the 95 % interval of their joint RMS, as two factors of it. */
import type { MotionSection } from '../run/index.js';

/** What the range needs of one axis; any unit, the same for all axes. */
export interface AxisRange {
  readonly status: 'value' | 'wide' | 'below' | 'notObservable';
  readonly rms: number | null;
  readonly ci95: readonly [number, number] | null;
  readonly below: number | null;
}

/** Factors on a figure that grows in step with the shake: [least, most], with 1 between them. */
export type RelativeRange = readonly [number, number];

/** Two causes of doubt that know nothing of each other, each a factor of at least 1: their logarithms add by squares. */
export function jointFactor(a: number, b: number): number {
  return Math.exp(Math.hypot(Math.log(a), Math.log(b)));
}

/** Half width of the range taken where the translation comes without an interval, as a share of the value. */
export const RESIDUAL_MARGIN = 0.1;

/**
 * Adds the axes by squares: the figure, its low and its high end, and gives both ends as factors of the figure.
 * An axis that is only "below X" counts 0 at the low end and X at the high end; one that is not observable is left out.
 *
 * @returns null when no axis has a figure or a bound
 */
export function relativeRange(axes: readonly AxisRange[]): RelativeRange | null {
  let figure = 0;
  let low = 0;
  let high = 0;
  for (const axis of axes) {
    if (axis.status === 'notObservable') continue;
    const bound = axis.status === 'below' ? axis.below : null;
    if (bound !== null) {
      high += bound ** 2;
      continue;
    }
    if (axis.rms === null) continue;
    figure += axis.rms ** 2;
    low += (axis.ci95?.[0] ?? axis.rms) ** 2;
    high += (axis.ci95?.[1] ?? axis.rms) ** 2;
  }
  if (high === 0) return null;
  if (figure === 0) return [0, 1];
  return [Math.min(1, Math.sqrt(low / figure)), Math.max(1, Math.sqrt(high / figure))];
}

/** The range of what grows in step with the turns of the camera; [1, 1] when no angle has a figure. */
export function angularRange({ angular: { pan, tilt, roll } }: MotionSection): RelativeRange {
  const axes = [pan, tilt, roll].map(({ status, rmsDeg, ci95Deg, belowDeg }) => ({
    status,
    rms: rmsDeg,
    ci95: ci95Deg,
    below: belowDeg,
  }));
  return relativeRange(axes) ?? [1, 1];
}

/**
 * The range of what grows in step with the moves of the camera. Moves along the lens shift the picture only towards its edges: they
 * count when nothing else is known.
 */
export function translationalRange({
  translational: { lateral, vertical, axial },
}: MotionSection): RelativeRange {
  const known = relativeRange([lateral, vertical]) ?? relativeRange([axial]);
  return known ?? [1 - RESIDUAL_MARGIN, 1 + RESIDUAL_MARGIN];
}
