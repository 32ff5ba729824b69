/** What a step brings, in words with figures: crop in per cent of the width, shake left in px of the delivery, ranges and grade. */
import {
  boundNear,
  figureNear,
  percentNear,
  type PredictedOutcome,
  type Ranged,
  type ResolvedDelivery,
} from '../../run/index.js';
import { effectTexts, type EffectEnding, type FigureCourse } from '../../texts/index.js';

/** Changes below this share are not worth two figures. */
const ALIKE = 0.02;

/**
 * The effect of a step on the figures of a pass, with the grade that it then earns.
 *
 * @example effectInWords(now, then, delivery)
 * // "Crop falls from 6.1 to 1.9 % (1.6 to 2.4 %), shake left from 1.2 to 0.7 px (0.5 to 0.8 px): passes."
 */
export function effectInWords(
  now: PredictedOutcome,
  then: PredictedOutcome,
  { maxCropPercent, maxResidualPx }: ResolvedDelivery,
): string {
  const crop = courseOf(now.cropPercent, then.cropPercent, maxCropPercent, percentNear);
  const left =
    now.residualPx === null || then.residualPx === null
      ? null
      : courseOf(now.residualPx, then.residualPx, maxResidualPx, figureNear);
  const over = then.cropPercent.value > maxCropPercent || (then.residualPx?.value ?? 0) > maxResidualPx;
  const overAtWorst = then.cropPercent.high > maxCropPercent || (then.residualPx?.high ?? 0) > maxResidualPx;
  return effectTexts.outcome(crop, left, endingOf(now, then, { over, overAtWorst }));
}

/** The upper end of the range is rounded up, as in the tables. */
function courseOf(
  now: Ranged,
  then: Ranged,
  limit: number,
  printBeside: (value: number, limit: number) => string,
): FigureCourse {
  const print = (value: number): string => printBeside(value, limit);
  const nearest = print(then.high);
  const low = print(then.low);
  const open = then.low < then.high && !nearest.startsWith('<');
  const high = open ? boundNear(then.high, limit) : nearest;
  const stays = Math.abs(then.value - now.value) <= ALIKE * now.value;
  return {
    course: stays ? 'stays' : then.value < now.value ? 'falls' : 'rises',
    now: print(now.value),
    then: print(then.value),
    range: low === high ? null : [low, high],
  };
}

/** The grade in the words of the line that it stands under: what is marginal "may pass". */
function endingOf(
  now: PredictedOutcome,
  then: PredictedOutcome,
  { over, overAtWorst }: { readonly over: boolean; readonly overAtWorst: boolean },
): EffectEnding {
  if (then.grade === 'fail') return 'overTheLimit';
  if (then.grade === 'marginal') return over ? 'overAsExpected' : overAtWorst ? 'overAtWorst' : 'mayPass';
  return now.grade === 'pass' ? 'moreRoom' : 'passes';
}
