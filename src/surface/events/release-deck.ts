/**
 * A deck as it would have rolled without some events: what they made of pitch, heave and roll is taken out of the series, radians and
 * metres.
 *
 * A freed step holds event, floor and noise, and all of it would go: floors with a joint every 0.3 m would be graded a fifth too
 * smooth, with wide bumps by half. So the steps that are taken out are not the likeliest ones but drawn from all that the pass
 * allows, which leaves in their place as much floor and noise as elsewhere (posterior predictive imputation: Rubin, Multiple
 * Imputation, 1987, from memory). The draw is seeded.
 */
import {
  choleskyLargeInPlace,
  choleskySolveInPlace,
  gaussianRandom,
  seededRandom,
} from '../../numerics/index.js';
import { assert } from '../../run/index.js';
import { withoutHeights, type RolledDeck } from '../deck/rolled-deck.js';
import type { Release } from '../profile/surface-profile.js';
import type { StretchInformation } from '../profile/types.js';
import { FREE_STEP_M, gapsWithin, sumsFromEachNode } from './release-floor.js';
import { firstNodeFrom } from './shapes.js';
import type { EventScan } from './types.js';

const SEED = 5;

/** A step between two neighbouring nodes, metres. */
interface Step {
  readonly fromM: number;
  readonly toM: number;
  readonly heightM: number;
}

/**
 * Takes events out of a deck: all freed steps are fitted together with the rough floor, and what a draw of them makes of the series is
 * subtracted. At the places of the events a floor like that around them is left.
 *
 * @param stretches what the pass says of the floor, from a scan of this very deck
 * @param releases places that are freed; each is fitted in the stretch that answers for it
 * @param left what is left at their places: floor as elsewhere, or as good as nothing (the likeliest steps are taken out)
 */
export function withoutEvents(
  deck: RolledDeck,
  stretches: EventScan['stretches'],
  releases: readonly Release[],
  left: 'floor' | 'nothing' = 'floor',
): RolledDeck {
  if (releases.length === 0) return deck;
  const gaussian = left === 'floor' ? gaussianRandom(seededRandom(SEED)) : () => 0;
  const mean: Step[] = [];
  const difference: Step[] = [];
  for (const one of stretches) {
    mean.push(...freedSteps(one.mean, releases, mean, gaussian));
    if (one.difference) difference.push(...freedSteps(one.difference, releases, difference, gaussian));
  }
  return withoutHeights(
    deck,
    (places) => stairs(mean, places),
    (places) => stairs(difference, places),
  );
}

/**
 * A draw of the steps of all freed gaps that a stretch knows, fitted together; those that it answers for.
 *
 * @param drawn steps of the stretches before. They stand: what one stretch cannot tell, two draws would answer differently, and
 *   together they would be seen.
 */
function freedSteps(
  { nodesM, information, score, stretch }: StretchInformation,
  releases: readonly Release[],
  drawn: readonly Step[],
  gaussian: () => number,
): Step[] {
  const n = nodesM.length;
  const standing = new Map<number, number>();
  for (const { fromM, toM, heightM } of drawn) {
    const gap = firstNodeFrom(nodesM, (fromM + toM) / 2);
    if (gap > 0 && gap < n) standing.set(gap, (standing.get(gap) ?? 0) + heightM);
  }
  const freed = new Set(releases.flatMap((release) => gapsWithin(nodesM, release)));
  const gaps = [...freed].filter((gap) => !standing.has(gap));
  const count = gaps.length;
  if (count === 0) return [];
  const sums = sumsFromEachNode(information, n);
  const matrix = new Float64Array(count * count);
  const heights = new Float64Array(count);
  gaps.forEach((gap, i) => {
    gaps.forEach((other, j) => (matrix[i * count + j] = sums[gap * n + other]));
    matrix[i * count + i] += FREE_STEP_M ** -2;
    for (let node = gap; node < n; node++) heights[i] += score[node];
    for (const [other, heightM] of standing) heights[i] -= sums[gap * n + other] * heightM;
  });
  assert(choleskyLargeInPlace(matrix, count), 'freed steps with a prior have a positive definite precision');
  choleskySolveInPlace(matrix, heights, count);
  // L' x = white noise gives x the covariance (L L')^-1.
  const strayed = Float64Array.from(gaps, () => gaussian());
  for (let i = count - 1; i >= 0; i--) {
    for (let k = i + 1; k < count; k++) strayed[i] -= matrix[k * count + i] * strayed[k];
    strayed[i] /= matrix[i * count + i];
    heights[i] += strayed[i];
  }
  const [firstM, endM] = stretch.answersM;
  return gaps
    .map((gap, i) => ({ fromM: nodesM[gap - 1], toM: nodesM[gap], heightM: heights[i] }))
    .filter(({ fromM, toM }) => {
      const middle = (fromM + toM) / 2;
      return middle >= firstM && middle < endM;
    });
}

/** Height of all steps together at rising places; straight between the nodes of a step. */
function stairs(steps: readonly Step[], placesM: Readonly<Float64Array>): Float64Array {
  const rising = [...steps].sort((a, b) => a.fromM - b.fromM);
  let passed = 0;
  let passedM = 0;
  return Float64Array.from(placesM, (place) => {
    while (passed < rising.length && rising[passed].toM <= place) passedM += rising[passed++].heightM;
    let heightM = passedM;
    for (let k = passed; k < rising.length && rising[k].fromM < place; k++) {
      const { fromM, toM, heightM: stepM } = rising[k];
      heightM += stepM * Math.min(1, (place - fromM) / (toM - fromM));
    }
    return heightM;
  });
}
