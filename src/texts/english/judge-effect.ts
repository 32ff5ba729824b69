/** What a step of the advice is foretold to bring, in one sentence. Figures come printed, without their unit. */
import { continued } from './words.js';

/** Where a figure goes: what it was, what it would be, and the 95 % range of that where it has one. */
export interface FigureCourse {
  readonly course: 'falls' | 'rises' | 'stays';
  readonly now: string;
  readonly then: string;
  readonly range: readonly [string, string] | null;
}

/** How an outcome ends. */
export const EFFECT_ENDINGS = {
  overTheLimit: ', still over the limit.',
  overAsExpected: ': may pass, over the limit as expected and within it at best.',
  overAtWorst: ': may pass, within the limits as expected and over one at worst.',
  mayPass: ': may pass.',
  moreRoom: ': more room for a repeat.',
  passes: ': passes.',
} as const;
export type EffectEnding = keyof typeof EFFECT_ENDINGS;

function figures({ course, now, then, range }: FigureCourse, unit: string): string {
  const between = range === null ? '' : ` (${range[0]} to ${range[1]} ${unit})`;
  return course === 'stays' ? `at ${then} ${unit}${between}` : `from ${now} to ${then} ${unit}${between}`;
}

/** The effect of a step. */
export const effectTexts = {
  /** @example "Crop falls from 6.1 to 1.9 % (1.6 to 2.4 %), shake left from 1.2 to 0.7 px (0.5 to 0.8 px): passes." */
  outcome: (crop: FigureCourse, left: FigureCourse | null, ending: EffectEnding): string => {
    const verb = left === null || left.course === crop.course ? '' : `${left.course} `;
    const shake = left === null ? '' : `, shake left ${verb}${figures(left, 'px')}`;
    return `Crop ${crop.course} ${figures(crop, '%')}${shake}${EFFECT_ENDINGS[ending]}`;
  },
  /** @param lead words such as "At 0.2 m/s:" @param granted the first of what is taken for granted, as a sentence */
  told: (outcome: string, lead: string | undefined, granted: string | undefined): string =>
    [
      ...(lead === undefined ? [outcome] : [lead, continued(outcome)]),
      ...(granted === undefined ? [] : [`Taken for granted: ${continued(granted)}`]),
    ].join(' '),
} as const;
