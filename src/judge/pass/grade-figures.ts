/** The grade that crop (per cent of the width) and shake left (px RMS of the delivery) earn against a delivery, by their 95 % ranges. */
import type { PredictedOutcome, Ranged, ResolvedDelivery } from '../../run/index.js';

/** A grade of a pass that could be measured. */
export type FigureGrade = PredictedOutcome['grade'];

/** Within the limit as a whole: pass; beyond it as a whole: fail; the limit inside the range: marginal. */
export function gradeAgainst({ low, high }: Ranged, limit: number): FigureGrade {
  if (low > limit) return 'fail';
  return high <= limit ? 'pass' : 'marginal';
}

/** The worse of both grades; a shake left that is not known makes a pass marginal. */
export function gradeFigures(
  cropPercent: Ranged,
  residualPx: Ranged | null,
  { maxCropPercent, maxResidualPx }: ResolvedDelivery,
): FigureGrade {
  const grades = [
    gradeAgainst(cropPercent, maxCropPercent),
    residualPx === null ? ('marginal' as const) : gradeAgainst(residualPx, maxResidualPx),
  ];
  if (grades.includes('fail')) return 'fail';
  return grades.includes('marginal') ? 'marginal' : 'pass';
}
