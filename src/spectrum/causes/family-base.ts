/** The base of a family of multiples, hertz. */
import type { ShakeSource } from './types.js';

/** A source on a multiple of the base: its place in the list of sources. */
export interface Member {
  readonly source: number;
  readonly order: number;
}

/** A base frequency with the multiples that are seen. */
export interface Family {
  readonly baseHz: number;
  readonly members: readonly Member[];
}

/** A member is at most this many standard deviations from its multiple. */
export const MEMBER_SDS = 2.5;

/** Weighted least squares over order x base = true frequency, with the standard deviation of the base. */
export function familyBase(
  sources: readonly ShakeSource[],
  members: readonly Member[],
): { readonly hz: number; readonly sdHz: number } {
  let weight = 0;
  let sum = 0;
  for (const { source, order } of members) {
    const { trueHz, freqSdHz } = sources[source];
    weight += (order / freqSdHz) ** 2;
    sum += (order * trueHz) / freqSdHz ** 2;
  }
  return { hz: sum / weight, sdHz: 1 / Math.sqrt(weight) };
}
