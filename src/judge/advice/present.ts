/** The pass as it stands and what is to be met: what every step of the advice is foretold from. Per cent of the width, px RMS. */
import type { PredictedOutcome, Ranged } from '../../run/index.js';
import { effectTexts } from '../../texts/index.js';
import { applyChanges } from '../changes/apply-changes.js';
import {
  isRefused,
  unchanged,
  type ChangedMotion,
  type PassChange,
  type RefusedChange,
} from '../changes/types.js';
import { repeatGrowth, shakeInvisible } from '../crop.js';
import { figuresOf, outcomeOf, type OutcomeSettings } from '../pass/outcome.js';
import type { MeasuredPass } from '../pass/measured-pass.js';
import { effectInWords } from './effect-words.js';
import type { Effort, ForetoldStep } from './step.js';

/** What a step has to bring the figures below. */
export interface Limits {
  /** For a crop as it is expected: room for a repeat of the move taken off. Infinite where the shake cannot be seen anyway. */
  readonly cropPercent: number;
  /** For the upper end of its range, which holds a repeat of the move already. */
  readonly cropAtMostPercent: number;
  readonly residualPx: number;
}

/** The pass as it stands. */
export interface Present {
  readonly pass: MeasuredPass;
  /** The motion as it is. */
  readonly measured: ChangedMotion;
  readonly now: PredictedOutcome;
  readonly limits: Limits;
  /** The way of stabilising takes long to find, or the answer is to be quick: searches look at fewer places. */
  readonly coarse: boolean;
}

/** What a step brings. */
export interface Foretold {
  readonly predicted: PredictedOutcome;
  /**
   * The worst figure is expected to come down, and by more than it may rise at the upper end of the 95 % range; no figure that then
   * stands over its limit has risen.
   */
  readonly helps: boolean;
  /** What is taken for granted, plain sentences. */
  readonly assumes: readonly string[];
}

/** Crops below this mean nothing: a limit of 0 counts as that. */
const LEAST_CROP_PERCENT = 0.01;
/** A worst figure that comes down by a smaller share has not changed. */
const LEAST_GAIN = 0.02;

/** @returns the pass with its present figures @param coarse true for searches that look at fewer places */
export function presentOf(pass: MeasuredPass, coarse = false): Present {
  const measured = unchanged(pass.motion);
  return {
    pass,
    measured,
    now: outcomeOf(pass, measured),
    limits: limitsOf(pass),
    coarse: coarse || pass.choice.mode === 'smoothest',
  };
}

function limitsOf({ sections: { motion, stabilise }, delivery }: MeasuredPass): Limits {
  const cropAtMostPercent = shakeInvisible(motion, stabilise, delivery)
    ? Infinity
    : Math.max(delivery.maxCropPercent, LEAST_CROP_PERCENT);
  return {
    cropPercent: cropAtMostPercent / Math.max(1, repeatGrowth(stabilise)),
    cropAtMostPercent,
    residualPx: delivery.maxResidualPx,
  };
}

/** The worse of crop and shake left, each over its limit: 1 stands at the limit. A shake left that is not known does not count. */
export function worstShare(
  cropPercent: number,
  residualPx: number | null,
  limits: Pick<Limits, 'cropPercent' | 'residualPx'>,
): number {
  return Math.max(cropPercent / limits.cropPercent, (residualPx ?? 0) / limits.residualPx);
}

/** The worst share at one end of an outcome. */
export function worstOf(
  { cropPercent, residualPx }: PredictedOutcome,
  { limits }: Pick<Present, 'limits'>,
  end: 'value' | 'high' = 'value',
): number {
  const { residualPx: leftPx, cropPercent: expected, cropAtMostPercent } = limits;
  return worstShare(cropPercent[end], residualPx?.[end] ?? null, {
    cropPercent: end === 'high' ? cropAtMostPercent : expected,
    residualPx: leftPx,
  });
}

/** Something about the figures of this pass asks for less shake: an end of a range, or a repeat, lies beyond a limit. */
export function asksForLess(present: Present): boolean {
  return worstOf(present.now, present, 'high') > 1;
}

/** The same motion with another lens, delivery, shutter or way of stabilising. */
export function bySettings(present: Present, settings: OutcomeSettings): Foretold {
  return byOutcome(present, outcomeOf(present.pass, present.measured, settings));
}

/** An outcome of the same motion. */
export function byOutcome(present: Present, predicted: PredictedOutcome): Foretold {
  return foretold(present, predicted, []);
}

/** Another motion. */
export function byMotion(present: Present, changed: ChangedMotion): Foretold {
  const predicted = outcomeOf(present.pass, changed);
  return foretold(present, predicted, changed.assumes);
}

/** A change of dolly, floor or speed; the refusal where it cannot be foretold. */
export function byChange(present: Present, change: PassChange): Foretold | RefusedChange {
  const changed = applyChanges(present.pass, [change]);
  return isRefused(changed) ? changed : byMotion(present, changed);
}

/** The worst share of one motion under the settings of the pass: what scans look at. */
export function shareOfMotion({ pass, limits }: Present, motion: ChangedMotion['expected']): number {
  const { cropPercent, residualPx } = figuresOf(pass, motion);
  return worstShare(cropPercent, residualPx, limits);
}

/** Measuring error and repeat are the same before and after, so like ends are compared. */
function foretold(present: Present, predicted: PredictedOutcome, assumes: readonly string[]): Foretold {
  const gained = worstOf(present.now, present) / worstOf(predicted, present);
  const lostAtWorst = worstOf(predicted, present, 'high') / worstOf(present.now, present, 'high');
  const helps = gained >= 1 + LEAST_GAIN && lostAtWorst <= gained && !failsByMore(present, predicted);
  return { predicted, helps, assumes };
}

/** Still over a limit, by a figure that the step itself makes worse. */
function failsByMore({ now, limits }: Present, { cropPercent, residualPx }: PredictedOutcome): boolean {
  const more = (then: Ranged | null, before: Ranged | null, limit: number): boolean =>
    then !== null && before !== null && then.low > limit && then.value > (1 + LEAST_GAIN) * before.value;
  return (
    more(cropPercent, now.cropPercent, limits.cropAtMostPercent) ||
    more(residualPx, now.residualPx, limits.residualPx)
  );
}

/** The step, when it helps; else nothing. @param lead words before the figures, such as "At 0.2 m/s:" */
export function stepWhenItHelps(
  present: Present,
  { predicted, helps, assumes }: Foretold,
  step: { readonly code: string; readonly text: string; readonly effort: Effort; readonly lead?: string },
): ForetoldStep[] {
  if (!helps) return [];
  const { code, text, effort, lead } = step;
  const effect = effectInWords(present.now, predicted, present.pass.delivery);
  return [
    {
      code,
      text,
      effort,
      predicted,
      effect: effectTexts.told(effect, lead, assumes[0]),
    },
  ];
}
