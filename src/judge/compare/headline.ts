/** The headline of two setups, from the ratios of their axes: who is smoother and how far that reaches, or what can be said instead. */
import { isAngular, type Axis, type ComparedRatio } from '../../run/index.js';
import type { PairWords } from './ratio-entry.js';
import { leansAmongMany } from './ratio-entry.js';
import { capital, listed, rangeWords, ratioFigure, reachWords } from './ratio-words.js';

type AxisRatio = ComparedRatio & { readonly axis: Axis };

/**
 * The sentence for a pair.
 *
 * Clear axes are named with their figures, the others as far as they were compared; where none is clear, the axis that shakes most
 * speaks, for it is the one that a crew sees.
 *
 * @param unfair reasons why more than the setups was compared; the first is told
 */
export function headline(ratios: readonly AxisRatio[], words: PairWords, unfair: readonly string[]): string {
  const { a, b, claim, sameClip } = words;
  const angles = ratios.filter(({ axis }) => isAngular(axis));
  const compared = angles.filter(({ ratio }) => ratio !== null);
  if (sameClip) return `The same clip stands on both sides: no clear difference between ${a} and ${b}.`;
  if (compared.length === 0) return boundSentence(angles);
  const strongest = compared.reduce((most, one) => (sizeOf(one) > sizeOf(most) ? one : most));
  if (claim === 'nothing') return strongest.sentence;
  const forA = angles.filter(({ says }) => says === 'aSmoother');
  const forB = angles.filter(({ says }) => says === 'bSmoother');
  const caution = unfair.length > 0 ? ` Not of the ${words.places ?? 'setup'}s alone: ${unfair[0]}` : '';
  if (forA.length + forB.length === 0) return `${strongest.sentence}${caution}`;
  return capital(`${clearWords(forA, forB, angles, words)}${caution}`);
}

/** Where noise hides one side, the axis on which the other shakes most says most. */
function boundSentence(angles: readonly AxisRatio[]): string {
  const clearer = (one: AxisRatio): number => Math.max(one.aRms ?? 0, one.bRms ?? 0);
  return angles.reduce((most, one) => (clearer(one) > clearer(most) ? one : most)).sentence;
}

function clearWords(
  forA: readonly AxisRatio[],
  forB: readonly AxisRatio[],
  angles: readonly AxisRatio[],
  { a, b, claim, counts }: PairWords,
): string {
  const reach = reachWords(claim);
  const open = angles.filter(
    (one) => one.ratio !== null && one.says !== 'aSmoother' && one.says !== 'bSmoother',
  );
  const even = open.filter((one) => !leansAmongMany(one)).map(({ axis }) => axis);
  const leaning = open
    .filter(leansAmongMany)
    .map((one) => ` Leaning to ${(one.ratio ?? 1) < 1 ? a : b} in ${one.axis}, not sure among so many.`);
  const rest = `${even.length > 0 ? ` No clear difference in ${listed(even)}.` : ''}${leaning.join('')}`;
  const figures = (clear: readonly AxisRatio[], isA: boolean): string =>
    clear.map((one) => `${one.axis} RMS ${shareOf(one, isA)}`).join(', ');
  if (forB.length === 0)
    return `${a} is smoother ${reach}: ${figures(forA, true)} of ${b}, ${counts}.${rest}`;
  if (forA.length === 0)
    return `${b} is smoother ${reach}: ${figures(forB, false)} of ${a}, ${counts}.${rest}`;
  return `${a} is smoother in ${names(forA)} and ${b} in ${names(forB)} ${reach}: ${a} has ${figures(forA, true)} of ${b}, ${b} has ${figures(forB, false)} of ${a}, ${counts}.${rest}`;
}

const names = (clear: readonly AxisRatio[]): string => listed(clear.map(({ axis }) => axis));

/** A over B, or B over A, with its range. */
function shareOf({ ratio, ci95 }: AxisRatio, isA: boolean): string {
  if (ratio === null || ci95 === null) return '';
  return isA
    ? `${ratioFigure(ratio)} (${rangeWords(ci95)})`
    : `${ratioFigure(1 / ratio)} (${rangeWords([1 / ci95[1], 1 / ci95[0]])})`;
}

function sizeOf({ aRms, bRms }: AxisRatio): number {
  return (aRms ?? 0) * (bRms ?? 0);
}
