/** The answer of a comparison of three groups or more, in a few sentences: pairs that are clear, pairs that lean, and the rest. */
import { isAngular, type ComparedPair } from '../../run/index.js';
import { comparisonTexts, type ComparedThing } from '../../texts/index.js';
import { leansAmongMany } from './ratio-entry.js';

/** Leaning pairs that are named; more would be read by nobody. */
const NAMED = 4;

/**
 * The sentences. A pair that would be clear by itself, and is not among so many questions, is told as leaning and never as one without
 * a difference.
 *
 * @param pairs two or more @param what what the groups are: "setup", "lane", "run"
 */
export function manyPairsSentence(
  pairs: readonly ComparedPair[],
  groups: number,
  what: ComparedThing,
): string {
  const clear = pairs.filter(isClear);
  const leaning = pairs.filter((pair) => !isClear(pair) && leaningAxes(pair).length > 0);
  const rest = pairs.length - clear.length - leaning.length;
  if (clear.length + leaning.length === 0) return comparisonTexts.noneDiffer(groups, what);
  const parts = clear.map(({ sentence }) => sentence);
  if (clear.length === 0) parts.push(comparisonTexts.noneSure(groups, what));
  if (leaning.length > 0) parts.push(leaningSentence(leaning));
  if (rest > 0) parts.push(comparisonTexts.otherPairs(rest));
  return parts.join(' ');
}

function isClear({ axes }: ComparedPair): boolean {
  return axes.some(({ says }) => says === 'aSmoother' || says === 'bSmoother');
}

/** Where floor and setup cannot be told apart, nothing leans to a setup. */
function leaningAxes({ axes, claim }: ComparedPair): ComparedPair['axes'] {
  return claim === 'nothing' ? [] : axes.filter((one) => isAngular(one.axis) && leansAmongMany(one));
}

function leaningSentence(pairs: readonly ComparedPair[]): string {
  const each = pairs.slice(0, NAMED).map((pair) => {
    const axes = leaningAxes(pair);
    const toA = axes.filter(({ ratio }) => (ratio ?? 1) < 1).map(({ axis }) => axis);
    const toB = axes.filter(({ ratio }) => (ratio ?? 1) >= 1).map(({ axis }) => axis);
    return [
      ...(toA.length > 0 ? [comparisonTexts.leansTo(pair.a, pair.b, toA)] : []),
      ...(toB.length > 0 ? [comparisonTexts.leansTo(pair.b, pair.a, toB)] : []),
    ];
  });
  return comparisonTexts.leaningPairs(each, pairs.length - each.length);
}
