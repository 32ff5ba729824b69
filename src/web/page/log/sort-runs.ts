/** Puts the runs of the log in order. Pure functions. */
import type { RunRow } from '../../api.js';
import type { SortBy } from './asked.js';

const GRADES: readonly RunRow['grade'][] = ['pass', 'marginal', 'fail', 'unmeasurable'];

/** Sorts by a column; what is not known stands last either way, equals in the order in which they came. */
export function sortRuns(runs: readonly RunRow[], by: SortBy, rising: boolean): readonly RunRow[] {
  const keyed = runs.map((run) => ({ run, key: KEYS[by](run) }));
  keyed.sort((a, b) => {
    if (a.key === null || b.key === null) return Number(a.key === null) - Number(b.key === null);
    const order = inOrder(a.key, b.key);
    return rising ? order : -order;
  });
  return keyed.map(({ run }) => run);
}

type Key = string | number | null;

const KEYS: Readonly<Record<SortBy, (run: RunRow) => Key>> = {
  measured: ({ createdAt }) => Date.parse(createdAt),
  floor: ({ pass, clipFile }) => `${pass.floor ?? ''}\n${pass.lane ?? ''}\n${clipFile}`,
  grade: ({ grade }) => GRADES.indexOf(grade),
  crop: (run) => (run.grade === 'unmeasurable' ? null : run.coverable ? run.cropPercent : Infinity),
  left: ({ grade, residualPx }) => (grade === 'unmeasurable' ? null : residualPx),
  surface: ({ surfaceClass }) => surfaceClass,
};

function inOrder(a: string | number, b: string | number): number {
  if (typeof a === 'string' || typeof b === 'string')
    return String(a).localeCompare(String(b), 'en', { numeric: true });
  return a === b ? 0 : a - b;
}
