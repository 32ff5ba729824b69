/** Stretches of a lane to keep off, and the steadiest one, from its shake by place. */
import { median } from '../../numerics/index.js';
import type { LaneJoint } from './lane-pass.js';
import type { LaneCurve } from './shake-along.js';

/** A stretch that shakes more than its lane. */
export interface RoughStretch {
  readonly fromM: number;
  readonly toM: number;
  /** RMS over the stretch, px of the delivery. */
  readonly shakePx: number;
  /** Over the middle of the lane. */
  readonly timesUsual: number;
  /** Joints and bumps that the rear or the front wheels meet there, highest first. */
  readonly joints: readonly LaneJoint[];
}

/**
 * Shake over the middle of the lane from which a stretch is named: with repeats, where it must show in each; and with one pass, of
 * which the shake itself comes and goes by chance. See tests/judge/lanes/stretches.test.ts for how often even floors show one.
 */
export const ROUGH_TIMES = { repeated: 1.6, once: 1.8 } as const;

/**
 * Maximal runs of places above the limit, the roughest first; runs that less than a window keeps apart are one (both axles meet a
 * joint, one after the other).
 *
 * @param repeated whether several passes of the lane say so
 * @param frontAheadM from the rear to the front axle
 */
export function roughStretches(
  curve: LaneCurve,
  joints: readonly LaneJoint[],
  {
    repeated,
    frontAheadM,
    windowM,
  }: { readonly repeated: boolean; readonly frontAheadM: number; readonly windowM: number },
): RoughStretch[] {
  const { atM, squares, leastTimes, fromM, toM } = curve;
  if (atM.length === 0) return [];
  const usual = Math.sqrt(median(squares));
  const limit = repeated ? ROUGH_TIMES.repeated : ROUGH_TIMES.once;
  const rough = squares.map((square, k) => Math.sqrt(square) > limit * usual && leastTimes[k] > limit);
  const stretches: RoughStretch[] = [];
  for (let start = 0; start < atM.length; start++) {
    if (!rough[start]) continue;
    let end = start;
    for (let next = end + 1; next < atM.length && atM[next] - atM[end] <= windowM; next++)
      if (rough[next]) end = next;
    // A place reaches half way to its neighbours, so that a single one is a stretch too.
    const from = start === 0 ? fromM : (atM[start - 1] + atM[start]) / 2;
    const to = end === atM.length - 1 ? toM : (atM[end] + atM[end + 1]) / 2;
    const worst = Math.sqrt(Math.max(...squares.slice(start, end + 1)));
    stretches.push({
      ...{ fromM: from, toM: to, shakePx: worst, timesUsual: worst / usual },
      joints: joints
        .filter(({ atM: at }) => within(at, from, to) || within(at - frontAheadM, from, to))
        .sort((a, b) => b.heightMm - a.heightMm),
    });
    start = end;
  }
  return stretches.sort((a, b) => b.timesUsual - a.timesUsual);
}

/** A stretch of half the lane that shakes this much less than the lane is worth a word. */
const STEADY_SHARE = 0.85;

/** The steadiest half of a lane, its length rounded down to something that can be taped; null where it is hardly better than the whole. */
export function steadiestStretch({
  atM,
  squares,
  fromM,
  toM,
}: LaneCurve): { readonly fromM: number; readonly lengthM: number } | null {
  const step = atM.length > 1 ? atM[1] - atM[0] : 0;
  const lengthM = roundDown((toM - fromM) / 2);
  const windows = Math.round(lengthM / step);
  if (!(step > 0) || windows < 2 || windows >= atM.length) return null;
  const sums = squares.slice(0, squares.length - windows + 1).map((_, k) => {
    return squares.slice(k, k + windows).reduce((sum, square) => sum + square, 0) / windows;
  });
  const whole = squares.reduce((sum, square) => sum + square, 0) / squares.length;
  const best = sums.indexOf(Math.min(...sums));
  if (Math.sqrt(sums[best]) > STEADY_SHARE * Math.sqrt(whole)) return null;
  const begin = best === 0 ? fromM : atM[best] - step / 2;
  return { fromM: Math.min(begin, toM - lengthM), lengthM };
}

/**
 * Joints and bumps of several passes over one lane as one list: those that at least half of the passes see within `reachM` of each
 * other, at their mean place and height, in the order of the lane.
 */
export function commonJoints(lists: readonly (readonly LaneJoint[])[], reachM: number): LaneJoint[] {
  const all = lists
    .flatMap((list, pass) => list.map((joint) => ({ ...joint, pass })))
    .sort((a, b) => a.atM - b.atM);
  const groups: (typeof all)[] = [];
  for (const joint of all) {
    const last = groups[groups.length - 1];
    if (last !== undefined && joint.atM - last[0].atM <= reachM) last.push(joint);
    else groups.push([joint]);
  }
  return groups
    .filter((group) => new Set(group.map(({ pass }) => pass)).size * 2 >= lists.length)
    .map((group) => ({
      atM: average(group.map(({ atM }) => atM)),
      heightMm: average(group.map(({ heightMm }) => heightMm)),
      kind: group[0].kind,
    }));
}

function average(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function within(at: number, from: number, to: number): boolean {
  return at >= from && at <= to;
}

function roundDown(lengthM: number): number {
  const unit = lengthM >= 2 ? 0.5 : 0.1;
  return Math.floor(lengthM / unit + 1e-9) * unit;
}
