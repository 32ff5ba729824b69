/** What a verdict and its advice do not hold for, in words: doubts of the clip, translation that it cannot show, and a longer take. */
import { LONGER_TAKE_OVER_LIMIT } from '../judge/index.js';
import { doubtsAmong, type RunDocument, type Warning } from '../run/index.js';
import { firstScreenTexts } from '../texts/index.js';

/** The doubts that stand beside the verdict, those that weigh most first; none for a run without a verdict. */
export function doubtsBesideVerdict({
  verdict: { grade },
  warnings,
}: Pick<RunDocument, 'verdict' | 'warnings'>): readonly Warning[] {
  return grade === 'unmeasurable' ? [] : doubtsAmong(warnings);
}

/** What the verdict does not hold for, each with its name, doubts first; none for a run without a verdict. */
export function reservations(run: RunDocument): [name: string, text: string][] {
  const {
    verdict: { grade, reasons },
    motion,
  } = run;
  if (grade === 'unmeasurable') return [];
  const doubted = doubtsBesideVerdict(run).map(({ text }): [string, string] => [
    firstScreenTexts.inDoubt,
    text,
  ]);
  const blind = motion.translational.observable === 'no';
  const notCovered = firstScreenTexts.translationNotCovered(motion.separation.unsplit?.cause ?? null);
  const minded = reasons.filter(({ code }) => code === LONGER_TAKE_OVER_LIMIT);
  return [
    ...doubted,
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
