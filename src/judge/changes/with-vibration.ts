/** A motion with another vibration on the same intended move: radians, and the translation unit of the motion. */
import { rms } from '../../numerics/index.js';
import { AXES, sixAxes, type Axis, type SixAxes } from '../../run/index.js';
import { estimateOf, withoutEnds } from '../../stabilise/index.js';
import type { AxisEstimate, Motion } from '../../motion/index.js';

/**
 * The motion with that vibration; the very motion when no series has changed.
 *
 * Figures are those of the new series; the noise stays as it was, intervals and bounds go in proportion.
 *
 * @param vibration columns as long as those of the motion; a column of the motion itself stands for "as it was"
 */
export function withVibration(motion: Motion, vibration: SixAxes): Motion {
  const changed = (axis: Axis): boolean => vibration[axis] !== motion.vibration[axis];
  if (!AXES.some(changed)) return motion;
  return {
    ...motion,
    vibration,
    path: sixAxes((axis) =>
      changed(axis) ? motion.intended[axis].map((value, t) => value + vibration[axis][t]) : motion.path[axis],
    ),
    axes: perAxis((axis) => (changed(axis) ? estimate(motion, axis, vibration[axis]) : motion.axes[axis])),
  };
}

/** The motion with the vibration of each axis times a factor; the very motion when all of them are 1. */
export function scaledVibration(motion: Motion, factorOf: (axis: Axis) => number): Motion {
  return withVibration(
    motion,
    sixAxes((axis) => {
      const factor = factorOf(axis);
      const series = motion.vibration[axis];
      return factor === 1 ? series : series.map((value) => factor * value);
    }),
  );
}

function estimate(motion: Motion, axis: Axis, series: Float64Array): AxisEstimate {
  const inner = withoutEnds(series, motion.trimFrames);
  return estimateOf(motion.axes[axis], inner, inner.length > 0 ? rms(inner) : 0, 1);
}

function perAxis(of: (axis: Axis) => AxisEstimate): Record<Axis, AxisEstimate> {
  return Object.fromEntries(AXES.map((axis) => [axis, of(axis)])) as Record<Axis, AxisEstimate>;
}
