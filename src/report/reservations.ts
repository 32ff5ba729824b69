/** What a verdict and its advice do not hold for, in words: translation that the clip cannot show, and a longer take. */
import { LONGER_TAKE_OVER_LIMIT } from '../judge/index.js';
import type { RunDocument } from '../run/index.js';
import { firstScreenTexts } from '../texts/index.js';

/** What the verdict does not hold for, each with its name; none for a run without a verdict. */
export function reservations({
  verdict: { grade, reasons },
  motion,
}: RunDocument): [name: string, text: string][] {
  if (grade === 'unmeasurable') return [];
  const blind = motion.translational.observable === 'no';
  const notCovered = firstScreenTexts.translationNotCovered(motion.separation.unsplit?.cause ?? null);
  const minded = reasons.filter(({ code }) => code === LONGER_TAKE_OVER_LIMIT);
  return [
    ...(blind ? ([[firstScreenTexts.notCovered, notCovered]] satisfies [string, string][]) : []),
    ...minded.map(({ text }): [string, string] => [firstScreenTexts.mind, text]),
  ];
}

/** Where it is told that a step passes for a take like the test, once, a longer one being minded: at the first step, or at the others; else null. */
export function passesLikeTest({ verdict: { advice, reasons } }: RunDocument): 'first' | 'others' | null {
  const passes = advice.findIndex(({ predicted }) => predicted?.grade === 'pass');
  if (passes < 0 || !reasons.some(({ code }) => code === LONGER_TAKE_OVER_LIMIT)) return null;
  return passes === 0 ? 'first' : 'others';
}
