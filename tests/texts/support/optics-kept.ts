/** Whether a sentence in feet and inches still has its lenses in millimetres, and nothing else. */
import { inUnits } from '../../../src/run/index.js';

/** Metric quantities of a sentence, as printed, ranges as one. */
const QUANTITIES = /-?\d+(?:\.\d+)?(?: to -?\d+(?:\.\d+)?)? (?:mm|m\/s|m)(?![\w³²/])/g;
/** Where a lens or a sensor stands beside a quantity. */
const LENS_BEFORE = /\b(?:lens of|lenses up to|lens up to|sensor of) $/i;
const LENS_AFTER = /^ (?:lens|wide sensor|wide\b)/;

/** Lenses and sensors of a sentence, and everything else that it measures. */
export function quantitiesOf(sentence: string): { readonly optics: string[]; readonly others: string[] } {
  const optics: string[] = [];
  const others: string[] = [];
  for (const { 0: text, index } of sentence.matchAll(QUANTITIES)) {
    const beside =
      LENS_BEFORE.test(sentence.slice(0, index)) || LENS_AFTER.test(sentence.slice(index + text.length));
    (beside ? optics : others).push(text);
  }
  return { optics, others };
}

/** The faults of the sentences in feet and inches: a lens that was converted, or a length, height or speed that was not. */
export function faultsInImperial(sentences: readonly string[]): string[] {
  return sentences.flatMap((sentence) => {
    const then = inUnits(sentence, 'imperial');
    const left = quantitiesOf(then);
    const kept = left.optics.join() === quantitiesOf(sentence).optics.join();
    return kept && left.others.length === 0 ? [] : [then];
  });
}
