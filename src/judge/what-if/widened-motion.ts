/** A foretold motion section whose 95 % intervals hold both the measuring error of the pass and what the prediction leaves open. */
import {
  ANGULAR_AXES,
  TRANSLATIONAL_AXES,
  type AxisRms,
  type AxisTranslation,
  type MotionSection,
} from '../../run/index.js';
import { jointFactor } from '../relative-range.js';

/** [least, most] as factors of what is expected, with 1 between them. */
export type Factors = readonly [number, number];

/** What a prediction leaves open, for turns and for shifts. */
export interface OpenFactors {
  readonly angular: Factors;
  readonly translational: Factors;
}

/**
 * The intervals of the foretold section. Measuring error and prediction are independent factors, so their logarithms add by squares,
 * each side for itself. An axis without an interval of its own gets that of the prediction.
 *
 * @param measured the section of the pass that the prediction starts from
 */
export function widened(foretold: MotionSection, measured: MotionSection, open: OpenFactors): MotionSection {
  const angular = { ...foretold.angular };
  for (const axis of ANGULAR_AXES) {
    const { rmsDeg, ci95Deg } = measured.angular[axis];
    const then: AxisRms = foretold.angular[axis];
    angular[axis] = { ...then, ci95Deg: interval(then.rmsDeg, share(rmsDeg, ci95Deg), open.angular) };
  }
  const translational = { ...foretold.translational };
  for (const axis of TRANSLATIONAL_AXES) {
    const { rms, ci95 } = measured.translational[axis];
    const then: AxisTranslation = foretold.translational[axis];
    translational[axis] = { ...then, ci95: interval(then.rms, share(rms, ci95), open.translational) };
  }
  return { ...foretold, angular, translational };
}

function share(rms: number | null, ci95: readonly [number, number] | null): Factors {
  return rms === null || ci95 === null || !(rms > 0) ? [1, 1] : [ci95[0] / rms, ci95[1] / rms];
}

function interval(rms: number | null, measured: Factors, open: Factors): [number, number] | null {
  if (rms === null) return null;
  return [
    rms * Math.min(1, both(measured[0], open[0])),
    rms * Math.max(1, 1 / both(1 / measured[1], 1 / open[1])),
  ];
}

/** Two factors of at most 1 taken together; 0 stands for no lower end at all. */
function both(a: number, b: number): number {
  if (!(a > 0 && b > 0)) return 0;
  return 1 / jointFactor(1 / Math.min(1, a), 1 / Math.min(1, b));
}
