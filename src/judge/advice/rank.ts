/** The order of steps: by the grade that they reach, then by how far the worst figure comes down, the cheaper of two alike first. */
import type { PredictedOutcome } from '../../run/index.js';
import { worstOf, type Present } from './present.js';
import { EFFORTS, type ForetoldStep } from './step.js';

/** Steps whose worst figures lie within this share of one another do about the same. */
export const ABOUT_THE_SAME = 0.1;

/** The best first. */
export const GRADES: readonly PredictedOutcome['grade'][] = ['pass', 'marginal', 'fail'];

/**
 * Ranks steps, the one that helps most first. Steps of one grade that do about as much as the best of their group stand in the
 * order of what they cost a crew; what is still alike keeps its order.
 */
export function ranked(steps: readonly ForetoldStep[], present: Pick<Present, 'limits'>): ForetoldStep[] {
  const grade = ({ predicted }: ForetoldStep): number => GRADES.indexOf(predicted.grade);
  const worst = ({ predicted }: ForetoldStep, end: 'value' | 'high'): number =>
    worstOf(predicted, present, end);
  const byEffect = [...steps].sort(
    (a, b) =>
      grade(a) - grade(b) || worst(a, 'value') - worst(b, 'value') || worst(a, 'high') - worst(b, 'high'),
  );
  const groups: ForetoldStep[][] = [];
  for (const step of byEffect) {
    const group = groups.at(-1);
    const alike =
      group !== undefined &&
      grade(group[0]) === grade(step) &&
      worst(step, 'value') <= (1 + ABOUT_THE_SAME) * worst(group[0], 'value');
    if (alike) group.push(step);
    else groups.push([step]);
  }
  return groups.flatMap((group) =>
    group.sort((a, b) => EFFORTS.indexOf(a.effort) - EFFORTS.indexOf(b.effort)),
  );
}

/** The best of several steps of one family; none of none. */
export function bestOf(steps: readonly ForetoldStep[], present: Pick<Present, 'limits'>): ForetoldStep[] {
  return ranked(steps, present).slice(0, 1);
}
