/** Which of the angular axes shakes most, by the figures that stand in a run. */
import { ANGULAR_AXES, type AngularAxis } from './axes.js';
import type { MotionSection } from './document.js';
import { hasFigure } from './has-figure.js';

/** The axis of the largest RMS above the noise; the first of pan, tilt and roll where two are as large, null when none has a figure. */
export function worstAngularAxis({ angular }: Pick<MotionSection, 'angular'>): AngularAxis | null {
  let worst: AngularAxis | null = null;
  for (const axis of ANGULAR_AXES) {
    const { status, rmsDeg } = angular[axis];
    if (!hasFigure(status) || rmsDeg === null) continue;
    if (worst === null || rmsDeg > (angular[worst].rmsDeg ?? 0)) worst = axis;
  }
  return worst;
}
