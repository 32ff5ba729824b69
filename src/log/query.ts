/** What is looked for in the log, and how it is written on one line: "floor=dairy hall, setup=soft, grade=fail, since=2031-03-01, tag=night". */
import { TrundleError, nearestName, type RunDocument } from '../run/index.js';

/** Every condition must hold; names and words are compared without regard to case. */
export interface LogQuery {
  /** Only these runs. */
  readonly ids?: readonly number[];
  /** The entry of the sheet is this, whole. */
  readonly floor?: string;
  readonly location?: string;
  readonly lane?: string;
  readonly direction?: string;
  readonly setup?: string;
  readonly wheels?: string;
  readonly track?: string;
  readonly production?: string;
  readonly unit?: string;
  readonly operator?: string;
  readonly roll?: string;
  readonly slate?: string;
  readonly take?: string;
  readonly mark?: string;
  /** Name of the delivery that it was judged against. */
  readonly delivery?: string;
  readonly grade?: RunDocument['verdict']['grade'];
  /** Part of the clip's file name, or the beginning of its SHA-256. */
  readonly clip?: string;
  /** Tags that must all be there. */
  readonly tags?: readonly string[];
  /** Measured at or after, and before; milliseconds since 1970 UTC. */
  readonly sinceMs?: number;
  readonly beforeMs?: number;
  /** Words that must all occur somewhere in the sheet or the clip's name. */
  readonly text?: string;
  /** At most so many, newest first. */
  readonly limit?: number;
}

/** Conditions that are the name of an entry: the whole entry must be it. */
export const NAME_FILTERS = [
  'floor',
  'location',
  'lane',
  'direction',
  'setup',
  'wheels',
  'track',
  'production',
  'unit',
  'operator',
  'roll',
  'slate',
  'take',
  'mark',
  'delivery',
] as const satisfies readonly (keyof LogQuery)[];

const OTHER_FILTERS = ['grade', 'clip', 'tag', 'since', 'until', 'text', 'limit', 'id'] as const;

/** Every name that a query may hold. */
export const FILTERS = [...NAME_FILTERS, ...OTHER_FILTERS] as const;

const GRADES: readonly LogQuery['grade'][] = ['pass', 'marginal', 'fail', 'unmeasurable'];

/**
 * Reads a query: conditions between commas, and numbers for runs ("12, 14"). A value that holds a comma stands in double quotes.
 * `tag` and `id` may come several times. Nothing at all finds every run.
 *
 * @throws TrundleError `argument-unknown` for a name that is none, with the nearest; `argument-invalid` for a value
 * @example parseLogQuery('floor=dairy hall, tag=night') // { floor: 'dairy hall', tags: ['night'] }
 */
export function parseLogQuery(text: string): LogQuery {
  const conditions = partsOf(text).map((part) => {
    if (/^\d+$/.test(part)) return ['id', part] as const;
    const [name = '', value] = part.split(/=(.*)/s).map((side) => side.trim());
    if (value === undefined)
      throw new TrundleError(
        'argument-invalid',
        `"${part}" is neither the number of a run nor a condition like floor="dairy hall".`,
      );
    return [name, value] as const;
  });
  return queryOf(conditions);
}

/**
 * A query from its conditions, each a name of `FILTERS` with its value as text.
 * @throws as `parseLogQuery`
 */
export function queryOf(conditions: readonly (readonly [string, string])[]): LogQuery {
  const query: Record<string, unknown> = {};
  for (const [name, value] of conditions) {
    if (!(FILTERS as readonly string[]).includes(name))
      throw new TrundleError(
        'argument-unknown',
        `The log cannot be asked for "${name}"; the nearest is "${nearestName(name, FILTERS)}".`,
      );
    if (value.trim() === '') throw invalid(name, value, 'something to look for');
    const [key, read, repeats] = readerOf(name as (typeof FILTERS)[number]);
    if (!repeats && key in query)
      throw new TrundleError('argument-invalid', `"${name}" is asked for twice; a run has only one.`);
    const found = read(value.trim());
    query[key] = repeats ? [...((query[key] as unknown[] | undefined) ?? []), found] : found;
  }
  return query;
}

type Reader = readonly [key: keyof LogQuery, read: (value: string) => unknown, repeats: boolean];

function readerOf(name: (typeof FILTERS)[number]): Reader {
  switch (name) {
    case 'id':
      return ['ids', (value) => wholeNumber(name, value), true];
    case 'tag':
      return ['tags', (value) => value, true];
    case 'grade':
      return ['grade', gradeNamed, false];
    case 'since':
      return ['sinceMs', (value) => dayMs(name, value).start, false];
    case 'until':
      return ['beforeMs', (value) => dayMs(name, value).end, false];
    case 'limit':
      return ['limit', (value) => wholeNumber(name, value), false];
    case 'mark':
      return ['mark', (value) => (/^(no-?good|ng)$/i.test(value) ? 'noGood' : value), false];
    default:
      return [name, (value) => value, false];
  }
}

function gradeNamed(value: string): LogQuery['grade'] {
  const grade = GRADES.find((name) => name === value.toLowerCase());
  if (!grade) throw invalid('grade', value, `one of ${GRADES.join(', ')}`);
  return grade;
}

function wholeNumber(name: string, value: string): number {
  if (!/^\d{1,9}$/.test(value) || Number(value) === 0) throw invalid(name, value, 'a whole number from 1');
  return Number(value);
}

/** A day of this place's calendar, or a moment: from when, and up to when. */
function dayMs(name: string, value: string): { start: number; end: number } {
  const day = /^(\d{4})-(\d{2})-(\d{2})$/.exec(value);
  if (day) {
    const [year, month, date] = day.slice(1).map(Number);
    const start = new Date(year, month - 1, date);
    if (start.getMonth() === month - 1 && start.getDate() === date)
      return { start: start.getTime(), end: new Date(year, month - 1, date + 1).getTime() };
  } else if (/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}/.test(value)) {
    const moment = Date.parse(value);
    if (Number.isFinite(moment)) return { start: moment, end: moment };
  }
  throw invalid(name, value, 'a day like 2031-03-14, or a moment like 2031-03-14T09:30');
}

function invalid(name: string, value: string, rule: string): TrundleError {
  return new TrundleError('argument-invalid', `"${name}=${value}" will not do: it must be ${rule}.`);
}

/** Splits at commas that stand outside of double quotes, and takes the quotes off. */
function partsOf(text: string): string[] {
  const parts = text.match(/(?:"[^"]*"|[^,"]|")+/g) ?? [];
  return parts.map((part) => part.replace(/"([^"]*)"/g, '$1').trim()).filter((part) => part !== '');
}
