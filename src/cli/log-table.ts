/** Runs of the log as a table for a terminal: one line each, units in the heads. */
import type { LogRow } from '../log/index.js';
import { figure, percentFigure, printable } from '../run/index.js';

interface Column {
  readonly head: string;
  readonly of: (row: LogRow) => string;
  /** Longest text shown, characters; longer ones end in an ellipsis. */
  readonly most?: number;
  readonly right?: boolean;
}

const COLUMNS: readonly Column[] = [
  { head: 'run', of: ({ id }) => String(id), right: true },
  { head: 'measured', of: ({ createdAt }) => localMinute(createdAt) },
  { head: 'floor', of: ({ pass, clipFile }) => pass.floor ?? `(${clipFile})`, most: 26 },
  { head: 'lane', of: ({ pass }) => pass.lane ?? '', most: 10 },
  { head: 'setup', of: ({ pass }) => pass.setup ?? '', most: 20 },
  { head: 'm/s', of: ({ speedMps }) => figureOrNone(speedMps), right: true },
  { head: 'mm', of: ({ focalLengthMm }) => figureOrNone(focalLengthMm), right: true },
  { head: 'crop %', of: cropOf, right: true },
  { head: 'left px', of: (row) => (measurable(row) ? figureOrNone(row.residualPx) : ''), right: true },
  { head: 'verdict', of: verdictOf },
  { head: 'tags', of: ({ pass }) => pass.tags?.join(', ') ?? '', most: 24 },
];

/** The table; every line ends with "\n". A column that is empty throughout shows its head all the same. */
export function logTable(rows: readonly LogRow[]): string {
  const columns = COLUMNS.map(({ head, of, most = 40, right = false }) => {
    const cells = [head, ...rows.map((row) => shortened(of(row) || '-', most))];
    const width = Math.max(...cells.map((cell) => [...cell].length));
    return cells.map((cell) => {
      const gap = ' '.repeat(width - [...cell].length);
      return right ? gap + cell : cell + gap;
    });
  });
  return [0, ...rows.map((_, i) => i + 1)]
    .map((line) => `${columns.map((cells) => cells[line]).join('  ')}`.trimEnd() + '\n')
    .join('');
}

/** Date and time of this place, to the minute. @example localMinute('2031-03-14T09:26:53.000Z') // "2031-03-14 09:26" in UTC */
export function localMinute(iso: string): string {
  const at = new Date(iso);
  if (Number.isNaN(at.getTime())) return printable(iso);
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${two(at.getHours())}:${two(at.getMinutes())}`;
}

function shortened(text: string, most: number): string {
  const characters = [...printable(text)];
  return characters.length > most ? `${characters.slice(0, most - 1).join('')}\u2026` : characters.join('');
}

function verdictOf({ grade, doubts, readable }: LogRow): string {
  const doubted = doubts.length > 0 && grade !== 'unmeasurable' ? ', in doubt' : '';
  return `${grade}${doubted}${readable ? '' : ' (other version)'}`;
}

function measurable({ grade }: LogRow): boolean {
  return grade !== 'unmeasurable';
}

function cropOf(row: LogRow): string {
  if (!measurable(row)) return '';
  return row.coverable ? percentFigure(row.cropPercent) : '> 50';
}

function figureOrNone(value: number | null): string {
  return value === null ? '' : figure(value);
}
