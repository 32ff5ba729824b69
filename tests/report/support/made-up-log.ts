/** A log of made-up runs over four floors, and its page. */
import { renderLogPage, type ListedRun, type LogPage, type ShownRun } from '../../../src/report/index.js';

type Floor = readonly [floor: string, crops: readonly number[], surfaceClass: string | null];

const FLOORS: readonly Floor[] = [
  ['dairy hall, polished concrete', [0.42, 0.5, 0.61, 0.38], 'A-3'],
  ['tiled corridor', [2.1, 3.4, 2.9], 'B'],
  ['plywood loft', [5.2, 7.8, 4.6, 6.1, 5.5], 'A'],
  ['aluminium rail', [0.11, 0.16], 'A-5'],
];
const LIMIT_PERCENT = 5;

function gradeOf(crop: number): ListedRun['grade'] {
  if (crop > 1.1 * LIMIT_PERCENT) return 'fail';
  return crop > 0.9 * LIMIT_PERCENT ? 'marginal' : 'pass';
}

/** The runs, newest first; the last one could not be measured and has no sheet. */
export function madeUpList(): ListedRun[] {
  const runs = FLOORS.flatMap(([floor, crops, surfaceClass]) =>
    crops.map((cropPercent, i): Omit<ListedRun, 'id' | 'createdAt'> => ({
      clipFile: `${floor.split(/[ ,]/)[0]}-${i + 1}.mov`,
      pass: { floor, lane: String(1 + (i % 2)), setup: i % 2 === 0 ? 'hard wheels' : 'soft tyres' },
      speedMps: 0.3,
      focalLengthMm: 35,
      delivery: { name: 'web HD', widthPx: 1920, heightPx: 1080 },
      grade: gradeOf(cropPercent),
      doubts: [],
      cropPercent,
      coverable: true,
      residualPx: 0.3 * cropPercent,
      surfaceClass,
      readable: true,
    })),
  );
  const unmeasurable: Omit<ListedRun, 'id' | 'createdAt'> = {
    ...runs[0],
    clipFile: 'night.mov',
    pass: {},
    grade: 'unmeasurable',
    residualPx: null,
    surfaceClass: null,
  };
  return [...runs, unmeasurable].map((run, i, all) => ({
    ...run,
    id: all.length - i,
    createdAt: `2031-03-${String(28 - i).padStart(2, '0')}T09:26:53.000Z`,
  }));
}

/** The page of these runs, or of others. */
export function madeUpLogPage(change: Partial<LogPage> = {}): string {
  const shown: ShownRun[] = madeUpList().map((run) => ({
    run,
    reportHref: run.id % 3 === 0 ? null : `run-${run.id}/report.html`,
    thumbnailUri: null,
  }));
  return renderLogPage({
    runs: shown,
    more: 0,
    filter: '',
    file: 'runs.db',
    atMinute: (iso) => iso.slice(0, 16).replace('T', ' '),
    units: 'metric',
    ...change,
  });
}
