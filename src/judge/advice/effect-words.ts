/** What a step brings, in words with figures: crop in per cent of the width, shake left in px of the delivery, ranges and grade. */
import {
  figureBeside,
  percentBeside,
  type PredictedOutcome,
  type Ranged,
  type ResolvedDelivery,
} from '../../run/index.js';

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
  const crop = change(now.cropPercent, then.cropPercent, '%', (value) =>
    percentBeside(value, maxCropPercent),
  );
  const left =
    now.residualPx === null || then.residualPx === null
      ? null
      : change(now.residualPx, then.residualPx, 'px', (value) => figureBeside(value, maxResidualPx));
  const shake =
    left === null ? '' : `, shake left ${left.verb === crop.verb ? '' : `${left.verb} `}${left.figures}`;
  const over = then.cropPercent.value > maxCropPercent || (then.residualPx?.value ?? 0) > maxResidualPx;
  return `Crop ${crop.verb} ${crop.figures}${shake}${ending(now, then, over)}`;
}

function change(
  now: Ranged,
  then: Ranged,
  unit: string,
  print: (value: number) => string,
): { readonly verb: string; readonly figures: string } {
  const ends = [print(then.low), print(then.high)];
  const range = ends[0] === ends[1] ? '' : ` (${ends[0]} to ${ends[1]} ${unit})`;
  if (Math.abs(then.value - now.value) <= ALIKE * now.value)
    return { verb: 'stays', figures: `at ${print(then.value)} ${unit}${range}` };
  return {
    verb: then.value < now.value ? 'falls' : 'rises',
    figures: `from ${print(now.value)} to ${print(then.value)} ${unit}${range}`,
  };
}

function ending(now: PredictedOutcome, then: PredictedOutcome, over: boolean): string {
  if (then.grade === 'fail') return ', still over the limit.';
  if (then.grade === 'marginal')
    return over ? ': over the limit as expected, within it at best.' : ': passes, with little to spare.';
  return now.grade === 'pass' ? ': more room for a repeat.' : ': passes.';
}
