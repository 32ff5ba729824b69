/** Sources at whole multiples of one frequency, hertz: multiples of a named wheel, joints or machine, or of a base nobody listed. */
import { aliasedFrequencyHz } from '../../optics/index.js';
import { unlistedFamily } from './unlisted-families.js';
import type { Harmonic, ObservedBand, ShakeSource } from './types.js';

/** Multiples of a named base that a source without a name may be. */
const MULTIPLES = 8;
/** A member is at most this many standard deviations from its multiple. */
export const MEMBER_SDS = 2.5;
/** All unnamed sources together would hit a multiple of a named base by chance this often at most. */
const CHANCE_HITS = 0.05;

/** A base frequency with the multiples that are seen. */
export interface Family {
  readonly baseHz: number;
  /** Places in the list of sources, with the multiple of each. */
  readonly members: readonly { readonly source: number; readonly order: number }[];
}

/**
 * Families of at least two sources about a named base, of at least three about a base of their own that chance would hardly make.
 *
 * @returns one for each source, null where it is in no family; families are numbered from 1
 */
export function harmonicFamilies(sources: readonly ShakeSource[], band: ObservedBand): (Harmonic | null)[] {
  const families: Family[] = namedFamilies(sources, band);
  const taken = new Set(families.flatMap(({ members }) => members.map(({ source }) => source)));
  for (;;) {
    const free = sources.flatMap((source, i) => (isFree(source) && !taken.has(i) ? [i] : []));
    const family = unlistedFamily(sources, free, band);
    if (!family) break;
    families.push(family);
    family.members.forEach(({ source }) => taken.add(source));
  }
  const harmonics = sources.map((): Harmonic | null => null);
  families.forEach(({ baseHz, members }, i) => {
    for (const { source, order } of members) harmonics[source] = { family: i + 1, baseHz, order };
  });
  return harmonics;
}

/** Lines without a name: a resonance has no multiples. */
function isFree({ cause, sightings }: ShakeSource): boolean {
  return cause === 'unknown' && sightings.some(({ peak }) => peak.broadProbability < 0.5);
}

function namedFamilies(sources: readonly ShakeSource[], band: ObservedBand): Family[] {
  const bases = new Map<string, { source: number; order: number }[]>();
  sources.forEach(({ cause, candidates }, source) => {
    if (cause !== 'wheel' && cause !== 'joint' && cause !== 'machine') return;
    const { order } = candidates[0];
    // Each machine is the base of a family of its own.
    const [key, multiple] = cause === 'machine' ? [`machine ${order}`, 1] : [cause, order];
    bases.set(key, [...(bases.get(key) ?? []), { source, order: multiple }]);
  });
  const taken = new Set<number>();
  return [...bases.values()].flatMap((named) => {
    const base = baseOf(sources, named);
    const extra = unnamedMultiples(sources, named, base, band).filter(({ source }) => !taken.has(source));
    extra.forEach(({ source }) => taken.add(source));
    const members = [...named, ...extra];
    return members.length >= 2 ? [{ baseHz: base.hz, members }] : [];
  });
}

/** Base by weighted least squares: true frequency = order x base. */
function baseOf(
  sources: readonly ShakeSource[],
  members: readonly { source: number; order: number }[],
): { hz: number; sdHz: number } {
  let weight = 0;
  let sum = 0;
  for (const { source, order } of members) {
    const { trueHz, freqSdHz } = sources[source];
    weight += (order / freqSdHz) ** 2;
    sum += (order * trueHz) / freqSdHz ** 2;
  }
  return { hz: sum / weight, sdHz: 1 / Math.sqrt(weight) };
}

/** Sources without a name on multiples of a named base, unless so many multiples are open that chance alone would hit them. */
function unnamedMultiples(
  sources: readonly ShakeSource[],
  named: readonly { source: number; order: number }[],
  base: { hz: number; sdHz: number },
  { rateHz, bandHz }: ObservedBand,
): { source: number; order: number }[] {
  const used = new Set(named.map(({ order }) => order));
  const open = Array.from({ length: MULTIPLES }, (_, i) => i + 1).filter((order) => !used.has(order));
  const free = sources.flatMap((source, i) => (isFree(source) ? [i] : []));
  let chance = 0;
  const hits: { source: number; order: number }[] = [];
  for (const source of free) {
    const { freqHz, freqSdHz } = sources[source];
    for (const order of open) {
      const reach = MEMBER_SDS * Math.hypot(freqSdHz, order * base.sdHz);
      chance += (2 * reach) / (bandHz[1] - bandHz[0]);
      if (Math.abs(aliasedFrequencyHz(order * base.hz, rateHz) - freqHz) <= reach)
        hits.push({ source, order });
    }
  }
  const once = hits.filter(
    (hit, i) => hits.findIndex(({ source, order }) => source === hit.source || order === hit.order) === i,
  );
  return chance <= CHANCE_HITS * Math.max(once.length, 1) ** 2 ? once : [];
}
