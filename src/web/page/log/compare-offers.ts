/** What can be done with selected runs by what is known of them. Pure functions. */
import { COMPARE_BY, type CompareBy } from '../../../run/index.js';
import type { RunRow } from '../../api.js';

type Compared = Pick<RunRow, 'pass' | 'speedMps' | 'focalLengthMm'>;

/** Groupings that may tell runs apart: those in which the runs are known to be alike are left out. */
export function offersFor(runs: readonly Compared[]): readonly CompareBy[] {
  return COMPARE_BY.filter((by) => {
    if (by === 'run' || by === 'wheelbase') return true;
    return new Set(runs.map((run) => valueOf(run, by))).size > 1;
  });
}

/** True when a plan of the lanes can be drawn: two lanes or more, all of one floor. */
export function hasLanePlan(runs: readonly Compared[]): boolean {
  const lanes = new Set(runs.map(({ pass }) => pass.lane));
  const floors = new Set(runs.map(({ pass }) => pass.floor));
  return lanes.size > 1 && !lanes.has(undefined) && floors.size === 1 && !floors.has(undefined);
}

function valueOf(run: Compared, by: Exclude<CompareBy, 'run' | 'wheelbase'>): string | number | null {
  if (by === 'speed') return run.speedMps;
  if (by === 'lens') return run.focalLengthMm;
  return run.pass[by]?.toLowerCase() ?? null;
}
