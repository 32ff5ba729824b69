/** The grade that crop (per cent of the width) and shake left (px RMS of the delivery) earn against a delivery, by their 95 % ranges. */
import type { PredictedOutcome, Ranged, ResolvedDelivery } from '../../run/index.js';
import { shakeGuidance } from '../delivery.js';

/** A grade of a pass that could be measured. */
export type FigureGrade = PredictedOutcome['grade'];

/** Within the limit as a whole: pass; beyond it as a whole: fail; the limit inside the range: marginal. */
export function gradeAgainst({ low, high }: Ranged, limit: number): FigureGrade {
  if (low > limit) return 'fail';
  return high <= limit ? 'pass' : 'marginal';
}

/** Largest shift of the picture that a crop stands for, px of the delivery: half the crop, since it is taken from both sides. */
export function largestShiftPx(
  { value, low, high }: Ranged,
  { widthPx }: Pick<ResolvedDelivery, 'widthPx'>,
): Ranged {
  const pxPerPercent = widthPx / 200;
  return { value: pxPerPercent * value, low: pxPerPercent * low, high: pxPerPercent * high };
}

/** True when the shake that a crop stands for is below what is seen, see `shakeGuidance`, at the upper end of its range too. */
export function cropNotNeeded(cropPercent: Ranged, delivery: ResolvedDelivery): boolean {
  const { notVisiblePeakPx } = shakeGuidance(delivery);
  return gradeAgainst(largestShiftPx(cropPercent, delivery), notVisiblePeakPx) === 'pass';
}

/** A crop against what is allowed; shake too small to be seen passes whatever that is. */
export function gradeCrop(cropPercent: Ranged, delivery: ResolvedDelivery): FigureGrade {
  return cropNotNeeded(cropPercent, delivery) ? 'pass' : gradeAgainst(cropPercent, delivery.maxCropPercent);
}

/** The worse of both grades; a shake left that is not known makes a pass marginal. */
export function gradeFigures(
  cropPercent: Ranged,
  residualPx: Ranged | null,
  delivery: ResolvedDelivery,
): FigureGrade {
  const grades = [
    gradeCrop(cropPercent, delivery),
    residualPx === null ? ('marginal' as const) : gradeAgainst(residualPx, delivery.maxResidualPx),
  ];
  if (grades.includes('fail')) return 'fail';
  return grades.includes('marginal') ? 'marginal' : 'pass';
}
