/** How many passes, or lanes, would show a difference of 20 %: from the variance of what has been rolled so far. */
import { studentQuantile } from '../../numerics/index.js';
import { lanesWith } from './design.js';
import { halfWidth, type Difference, type DifferenceInput } from './setup-difference.js';

/** The difference that is to show, and the share of comparisons in which it is to: 80 in 100. */
const TO_SHOW = Math.log(1.2);
const POWER_QUANTILE = 0.84;
/** Nobody rolls more; then more of the same do not help. */
const MOST = 40;

/** How many of what. */
export interface Needed {
  readonly of: 'passes' | 'lanes';
  readonly count: number;
}

/**
 * Passes of each setup on one lane, or lanes, by which (t + 0.84) sd falls below ln 1.2.
 *
 * What passes and lanes differ by is taken as it came out so far. Variance from elsewhere does not shrink with more of them.
 *
 * @returns null when 40 would not do
 */
export function neededFor(input: DifferenceInput, found: Difference): Needed | null {
  const { count: at, of } = plan(input, found);
  for (let count = 1; count <= MOST; count++) {
    const { variance, degrees } = at(count);
    if ((studentQuantile(0.975, degrees) + POWER_QUANTILE) * Math.sqrt(variance) < TO_SHOW)
      return { of, count };
  }
  return null;
}

/** The factor either way that the 95 % interval would reach with so many passes each, or lanes. @example factorWith(input, found, 2) // 1.34 */
export function factorWith(input: DifferenceInput, found: Difference, count: number): number {
  const { variance, degrees } = plan(input, found).count(count);
  return Math.exp(halfWidth(variance, degrees));
}

interface Plan {
  readonly of: Needed['of'];
  readonly count: (count: number) => { variance: number; degrees: number };
}

function plan(input: DifferenceInput, found: Difference): Plan {
  const { design, lanes, spreads, addedVariance = 0 } = input;
  const own = found.variance - addedVariance;
  if (design === 'oneLane')
    return {
      of: 'passes',
      count: (passes) => ({
        variance: (2 * found.passVariance) / passes + addedVariance,
        degrees: spreads.degrees + 2 * (passes - 1),
      }),
    };
  if (design === 'pairedLanes') {
    const lane = own * lanes.length;
    return {
      of: 'lanes',
      count: (count) => ({ variance: lane / count + addedVariance, degrees: spreads.degrees + count - 1 }),
    };
  }
  const lane = own / (1 / lanesWith(lanes, 'a').length + 1 / lanesWith(lanes, 'b').length);
  return {
    of: 'lanes',
    count: (count) => ({
      variance: (2 * lane) / count + addedVariance,
      degrees: spreads.degrees + 2 * (count - 1),
    }),
  };
}
