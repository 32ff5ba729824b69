/** The answer of a comparison of three groups or more, in a few sentences: pairs that are clear, pairs that lean, and the rest. */
import { isAngular, type ComparedPair } from '../../run/index.js';
import { leansAmongMany } from './ratio-entry.js';
import { listed } from './ratio-words.js';

/** Leaning pairs that are named; more would be read by nobody. */
const NAMED = 4;

/**
 * The sentences. A pair that would be clear by itself, and is not among so many questions, is told as leaning and never as one without
 * a difference.
 *
 * @param pairs two or more @param what what the groups are: "setup", "lane", "run"
 */
export function manyPairsSentence(pairs: readonly ComparedPair[], groups: number, what: string): string {
  const clear = pairs.filter(isClear);
  const leaning = pairs.filter((pair) => !isClear(pair) && leaningAxes(pair).length > 0);
  const rest = pairs.length - clear.length - leaning.length;
  if (clear.length + leaning.length === 0)
    return `No clear difference between any of the ${groups} ${what}s.`;
  const parts = clear.map(({ sentence }) => sentence);
  if (clear.length === 0) parts.push(`No difference between the ${groups} ${what}s is sure.`);
  if (leaning.length > 0) parts.push(leaningSentence(leaning));
  if (rest > 0)
    parts.push(`No clear difference in the ${rest === 1 ? 'other pair' : `other ${rest} pairs`}.`);
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
    const sides = [
      ...(toA.length > 0 ? [`to "${pair.a}" against "${pair.b}" in ${listed(toA)}`] : []),
      ...(toB.length > 0 ? [`to "${pair.b}" against "${pair.a}" in ${listed(toB)}`] : []),
    ];
    return sides.join(', ');
  });
  const more = pairs.length - each.length;
  const others = more === 0 ? '' : `; and ${more} more ${more === 1 ? 'pair' : 'pairs'}`;
  return `Leaning, not sure among so many: ${each.join('; ')}${others}.`;
}
