/** The motion of a pass with the ends of its 95 % measuring range: the vibration of each axis as small and as large as it may be. */
import { AXES, hasFigure, sixAxes, type Axis } from '../../run/index.js';
import type { AxisEstimate, Motion } from '../../motion/index.js';
import type { ChangedMotion } from '../changes/types.js';

/** Nothing changed: the motion as measured, with all axes at the lower and all at the upper end of their intervals. */
export function measuredRange(motion: Motion): ChangedMotion {
  return {
    expected: motion,
    least: scaledVibration(motion, (axis) => endOf(motion.axes[axis], 0)),
    most: scaledVibration(motion, (axis) => endOf(motion.axes[axis], 1)),
    assumes: [],
  };
}

/** An axis without an interval keeps its figure. */
function endOf({ status, rms, ci95 }: AxisEstimate, end: 0 | 1): number {
  if (!hasFigure(status) || rms === null || ci95 === null || !(rms > 0)) return 1;
  return end === 0 ? Math.min(1, ci95[0] / rms) : Math.max(1, ci95[1] / rms);
}

/** The motion with the vibration of each axis times a factor; the intended move stays as it is. */
export function scaledVibration(motion: Motion, factorOf: (axis: Axis) => number): Motion {
  const factors = Object.fromEntries(AXES.map((axis) => [axis, factorOf(axis)])) as Record<Axis, number>;
  if (AXES.every((axis) => factors[axis] === 1)) return motion;
  const vibration = sixAxes((axis) => motion.vibration[axis].map((value) => factors[axis] * value));
  return {
    ...motion,
    vibration,
    path: sixAxes((axis) => motion.intended[axis].map((value, t) => value + vibration[axis][t])),
    axes: Object.fromEntries(
      AXES.map((axis) => [axis, scaledEstimate(motion.axes[axis], factors[axis])]),
    ) as Record<Axis, AxisEstimate>,
  };
}

function scaledEstimate(estimate: AxisEstimate, factor: number): AxisEstimate {
  const { rms, rawRms, peakToPeak, maximum, ci95, below } = estimate;
  return {
    ...estimate,
    rms: rms === null ? null : factor * rms,
    rawRms: factor * rawRms,
    peakToPeak: factor * peakToPeak,
    maximum: factor * maximum,
    ci95: ci95 && [factor * ci95[0], factor * ci95[1]],
    below: factor * below,
  };
}
