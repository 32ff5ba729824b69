/** The headline of two setups, from the ratios of their axes: who is smoother and how far that reaches, or what can be said instead. */
import { isAngular, type Axis, type ComparedRatio } from '../../run/index.js';
import { headlineTexts, type ClearAxis } from '../../texts/index.js';
import type { PairWords } from './ratio-entry.js';
import { leansAmongMany } from './ratio-entry.js';
import { rangeWords, ratioFigure, reachWords } from './ratio-words.js';

type AxisRatio = ComparedRatio & { readonly axis: Axis };

/** The most that a side under its noise has of the other, printed, by axis. */
export type Bounds = ReadonlyMap<Axis, string>;

/**
 * The sentence for a pair.
 *
 * Clear axes are named with their figures, the others as far as they were compared; where none is clear, the axis that shakes most
 * speaks, for it is the one that a crew sees.
 *
 * @param unfair reasons why more than the setups was compared; the first is told
 * @param bounds of the axes that are clear by a bound alone
 */
export function headline(
  ratios: readonly AxisRatio[],
  words: PairWords,
  unfair: readonly string[],
  bounds: Bounds = new Map(),
): string {
  const { a, b, claim, sameClip } = words;
  const angles = ratios.filter(({ axis }) => isAngular(axis));
  const compared = angles.filter(({ ratio }) => ratio !== null);
  if (sameClip) return headlineTexts.sameClip(a, b);
  const forA = angles.filter(({ says }) => says === 'aSmoother');
  const forB = angles.filter(({ says }) => says === 'bSmoother');
  if (compared.length + forA.length + forB.length === 0) return boundSentence(angles);
  const strongest = compared.reduce<AxisRatio | null>(
    (most, one) => (most === null || sizeOf(one) > sizeOf(most) ? one : most),
    null,
  );
  if (claim === 'nothing' && strongest !== null) return strongest.sentence;
  const caution = unfair.length > 0 ? [headlineTexts.notAlone(words.places ?? 'setup', unfair[0])] : [];
  if (forA.length + forB.length === 0 && strongest !== null)
    return [strongest.sentence, ...caution].join(' ');
  return clearWords(forA, forB, [...restWords(angles, words), ...caution], words, bounds);
}

/** Where noise hides one side, the axis on which the other shakes most says most. */
function boundSentence(angles: readonly AxisRatio[]): string {
  const clearer = (one: AxisRatio): number => Math.max(one.aRms ?? 0, one.bRms ?? 0);
  return angles.reduce((most, one) => (clearer(one) > clearer(most) ? one : most)).sentence;
}

function clearWords(
  forA: readonly AxisRatio[],
  forB: readonly AxisRatio[],
  rest: readonly string[],
  { a, b, claim, counts }: PairWords,
  bounds: Bounds,
): string {
  const reach = reachWords(claim);
  const sideA = { name: a, axes: forA.map((one) => clearAxis(one, true, bounds)) };
  const sideB = { name: b, axes: forB.map((one) => clearAxis(one, false, bounds)) };
  if (forB.length === 0) return headlineTexts.oneSmoother(sideA, b, reach, counts, rest);
  if (forA.length === 0) return headlineTexts.oneSmoother(sideB, a, reach, counts, rest);
  return headlineTexts.eachSmoother(sideA, sideB, reach, counts, rest);
}

/** What is to be said of the axes that are not clear. */
function restWords(angles: readonly AxisRatio[], { a, b }: PairWords): string[] {
  const open = angles.filter(
    (one) => one.ratio !== null && one.says !== 'aSmoother' && one.says !== 'bSmoother',
  );
  const even = open.filter((one) => !leansAmongMany(one)).map(({ axis }) => axis);
  const leaning = open
    .filter(leansAmongMany)
    .map((one) => headlineTexts.leaning((one.ratio ?? 1) < 1 ? a : b, one.axis));
  return [...(even.length > 0 ? [headlineTexts.noClearDifference(even)] : []), ...leaning];
}

/** A over B, or B over A, with its range; the bound where noise hides the smoother side. */
function clearAxis({ axis, ratio, ci95 }: AxisRatio, isA: boolean, bounds: Bounds): ClearAxis {
  const atMost = bounds.get(axis);
  if (ratio === null && atMost !== undefined) return { axis, share: atMost, range: null };
  const [over, low, high] = [ratio ?? 1, ...(ci95 ?? [1, 1])];
  return isA
    ? { axis, share: ratioFigure(over), range: rangeWords([low, high]) }
    : { axis, share: ratioFigure(1 / over), range: rangeWords([1 / high, 1 / low]) };
}

function sizeOf({ aRms, bRms }: AxisRatio): number {
  return (aRms ?? 0) * (bRms ?? 0);
}
