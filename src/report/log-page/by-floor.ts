/** The runs of a log floor by floor: how many, what they cost in crop, how they were judged. */
import { median } from '../../numerics/index.js';
import type { VerdictSection } from '../../run/index.js';
import type { ListedRun } from './types.js';

/** The runs of one floor. */
export interface FloorRuns {
  /** As on the sheets; null for runs whose sheet names none. */
  readonly floor: string | null;
  readonly runs: readonly ListedRun[];
  readonly verdicts: Readonly<Record<VerdictSection['grade'], number>>;
  /** Crop over the runs that could be measured, per cent; null when there is none. */
  readonly crop: { readonly middle: number; readonly low: number; readonly high: number } | null;
  /** Smoothest and roughest class; null when no run was graded. */
  readonly classes: readonly [string, string] | null;
  readonly setups: readonly string[];
  /** Time of the latest run. */
  readonly lastAt: string;
}

/** Letters first, then the steps under A: A-5 is smoother than A, A than B. */
function roughness(name: string): number {
  const [letter, steps = '0'] = name.split('-');
  return 100 * (letter.codePointAt(0) ?? 0) - Number(steps);
}

/** How the verdicts of runs count. */
export function verdictsOf(runs: readonly Pick<ListedRun, 'grade'>[]): FloorRuns['verdicts'] {
  const counts = { pass: 0, marginal: 0, fail: 0, unmeasurable: 0 };
  for (const { grade } of runs) counts[grade]++;
  return counts;
}

/** Groups runs by floor, the lowest crop first, those without a name last. */
export function byFloor(runs: readonly ListedRun[]): FloorRuns[] {
  const floors = new Map<string, ListedRun[]>();
  for (const run of runs) {
    const name = run.pass.floor ?? '';
    floors.set(name, [...(floors.get(name) ?? []), run]);
  }
  return [...floors]
    .map(([name, of]) => floorRuns(name === '' ? null : name, of))
    .sort((a, b) => Number(a.floor === null) - Number(b.floor === null) || cropOrder(a) - cropOrder(b));
}

function cropOrder({ crop }: FloorRuns): number {
  return crop?.middle ?? Infinity;
}

function floorRuns(floor: string | null, runs: readonly ListedRun[]): FloorRuns {
  const crops = runs.filter(isMeasured).map(({ cropPercent }) => cropPercent);
  const classes = runs
    .flatMap(({ surfaceClass }) => (surfaceClass === null ? [] : [surfaceClass]))
    .sort((a, b) => roughness(a) - roughness(b));
  return {
    floor,
    runs,
    verdicts: verdictsOf(runs),
    crop:
      crops.length === 0
        ? null
        : { middle: median(Float64Array.from(crops)), low: Math.min(...crops), high: Math.max(...crops) },
    classes: classes.length === 0 ? null : [classes[0], classes[classes.length - 1]],
    setups: [...new Set(runs.flatMap(({ pass }) => (pass.setup === undefined ? [] : [pass.setup])))],
    lastAt: runs.map(({ createdAt }) => createdAt).sort()[runs.length - 1],
  };
}

/** Whether the crop of a run is a figure at all. */
export function isMeasured({ grade, coverable }: ListedRun): boolean {
  return grade !== 'unmeasurable' && coverable;
}
