/** When which axle of the dolly is over a joint or bump: seconds from the start of the clip, front axle first. */
import type { SurfaceBump } from '../run/index.js';
import type { ReportBundle } from './types.js';

/** One axle over one bump. */
export interface AxlePassage {
  readonly atS: number;
  readonly axle: 'front' | 'rear';
}

/**
 * The passages of a bump within the clip, in the order of time.
 *
 * The front axle comes first; where only one passes, it is the rear one on what lies behind the front one's start.
 *
 * @param frontAheadM distance of the axles, m; null when not known: a single passage then counts as the front axle's
 */
export function axlePassages(
  { axlesS, atM }: Pick<SurfaceBump, 'axlesS' | 'atM'>,
  frontAheadM: number | null,
): AxlePassage[] {
  const frontHadPassed = axlesS.length === 1 && frontAheadM !== null && atM < frontAheadM;
  return axlesS.map((atS, place) => ({ atS, axle: place > 0 || frontHadPassed ? 'rear' : 'front' }));
}

/** How far the front axle runs ahead of the rear one, m, as measured along the run or as given; null when not known. */
export function frontAheadOf({ run, series }: Pick<ReportBundle, 'run' | 'series'>): number | null {
  return series.floor?.frontAheadM ?? run.rig.wheelbaseM ?? null;
}
