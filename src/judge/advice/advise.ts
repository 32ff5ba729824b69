/**
 * What to change first: each step with the crop (per cent of the width), shake left (px RMS of the delivery) and grade that it is
 * foretold to bring, the one that helps most first.
 */
import { postAdviceTexts, setupAdviceTexts } from '../../texts/index.js';
import { shakeInvisible } from '../crop.js';
import type { RefusedChange } from '../changes/types.js';
import { allowCrop } from './allow-crop.js';
import { boardSteps, laidSurfaceSteps } from './boards.js';
import { lensSteps, longestUsableLens, noLensDoes } from './lens.js';
import { measuringSteps } from './measuring-steps.js';
import { postSteps } from './post.js';
import { asksForLess, presentOf, type Present } from './present.js';
import { GRADES, ranked } from './rank.js';
import { reshootSteps } from './reshoot.js';
import { shimSteps } from './shim.js';
import { sourceSteps } from './sources.js';
import { speedSteps } from './speed.js';
import { told, type AdviceInput, type ForetoldStep, type Step } from './step.js';
import { wheelSteps } from './wheels.js';
import { frameWider } from './wider.js';
import { stepsWithoutMotion } from './without-motion.js';

/** More than this nobody reads on the floor. */
export const MOST_STEPS = 6;

const NOTHING_NEEDED = told(
  'nothing-needed',
  postAdviceTexts.nothingNeeded.text,
  postAdviceTexts.nothingNeeded.effect,
);

/**
 * The advice, the first first; never empty.
 *
 * "Nothing needed." stands alone: a pass whose shake cannot be seen and of which nothing else is asked. A pass that has to be
 * stabilised says how to frame for it and how long a lens may be. Any other names what brings crop and shake left down, ranked by
 * prediction (see `ranked`), with the crop to live with where its grade belongs, then what the next measurement needs. Without a motion the steps come
 * from the figures of the document alone and foretell nothing.
 */
export function adviceFor(input: AdviceInput): Step[] {
  const { grade, findings, pass } = input;
  if (grade === 'unmeasurable') return reshootSteps(new Set(findings.map(({ reason }) => reason.code)));
  const measuring = measuringSteps(input);
  const framing = shakeInvisible(input.motion, input.stabilise, input.delivery) ? [] : [frameWider(input)];
  const steps = (): Step[] => {
    if (grade === 'pass')
      return [...framing, ...(pass && framing.length > 0 ? longestUsableLens(pass) : []), ...measuring];
    const present = pass && presentOf(pass, input.coarse);
    if (present && asksForLess(present)) return lessShake(input, present, measuring, framing);
    const less = present ? [] : stepsWithoutMotion(input);
    return [...less, ...measuring, ...(less.length > 0 ? [] : framing)];
  };
  const advice = steps().map(({ code, text, effect, predicted }): Step => ({
    code,
    text,
    effect,
    predicted,
  }));
  return advice.length > 0 ? advice : [NOTHING_NEEDED];
}

/** Steps that bring crop and shake left down; what can be computed from the document alone where none is foretold to help. */
function lessShake(
  input: AdviceInput,
  present: Present,
  measuring: readonly Step[],
  framing: readonly Step[],
): Step[] {
  const { steps, missing } = offeredSteps(present);
  const best = ranked(steps, present);
  const allowed = allowCrop(present);
  const last = [...measuring, ...(allowed.length > 0 ? [] : framing), ...missing];
  const first =
    best.length > 0 ? best : stepsWithoutMotion(input).filter(({ code }) => code !== 'allow-crop');
  const kept = first.slice(0, Math.max(1, MOST_STEPS - last.length - allowed.length));
  const advice = alternativesFirst([...withAllowed(kept, allowed), ...last]);
  const passes = best.some(({ predicted }) => predicted.grade === 'pass');
  return passes || advice.length >= MOST_STEPS ? advice : [...advice, ...noLensDoes(present)];
}

/** A crop to live with stands behind what earns its grade by less shake, and before what earns less. */
function withAllowed(steps: readonly Step[], [allowed]: readonly Step[]): Step[] {
  if (allowed === undefined) return [...steps];
  const rank = ({ predicted }: Step): number => (predicted === null ? 0 : GRADES.indexOf(predicted.grade));
  const place = steps.findIndex((step) => rank(step) > rank(allowed));
  return place < 0 ? [...steps, allowed] : [...steps.slice(0, place), allowed, ...steps.slice(place)];
}

/** Behind the first step those that can be taken in its place, then what comes in addition. */
function alternativesFirst([first, ...rest]: readonly Step[]): Step[] {
  const alternative = ({ predicted }: Step): boolean => predicted !== null;
  return [first, ...rest.filter(alternative), ...rest.filter((step) => !alternative(step))];
}

/** Every family's steps that are foretold to help, and one line on what stands in the way of others. */
function offeredSteps(present: Present): { steps: ForetoldStep[]; missing: Step[] } {
  const families: readonly (ForetoldStep[] | RefusedChange)[] = [
    postSteps(present),
    lensSteps(present),
    speedSteps(present),
    shimSteps(present),
    sourceSteps(present),
    wheelSteps(present),
    boardSteps(present),
    laidSurfaceSteps(present),
  ];
  const steps: ForetoldStep[] = [];
  const refusals: string[] = [];
  for (const family of families)
    if ('refused' in family) refusals.push(family.refused);
    else steps.push(...family);
  return { steps, missing: refusals.slice(0, 1).map((refused) => missingInput(present, refused)) };
}

/** Where the floor was not graded its own reason says what to give or do. */
function missingInput({ pass: { floor, sections } }: Present, refused: string): Step {
  const why = floor === null ? (sections.surface.reason ?? refused) : refused;
  return told('give-more', why, setupAdviceTexts.giveMore);
}
