/** From the weights of a source's explanations to the few that are told, and to one name or none. */
import { aliasedFrequencyHz } from '../../optics/index.js';
import type { Explanation } from './explanations.js';
import type { SightingGroup } from './group-sightings.js';
import type { NamingRules } from './naming-rules.js';
import type { Candidate, CauseName } from './types.js';

/** How many explanations of a source are told. */
const TOLD = 3;
/** Candidates this near, in standard deviations of their place, are told apart by nothing that was seen. */
const SAME_PLACE_SDS = 2;
/** What is less likely is not worth telling. */
const LEAST_TOLD = 0.005;

/** One source with its candidates. */
export interface Judged {
  readonly cause: CauseName;
  /** Null when unknown. */
  readonly probability: number | null;
  readonly candidates: readonly Candidate[];
  readonly trueHz: number;
  /** Two listed causes that stand at the same place; null otherwise. */
  readonly rivals: readonly [Candidate, Candidate] | null;
}

/**
 * Sums the multiples of each cause (machines stay apart from each other), keeps the likeliest three and names the first if it is
 * listed, likely enough and without a rival at the same place.
 *
 * @param shares probability of each explanation
 * @param speedError by which places of explanations that tell the speed are moved
 */
export function judgeSource(
  group: SightingGroup,
  explanations: readonly Explanation[],
  shares: readonly number[],
  rateHz: number,
  speedError: number,
  rules: NamingRules,
): Judged {
  const sums = new Map<string, { sum: number; best: number; at: Explanation }>();
  explanations.forEach((at, i) => {
    const key = at.cause === 'machine' ? `machine ${at.order}` : at.cause;
    const so = sums.get(key) ?? { sum: 0, best: -1, at };
    const better = shares[i] > so.best;
    sums.set(key, { sum: so.sum + shares[i], best: better ? shares[i] : so.best, at: better ? at : so.at });
  });
  const ranked = [...sums.values()].sort((a, b) => b.sum - a.sum).slice(0, TOLD);
  const candidates = ranked.map(({ sum, at }) => ({
    cause: at.cause,
    order: at.order,
    trueHz: unfolded(group.freqHz, at.expectedHz * (at.tellsSpeed ? 1 + speedError : 1), rateHz),
    probability: Math.min(sum, rules.probabilityCap),
  }));
  const [first] = candidates;
  const isHere = ({ at }: { readonly at: Explanation }): boolean => {
    const trueHz = at.expectedHz * (at.tellsSpeed ? 1 + speedError : 1);
    const off = aliasedFrequencyHz(trueHz, rateHz) - group.freqHz;
    return Number.isFinite(at.sdHz) && Math.abs(off) <= SAME_PLACE_SDS * at.sdHz;
  };
  const rival = ranked.findIndex(
    (other, i) => i > 0 && other.sum >= rules.rivalFrom && isHere(other) && isHere(ranked[0]),
  );
  const rivals = rival > 0 ? ([first, candidates[rival]] as const) : null;
  const named = first.cause !== 'unknown' && ranked[0].sum > rules.nameAbove && !rivals;
  return {
    cause: named ? first.cause : 'unknown',
    probability: named ? first.probability : null,
    candidates: candidates.filter(({ probability }, i) => i === 0 || probability >= LEAST_TOLD),
    trueHz: named ? first.trueHz : group.freqHz,
    rivals,
  };
}

/** The frequency that shows at `seenHz`, in the fold of the spectrum in which `expectedHz` lies. */
export function unfolded(seenHz: number, expectedHz: number, rateHz: number): number {
  const turns = Math.round(expectedHz / rateHz);
  return turns * rateHz + (expectedHz >= turns * rateHz ? seenHz : -seenHz);
}
