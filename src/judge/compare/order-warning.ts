/** Warns when all passes of one setup came before all of the other: warm-up, dirt and a learning crew then count for the setup. */
import type { Warning } from '../../run/index.js';
import { comparisonTexts } from '../../texts/index.js';
import type { ComparedPass } from './types.js';

/** Fewer than two of each have no order to choose. */
const LEAST_EACH = 2;

/** Passes in the order of their numbers where all have one, else of the time at which they were measured. */
export function orderWarning(a: readonly ComparedPass[], b: readonly ComparedPass[]): Warning | null {
  if (a.length < LEAST_EACH || b.length < LEAST_EACH) return null;
  const numbers = [...a, ...b].map(({ passNumber }) => passNumber);
  const numbered = !numbers.includes(null) && new Set(numbers).size === numbers.length;
  const at = ({ passNumber, createdAt }: ComparedPass): number =>
    numbered ? (passNumber ?? 0) : Date.parse(createdAt);
  const [first, second] = [a.map(at), b.map(at)];
  const aFirst = Math.max(...first) < Math.min(...second);
  const bFirst = Math.max(...second) < Math.min(...first);
  if (!aFirst && !bFirst) return null;
  const [early, late] = aFirst ? [a[0].setup, b[0].setup] : [b[0].setup, a[0].setup];
  return {
    code: 'all-of-one-first',
    text: comparisonTexts.allOfOneFirst(numbered ? 'passNumbers' : 'timeStamps', early, late),
    atS: null,
  };
}
