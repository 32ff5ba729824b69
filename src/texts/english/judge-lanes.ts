/** The lanes of a floor: which is best, where to keep off, and what was taken for granted. Figures come printed, without their unit. */
import { capital, listed } from './words.js';

/** A lane as it is spoken of. @example laneName('2') // "lane 2" */
function laneName(name: string): string {
  return /\b(lane|line|rail|row|track)\b/i.test(name) ? name : `lane ${name}`;
}

const than = ([percent, course]: readonly [string, 'less' | 'more']): string => `${percent} % ${course}`;

/** A joint or a bump on a lane, printed. */
export interface LaneJointWords {
  readonly kind: 'step' | 'joint' | 'bump' | 'dip';
  readonly mm: string;
  readonly m: string;
}

/** The sentences of a lane plan; names of lanes are as the crew gave them. */
export const laneTexts = {
  name: laneName,
  cannotBeTold: (lanes: readonly { readonly lane: string; readonly setups: readonly string[] }[]): string => {
    const each = lanes.map(({ lane, setups }) => `only ${laneName(lane)} was run with ${listed(setups)}`);
    return `Lanes and setups cannot be told apart here: ${listed(each)}. Each lane is shown with its own setup; to rank the lanes, roll one setup on every lane.`;
  },
  onlyOne: (lane: string): string => `Only ${laneName(lane)} was run, so no lane is better than another.`,
  steadiest: (
    best: string,
    second: string,
    times: string,
    [low, high]: readonly [string, string],
    atLeast: boolean,
  ): string =>
    `${capital(laneName(best))} is the steadiest: ${laneName(second)} shakes the picture ${atLeast ? 'at least ' : ''}${times} times as much (${low} to ${high}).`,
  noClearDifference: (lanes: readonly string[]): string =>
    `No clear difference between ${listed(lanes.map(laneName))}.`,
  mayShake: (
    second: string,
    first: string,
    from: readonly [string, 'less' | 'more'],
    to: readonly [string, 'less' | 'more'],
  ): string =>
    `${capital(laneName(second))} may shake anything from ${than(from)} to ${than(to)} than ${laneName(first)}.`,
  clearlySteadier: (best: string, than: readonly string[]): string =>
    `${capital(laneName(best))} is clearly steadier than ${listed(than.map(laneName))}.`,
  backBeginsWhereOutEnds: 'Passes back are taken to begin where passes out ended.',
  figuresWith: (setup: string, others: readonly string[]): string =>
    `Figures are with ${setup}; passes with ${listed(others)} count after what they shake more or less is taken off.`,
  onlyPassesWith: (setup: string): string => `Only passes with ${setup} count.`,
  leftOut: (lanes: readonly string[], setup: string): string => {
    const many = lanes.length > 1;
    return `${capital(listed(lanes.map(laneName)))} ${many ? 'were' : 'was'} not run with ${setup} and ${many ? 'are' : 'is'} left out; roll one setup on every lane to rank them all.`;
  },
  /** @param more joints that are not named */
  keepOff: (place: string, times: string, joints: readonly LaneJointWords[], more: number): string => {
    const named = joints.map(({ kind, mm, m }) => `${kind} of ${mm} mm at ${m} m`);
    const rest = more > 0 ? [`${more} more`] : [];
    return `Keep off ${place}: ${[`${times} times the usual shake`, ...named, ...rest].join(', ')}.`;
  },
  heightsAreMeans: 'Heights are the mean of both wheel lines.',
  stretchM: (fromM: string, toM: string, lane: string): string => `${fromM} to ${toM} m of ${laneName(lane)}`,
  stretchPercent: (from: string, to: string, lane: string): string =>
    `the part from ${from} to ${to} % of ${laneName(lane)}`,
  moreStretches: (count: number): string =>
    `${count} more such ${count > 1 ? 'stretches are' : 'stretch is'} marked on the plan.`,
  steadiestM: (lengthM: string, lane: string, fromM: string): string =>
    `The steadiest ${lengthM} m of ${laneName(lane)} begin at ${fromM} m.`,
  steadiestHalf: (lane: string, fromPercent: string): string =>
    `The steadiest half of ${laneName(lane)} begins at ${fromPercent} % of the pass.`,
} as const;
