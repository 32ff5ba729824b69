/**
 * The parts of a motion log between its gaps, each integrated by itself (rad), and which frames of a clip lie wholly
 * within one of them.
 *
 * What the camera turned within a gap is not known, so an angle that is carried across one is off by a step from there
 * on, and a high-pass smears that step over both sides. Parts that never meet have no such step.
 */
import type { AngularAxis } from '../../run/index.js';
import { ANGULAR_AXES } from '../../run/index.js';
import { integrateRates, type AngleIntegrals } from './angles.js';
import type { MotionLog } from './parse.js';

/** A stretch of a log without a gap. */
export interface LogPart {
  /** First and last stamp, seconds on the log's clock. */
  readonly fromS: number;
  readonly toS: number;
  /** By column of the log. */
  readonly integrals: ReadonlyMap<AngularAxis, AngleIntegrals>;
}

/** Frames on the log's clock may miss the end of a part by this much, seconds: rounding. */
const ROUNDING_S = 1e-9;

/**
 * Cuts a log at its gaps.
 *
 * @param leastS shorter parts are left out: a high-pass leaves nothing of less than one of its periods
 * @param leastRateHz see integrateRates
 * @returns in the order of time; empty when no part is long enough
 */
export function logParts(log: MotionLog, leastS: number, leastRateHz: number): LogPart[] {
  const { timeS, gaps } = log;
  const ends = [...gaps.map((gap) => timeS.findIndex((s) => s >= gap.toS)), timeS.length];
  return ends.flatMap((end, k): LogPart[] => {
    const first = k === 0 ? 0 : ends[k - 1];
    const stamps = timeS.slice(first, end);
    if (stamps.length < 4 || stamps[stamps.length - 1] - stamps[0] < leastS) return [];
    const integrals = new Map<AngularAxis, AngleIntegrals>();
    for (const axis of ANGULAR_AXES) {
      const rates = log.ratesRadPerS[axis];
      if (rates) integrals.set(axis, integrateRates(stamps, rates.slice(first, end), leastRateHz));
    }
    return [{ fromS: stamps[0], toS: stamps[stamps.length - 1], integrals }];
  });
}

/** Some frames that a part of a log covers: first, and one past the last. */
export interface CoveredFrames {
  readonly part: LogPart;
  readonly from: number;
  readonly to: number;
}

/**
 * The frames whose whole exposure lies within one part; parts that cover none are left out.
 *
 * @param atS middle of each exposure, seconds on the log's clock, rising
 */
export function coveredFrames(
  parts: readonly LogPart[],
  atS: Readonly<Float64Array>,
  exposureS: number,
): CoveredFrames[] {
  const covered: CoveredFrames[] = [];
  let from = 0;
  for (const part of parts) {
    while (from < atS.length && atS[from] - exposureS / 2 < part.fromS - ROUNDING_S) from++;
    let to = from;
    while (to < atS.length && atS[to] + exposureS / 2 <= part.toS + ROUNDING_S) to++;
    if (to > from) covered.push({ part, from, to });
    from = to;
  }
  return covered;
}
