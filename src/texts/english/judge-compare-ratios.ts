/** One question of a comparison: how the shake of two setups on one axis compares, in sentences. Figures come printed. */
import { capital } from './words.js';
import type { ComparedThing } from './judge-compare.js';

/** A ratio and its range, printed. */
export interface PrintedRatio {
  readonly ratio: string;
  readonly range: string;
}

/** Counts of what was rolled. */
export type Counted = 'pass' | 'lane';
const PLURALS: Readonly<Record<Counted, string>> = { pass: 'passes', lane: 'lanes' };

/** A figure with its unit, degrees with their sign. */
const inUnit = (text: string, unit: string): string => (unit === 'deg' ? `${text}°` : `${text} ${unit}`);

/** The sentences of a ratio. `what` is an axis, or one of `within` and `inWavelengths`; names of setups stand in quotes. */
export const ratioTexts = {
  /** How far a clear difference reaches. */
  reach: { asRolled: 'as rolled', thisLane: 'on this lane', floorsLikeThese: 'on floors like these' },
  within: (axis: string, fromHz: string, toHz: string): string => `${axis} between ${fromHz} and ${toHz} Hz`,
  inWavelengths: (axis: string): string => `${axis} in the common band of wavelengths`,
  each: (count: number, what: Counted): string =>
    count === 1 ? `one ${what} each` : `${count} ${PLURALS[what]} each`,
  apart: (a: number, b: number, what: Counted): string => `${a} and ${b} ${PLURALS[what]}`,
  /** @param on lanes that both setups ran on, or setups that ran on both lanes */
  onBoth: (count: number, on: 'lanes' | 'setups', passes: string): string =>
    `${count} ${on === 'lanes' ? 'lanes with both' : 'setups on both'}, ${passes}`,
  bothSides: (a: string, b: string): string => `${a} and ${b}`,
  cannotTell: (who: string, what: string): string => `Not compared: a clip of ${who} cannot tell ${what}.`,
  bothUnderNoise: (
    what: string,
    a: readonly [name: string, below: string],
    b: readonly [name: string, below: string],
    unit: string,
  ): string =>
    `Not compared: ${what} of both lies under the noise (${a[0]} below ${inUnit(a[1], unit)}, ${b[0]} below ${inUnit(b[1], unit)}).`,
  oneUnderNoise: (
    what: string,
    low: readonly [name: string, below: string],
    high: readonly [name: string, rms: string],
    unit: string,
    atMost: string,
  ): string =>
    `Not compared: ${what} of ${low[0]} lies under the noise, below ${inUnit(low[1], unit)}; ${high[0]} shakes ${inUnit(high[1], unit)}. ${low[0]} has at most ${atMost} of the shake of ${high[0]}.`,
  boundedSmoother: (
    low: readonly [name: string, below: string],
    high: readonly [name: string, rms: string],
    unit: string,
    reach: string,
    what: string,
    atMost: string,
    counts: string,
  ): string =>
    capital(
      `${low[0]} is smoother ${reach}: its ${what} lies under the noise, below ${inUnit(low[1], unit)}, at most ${atMost} of ${high[0]} (${inUnit(high[1], unit)}), ${counts}.`,
    ),
  oneUnderNoiseUntold: (what: string, low: readonly [name: string, below: string], unit: string): string =>
    `Not compared: ${what} of ${low[0]} lies under the noise, below ${inUnit(low[1], unit)}; which of them is smoother cannot be told.`,
  sameClip: (what: string, { ratio, range }: PrintedRatio): string =>
    `The same clip stands on both sides: no clear difference in ${what}, A/B ${ratio} (${range}).`,
  smoother: (
    [name, other]: readonly [string, string],
    reach: string,
    what: string,
    { ratio, range }: PrintedRatio,
    counts: string,
  ): string =>
    capital(`${name} is smoother ${reach}: ${what} RMS ${ratio} of ${other} (${range}), ${counts}.`),
  sameWithin10: (
    [a, b]: readonly [string, string],
    reach: string,
    what: string,
    { ratio, range }: PrintedRatio,
    counts: string,
  ): string =>
    `The same within 10 % ${reach}: ${what} of ${a} over ${b} ${ratio} (90 % range ${range}), ${counts}.`,
  /** @param place null where setups are compared, and the floor is what cannot be told from them */
  cannotTellApart: (
    place: 'lane' | 'floor' | null,
    [a, b]: readonly [string, string],
    what: string,
    { ratio, range }: PrintedRatio,
    nothingBelow: string,
  ): string =>
    `${capital(place ?? 'floor')} and setup cannot be told apart: ${what} of ${a} over ${b} ${ratio} (${range}). Below x${nothingBelow} nothing can be said: ${
      place === null ? 'run both on one lane' : `roll one setup on both ${place}s`
    }.`,
  noClearDifferenceIn: (what: string): string => `No clear difference in ${what}.`,
  noClearDifference: (what: string, a: string, b: string, anywhereFrom: string): string =>
    `No clear difference in ${what}: ${a} may be anywhere from ${anywhereFrom} than ${b}.`,
  leans: (what: string, to: string, inHundred: number): string =>
    `${capital(what)} leans to ${to}: ${inHundred} in 100.`,
  leansAmongMany: (what: string, to: string, from: string, inHundred: number, smoother: string): string =>
    `${capital(what)} leans to ${to} (${inHundred} in 100), not sure among so many: ${smoother} than ${from}.`,
  aloneItWouldBe: (family: number): string =>
    `Alone it would be sure; among ${family} questions chance alone can do as much.`,
  onePassAssumes: (percent: string): string =>
    `The range assumes that passes of one setup differ by about ${percent} %; one pass each cannot check that.`,
  onePassFromLog: (percent: string): string =>
    `The range takes from the log that passes of one setup differ by about ${percent} %.`,
  onlyAbove: (factor: string, repeated: string): string =>
    `Only differences above x${factor} show; with each repeated once, above x${repeated}.`,
  wouldHaveShown: 'A difference of 20 % would have shown.',
  eachWouldShow: (count: number, what: Counted): string => `${count} ${PLURALS[what]} each would show 20 %.`,
  onBothWouldShow: (count: number, on: 'lanes' | 'setups'): string =>
    `${count} ${on === 'lanes' ? 'lanes with both' : 'setups on both'} would show 20 %.`,
  /** A side of the range of A over B. */
  side: (percent: string, smoother: boolean): string => `${percent} % ${smoother ? 'smoother' : 'rougher'}`,
  span: (from: string, to: string): string => `${from} to ${to}`,
  smootherBy: (fromPercent: string, toPercent: string): string => `${fromPercent} to ${toPercent} % smoother`,
  sharedClip: 'The same clip stands on both sides.',
  noLaneHasBoth: 'No lane has both setups, and one of them ran on a single lane.',
  noSetupOnBoth: (place: Extract<ComparedThing, 'lane' | 'floor'>): string =>
    `No setup was rolled on both ${place}s: ${place} and setup cannot be told apart.`,
  /** @param sides each of `linesOf` */
  linesTakenOut: (sides: readonly string[]): string => `Lines taken out first: ${sides.join('; ')}.`,
  linesOf: (name: string, lines: readonly string[]): string => `${name} ${lines.join(', ')}`,
  line: (hz: string, rms: string, unit: string): string => `${hz} Hz (${inUnit(rms, unit)})`,
} as const;
