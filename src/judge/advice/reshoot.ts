/** What to do when the clip does not support a verdict: how to shoot the test pass again. */
import { reshootTexts } from '../../texts/index.js';
import { told, type Step } from './step.js';

/** The step for each obstacle, in the order of what is done first. */
const RESHOOT: Readonly<Record<string, readonly [code: string, keyof typeof reshootTexts]>> = {
  'too-few-tracks': ['reshoot-light-texture', 'lightAndTexture'],
  'coverage-too-small': ['reshoot-fill-frame', 'fillFrame'],
  'subject-fills-frame': ['reshoot-without-subject', 'withoutSubject'],
  'no-camera-path': ['reshoot-plain', 'plain'],
  'noise-too-large': ['reshoot-cleaner', 'cleaner'],
  'too-short': ['reshoot-longer', 'longer'],
  'too-many-frames-rejected': ['reshoot-one-take', 'oneTake'],
};

/** What to do about each obstacle, in the order of what is done first; one plain step where none is known. */
export function reshootSteps(codes: ReadonlySet<string>): Step[] {
  const steps = Object.entries(RESHOOT)
    .filter(([code]) => codes.has(code))
    .map(([, [code, words]]) => told(code, reshootTexts[words].text, reshootTexts[words].effect));
  if (steps.length > 0) return steps;
  return [told('reshoot', reshootTexts.anyway.text, reshootTexts.anyway.effect)];
}
