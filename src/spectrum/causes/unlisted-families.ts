/** A series of multiples among sources that nobody listed, with the chance that sources at random would make it; hertz. */
import { familyBase, MEMBER_SDS, type Family } from './family-base.js';
import type { ObservedBand, ShakeSource } from './types.js';

const LEAST_MEMBERS = 3;
/** The base itself may be missing: a source is tried as this multiple of it at most. */
const BASE_DIVISORS = 4;
/** A base so low that multiples stand nearer than this many times 1 / T cannot be told. */
const APART_BINS = 3;
/** Limit of the chance below. Many of the bases tried are nearly the same: measured, 3 to 12 random lines made a family in 0 to 2 of 100 passes. */
const CHANCE = 0.1;

/**
 * The series that chance explains least: each source is tried as the first to fourth multiple of a base, and the others counted
 * that stand on multiples of it; the binomial chance of as many hits, multiplied by the bases tried, bounds what chance makes.
 *
 * @param free places of the sources that may be members
 * @returns null when chance would make the best series too often
 */
export function unlistedFamily(
  sources: readonly ShakeSource[],
  free: readonly number[],
  { durationS }: ObservedBand,
): Family | null {
  let best: Family | null = null;
  let least = CHANCE;
  for (const from of free) {
    for (let divisor = 1; divisor <= BASE_DIVISORS; divisor++) {
      const baseHz = sources[from].freqHz / divisor;
      if (baseHz < APART_BINS / durationS) continue;
      const baseSdHz = sources[from].freqSdHz / divisor;
      const members = [{ source: from, order: divisor }];
      let hitShare = 0;
      for (const other of free) {
        if (other === from) continue;
        const { freqHz, freqSdHz } = sources[other];
        const order = Math.round(freqHz / baseHz);
        const reach = MEMBER_SDS * Math.hypot(freqSdHz, order * baseSdHz);
        hitShare += Math.min((2 * reach) / baseHz, 1) / (free.length - 1);
        if (order < 1 || Math.abs(freqHz - order * baseHz) > reach) continue;
        if (!members.some((member) => member.order === order)) members.push({ source: other, order });
      }
      if (members.length < LEAST_MEMBERS) continue;
      const tried = BASE_DIVISORS * free.length;
      const chance = tried * binomialTail(members.length - 1, free.length - 1, hitShare);
      if (chance >= least) continue;
      least = chance;
      best = { baseHz: familyBase(sources, members).hz, members };
    }
  }
  return best;
}

/** Chance of at least `hits` of `trials`. */
function binomialTail(hits: number, trials: number, p: number): number {
  let term = (1 - p) ** trials;
  let below = 0;
  for (let k = 0; k < hits; k++) {
    below += term;
    term *= ((trials - k) / (k + 1)) * (p / (1 - p || 1e-12));
  }
  return Math.max(1 - below, 0);
}
