/** Sources at whole multiples of one frequency, hertz: multiples of a named wheel, joints or machine, or of a base nobody listed. */
import { aliasedFrequencyHz } from '../../optics/index.js';
import { familyBase, MEMBER_SDS, type Family, type Member } from './family-base.js';
import type { Harmonic, ObservedBand, ShakeSource } from './types.js';
import { unlistedFamily } from './unlisted-families.js';

/** Multiples of a named base that a source without a name may be. */
const MULTIPLES = 5;
/** Sources without a name would hit that many multiples of a named base in this share of passes by chance, at most. */
const CHANCE = 0.05;

/**
 * Families of at least two sources about a named base, of at least three about a base of their own that chance would hardly make.
 *
 * Folded multiples count about a named base, whose multiples are known; about a base of its own only what is seen where it is.
 *
 * @returns one for each source, null where it is in no family; families are numbered from 1
 */
export function harmonicFamilies(sources: readonly ShakeSource[], band: ObservedBand): (Harmonic | null)[] {
  const families = namedFamilies(sources, band);
  for (;;) {
    const taken = members(families);
    const free = freeSources(sources).filter((i) => !taken.has(i));
    const family = unlistedFamily(sources, free, band);
    if (!family) break;
    families.push(family);
  }
  const harmonics = sources.map((): Harmonic | null => null);
  families.forEach(({ baseHz, members }, i) => {
    for (const { source, order } of members) harmonics[source] = { family: i + 1, baseHz, order };
  });
  return harmonics;
}

const members = (families: readonly Family[]): Set<number> =>
  new Set(families.flatMap((family) => family.members.map(({ source }) => source)));

/** Lines without a name: a resonance has no multiples. */
function freeSources(sources: readonly ShakeSource[]): number[] {
  return sources.flatMap(({ cause, sightings }, i) =>
    cause === 'unknown' && sightings.some(({ peak }) => peak.broadProbability < 0.5) ? [i] : [],
  );
}

function namedFamilies(sources: readonly ShakeSource[], band: ObservedBand): Family[] {
  const bases = new Map<string, Member[]>();
  sources.forEach(({ cause, candidates }, source) => {
    if (cause !== 'wheel' && cause !== 'joint' && cause !== 'machine') return;
    const { order } = candidates[0];
    // Each machine is the base of a family of its own.
    const [key, multiple] = cause === 'machine' ? [`machine ${order}`, 1] : [cause, order];
    bases.set(key, [...(bases.get(key) ?? []), { source, order: multiple }]);
  });
  const families: Family[] = [];
  for (const named of bases.values()) {
    const taken = members(families);
    const free = freeSources(sources).filter((i) => !taken.has(i));
    const all = [...named, ...unnamedMultiples(sources, free, named, band)];
    if (all.length >= 2) families.push({ baseHz: familyBase(sources, named).hz, members: all });
  }
  return families;
}

/** Sources without a name on multiples of a named base, unless so many multiples are open that chance alone would hit them. */
function unnamedMultiples(
  sources: readonly ShakeSource[],
  free: readonly number[],
  named: readonly Member[],
  { rateHz, bandHz }: ObservedBand,
): Member[] {
  const base = familyBase(sources, named);
  const seen = new Set(named.map(({ order }) => order));
  const hits: Member[] = [];
  let byChance = 0;
  for (const source of free) {
    const { freqHz, freqSdHz } = sources[source];
    for (let order = 1; order <= MULTIPLES; order++) {
      if (seen.has(order)) continue;
      const reach = MEMBER_SDS * Math.hypot(freqSdHz, order * base.sdHz);
      byChance += (2 * reach) / (bandHz[1] - bandHz[0]);
      if (Math.abs(aliasedFrequencyHz(order * base.hz, rateHz) - freqHz) > reach) continue;
      if (!hits.some((hit) => hit.source === source || hit.order === order)) hits.push({ source, order });
    }
  }
  return hits.length > 0 && poissonTail(hits.length, byChance) <= CHANCE ? hits : [];
}

/** Chance of at least `hits` where `expected` are. */
function poissonTail(hits: number, expected: number): number {
  let term = Math.exp(-expected);
  let below = 0;
  for (let k = 0; k < hits; k++) {
    below += term;
    term *= expected / (k + 1);
  }
  return Math.max(1 - below, 0);
}
