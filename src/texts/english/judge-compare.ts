/** Setups against each other: the whole answer, its headline, its cost and its warnings. Figures come printed. */
import { laneTexts } from './judge-lanes.js';
import { aLens, capital, listed } from './words.js';

/** What is held against each other. */
export type ComparedThing = 'setup' | 'lane' | 'floor' | 'run';

/** The lens of a comparison, printed. */
export interface ComparedLens {
  readonly mm: string;
  readonly sensorMm: string | null;
}

const COUNTS: Readonly<Record<number, string>> = { 2: 'two', 3: 'three', 4: 'four', 5: 'five', 6: 'six' };

function lensWords(lens: ComparedLens | null): string {
  if (lens === null) return 'the lens';
  return `${aLens(lens.mm)}${lens.sensorMm === null ? '' : ` on a sensor ${lens.sensorMm} mm wide`}`;
}

/** A spread that ranges rest on, per cent, and where it was taken from. */
export interface SpreadWords {
  readonly percent: string;
  readonly from: 'assumed' | 'log';
}

const spread = ({ percent, from }: SpreadWords): string =>
  `${percent} % (${from === 'log' ? 'from the log' : 'assumed'})`;

/** Around all pairs. */
export const comparisonTexts = {
  /** @param lens null where it was not given @param one all passes were filmed with it */
  commonLens: (lens: ComparedLens | null, one: boolean, widthPx: number, heightPx: number): string =>
    `Crops are for ${lensWords(lens)}, ${one ? 'as all passes were filmed' : 'the narrowest view of all passes'}, delivered at ${widthPx} x ${heightPx}.`,
  /** @param setupPercent what a setup does from lane to lane @param degrees as a number and printed */
  restsOn: (
    passes: SpreadWords,
    lanes: SpreadWords,
    setupPercent: string,
    degrees: readonly [number, string],
  ): string =>
    `Ranges rest on what one run cannot show: passes of one setup differ by about ${spread(passes)}, lanes of one floor by ${spread(lanes)}, and what a setup does by ${setupPercent} % from lane to lane (assumed); each counts like ${COUNTS[degrees[0]] ?? degrees[1]} repeated passes.`,
  oneAlone: 'One setup alone: there is nothing to compare it with.',
  noneDiffer: (groups: number, what: ComparedThing): string =>
    `No clear difference between any of the ${groups} ${what}s.`,
  noneSure: (groups: number, what: ComparedThing): string =>
    `No difference between the ${groups} ${what}s is sure.`,
  otherPairs: (count: number): string =>
    `No clear difference in the ${count === 1 ? 'other pair' : `other ${count} pairs`}.`,
  /** @param pairs each the sides of one pair that it leans to, by `leansTo` @param more pairs that are not named */
  leaningPairs: (pairs: readonly (readonly string[])[], more: number): string => {
    const others = more === 0 ? '' : `; and ${more} more ${more === 1 ? 'pair' : 'pairs'}`;
    return `Leaning, not sure among so many: ${pairs.map((sides) => sides.join(', ')).join('; ')}${others}.`;
  },
  leansTo: (to: string, against: string, axes: readonly string[]): string =>
    `to "${to}" against "${against}" in ${listed(axes)}`,
  sameClipTwice: (clip: string, times: number, setup: string): string =>
    `${clip} was given ${times} times under ${setup}: it counts as one pass.`,
  /**
   * @param what the places that are matched
   * @param both what each of them should have seen
   * @param runs that lie there, each by `runOn`
   */
  leftOut: (
    [a, b]: readonly [string, string],
    count: number,
    what: 'lane' | 'setup',
    both: ComparedThing,
    runs: readonly string[],
  ): string =>
    `${a} against ${b}: ${count === 1 ? `a ${what}` : `${count} ${what}s`} without both ${both}s ${count === 1 ? 'was' : 'were'} left out: ${listed(runs)}.`,
  /** @param lane null where it says nothing */
  runOn: (clip: string, lane: string | null): string =>
    lane === null ? clip : `${clip} on ${laneTexts.name(lane)}`,
  relativeTranslation:
    'Sideways, upward and forward shake is in per cent of the subject distance: it compares only where the passes frame the same scene from as far away.',
  allOfOneFirst: (by: 'passNumbers' | 'timeStamps', early: string, late: string): string =>
    `By their ${by === 'passNumbers' ? 'pass numbers' : 'time stamps'} all passes of ${early} came before those of ${late}: warm-up and dirt then count as well. Roll A, B, B, A.`,
  speedsTooFarApart:
    'The speeds lie too far apart: hardly a wavelength of the floor shows in both. Run both setups at one speed.',
  cropOfTake: (takeS: string, sides: readonly string[]): string =>
    `Crop of a take of ${takeS} s: ${sides.join('; ')}. A cost, no test: decide by the shake.`,
  cropNotForetold: (name: string): string => `${name} cannot be foretold`,
  /** @param below 19 in 20 takes lie below it; null where it is not known */
  cropAbout: (name: string, median: string, below: string | null): string =>
    `${name} about ${median} %${below === null ? '' : `, 19 in 20 below ${below} %`}`,
} as const;

/** A clear axis: its name, the RMS over that of the other side, and the range of that; no range where noise leaves a bound alone. */
export interface ClearAxis {
  readonly axis: string;
  readonly share: string;
  readonly range: string | null;
}

const shares = (axes: readonly ClearAxis[]): string =>
  axes
    .map(({ axis, share, range }) =>
      range === null ? `${axis} at most ${share}` : `${axis} RMS ${share} (${range})`,
    )
    .join(', ');
const names = (axes: readonly ClearAxis[]): string => listed(axes.map(({ axis }) => axis));

/** The headline of a pair. */
export const headlineTexts = {
  sameClip: (a: string, b: string): string =>
    `The same clip stands on both sides: no clear difference between ${a} and ${b}.`,
  /** @param rest sentences that follow: the three below */
  oneSmoother: (
    { name, axes }: { readonly name: string; readonly axes: readonly ClearAxis[] },
    other: string,
    reach: string,
    counts: string,
    rest: readonly string[],
  ): string =>
    capital([`${name} is smoother ${reach}: ${shares(axes)} of ${other}, ${counts}.`, ...rest].join(' ')),
  eachSmoother: (
    a: { readonly name: string; readonly axes: readonly ClearAxis[] },
    b: { readonly name: string; readonly axes: readonly ClearAxis[] },
    reach: string,
    counts: string,
    rest: readonly string[],
  ): string =>
    capital(
      [
        `${a.name} is smoother in ${names(a.axes)} and ${b.name} in ${names(b.axes)} ${reach}: ${a.name} has ${shares(a.axes)} of ${b.name}, ${b.name} has ${shares(b.axes)} of ${a.name}, ${counts}.`,
        ...rest,
      ].join(' '),
    ),
  noClearDifference: (axes: readonly string[]): string => `No clear difference in ${listed(axes)}.`,
  leaning: (to: string, axis: string): string => `Leaning to ${to} in ${axis}, not sure among so many.`,
  notAlone: (what: ComparedThing, reason: string): string => `Not of the ${what}s alone: ${reason}`,
} as const;
