/** What a request says about runs, checked: numbers, questions to the log, changes of a sheet. */
import { queryOf, type LogQuery, type SheetChange } from '../../log/index.js';
import { TrundleError, nearestName, passSheetSchema } from '../../run/index.js';
import { WebProblem } from '../server/problem.js';

/** Runs that a list holds at most; a page with more is slow on a phone. */
export const MOST_RUNS = 500;

/** Changes of a run as asked for, every name checked. */
export interface CheckedChange {
  readonly sheet: SheetChange;
  readonly addTags: readonly string[];
  readonly removeTags: readonly string[];
}

const SHEET_NAMES = Object.keys(passSheetSchema.shape).filter((name) => name !== 'tags');

/** The number of a run in a path. @throws WebProblem 404 `log-entry-unknown` */
export function runId(text: string): number {
  if (isRunNumber(text)) return Number(text);
  throw new WebProblem(404, 'log-entry-unknown', `"${text.slice(0, 40)}" is not the number of a run.`);
}

/** The numbers of runs between commas, each once. @throws WebProblem 400 */
export function runIds(text: string): number[] {
  const words = text
    .split(',')
    .map((word) => word.trim())
    .filter((word) => word !== '');
  const strange = words.find((word) => !isRunNumber(word));
  if (strange !== undefined)
    throw new WebProblem(400, 'argument-invalid', `"${strange.slice(0, 40)}" is not the number of a run.`);
  return [...new Set(words.map(Number))];
}

/** The numbers in the order to remove runs. @throws WebProblem 400 */
export function idsOfBody(body: Readonly<Record<string, unknown>>): number[] {
  const { ids } = body;
  const isList = Array.isArray(ids) && ids.every((id) => Number.isInteger(id) && isRunNumber(String(id)));
  if (!isList || ids.length === 0)
    throw new WebProblem(400, 'argument-invalid', 'Name the runs by their numbers.');
  return [...new Set(ids as number[])];
}

/** The question in the address of a list; what is left empty is not asked for. @throws WebProblem 400 */
export function queryOfAddress(url: string): LogQuery {
  const asked = [...new URL(url).searchParams].filter(([, value]) => value.trim() !== '');
  const query = asInvalid(() => queryOf(asked));
  return { ...query, limit: Math.min(query.limit ?? MOST_RUNS, MOST_RUNS) };
}

/** What a change says. An empty entry is taken off. @throws WebProblem 400 */
export function changeOfBody(body: Readonly<Record<string, unknown>>): CheckedChange {
  const { sheet = {}, addTags = [], removeTags = [], ...others } = body;
  if (!isRecord(sheet) || !isWords(addTags) || !isWords(removeTags) || Object.keys(others).length > 0)
    throw new WebProblem(
      400,
      'argument-invalid',
      'A change holds entries of the sheet, tags to put on and tags to take off, and nothing else.',
    );
  const entries = Object.entries(sheet).map(([name, value]) => [checkedName(name), entryOf(name, value)]);
  if (entries.length + addTags.length + removeTags.length === 0)
    throw new WebProblem(400, 'argument-invalid', 'The change holds nothing.');
  return { sheet: Object.fromEntries(entries) as SheetChange, addTags, removeTags };
}

/** The body of a request as an object. @throws WebProblem 400 */
export async function bodyOf(request: { json(): Promise<unknown> }): Promise<Record<string, unknown>> {
  const body = await request.json().catch(() => null);
  if (isRecord(body)) return body;
  throw new WebProblem(400, 'body-unreadable', 'The request holds no JSON object.');
}

/** A wrong word of an address is told as such. @throws WebProblem 400 in place of a TrundleError for an argument */
export function asInvalid<T>(read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof TrundleError)) throw error;
    throw new WebProblem(400, error.code, error.message, { cause: error });
  }
}

function isRunNumber(text: string): boolean {
  return /^[1-9]\d{0,8}$/.test(text);
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isWords(value: unknown): value is readonly string[] {
  return Array.isArray(value) && value.every((word) => typeof word === 'string');
}

function checkedName(name: string): string {
  if (SHEET_NAMES.includes(name)) return name;
  throw new WebProblem(
    400,
    'argument-unknown',
    `The sheet has no entry "${name.slice(0, 40)}"; the nearest is "${nearestName(name, SHEET_NAMES)}".`,
  );
}

/** Fields of a page give text; the sheet holds one number. */
function entryOf(name: string, value: unknown): unknown {
  if (typeof value !== 'string') return value;
  const text = value.trim();
  if (text === '') return null;
  return name === 'passNumber' && /^\d+$/.test(text) ? Number(text) : text;
}
