/** A query of the log as a condition in SQL; what the crew wrote is only ever bound as a value. */
import { presetName } from '../judge/index.js';
import type { Database, Value } from './database.js';
import { NAME_FILTERS, type LogQuery } from './query.js';

/** A condition and its values in order. */
export interface Where {
  readonly where: string;
  readonly values: readonly Value[];
}

/** The columns that words are looked for in. */
const TEXT_COLUMNS = [
  'clip_file',
  'production',
  'unit',
  'location',
  'floor',
  'lane',
  'setup',
  'wheels',
  'track',
  'operator',
  'roll',
  'slate',
  'take',
  'notes',
] as const;

/**
 * The condition that a query stands for.
 *
 * SQLite folds the case of ASCII only, so texts are compared here and the database is asked for those that fit.
 */
export function whereOf(query: LogQuery, database: Database): Where {
  const conditions: string[] = ['TRUE'];
  const values: Value[] = [];
  const must = (condition: string, ...bound: Value[]): void => {
    conditions.push(condition);
    values.push(...bound);
  };
  if (query.ids) must('id IN (SELECT value FROM json_each(?))', idsAsJson(query.ids));
  for (const name of NAME_FILTERS) {
    const wanted = query[name];
    if (wanted === undefined) continue;
    // A delivery is found by whatever spelling it may be asked for with.
    const isMeant = (text: string): boolean =>
      fold(text) === fold(wanted) || (name === 'delivery' && presetName(wanted, { [text]: {} }) !== null);
    const column = columnOf(name);
    const written = distinct(database, column).filter(isMeant);
    must(`${column} IN (SELECT value FROM json_each(?))`, JSON.stringify(written));
  }
  for (const tag of query.tags ?? []) {
    const written = distinct(database, 'name', 'tag').filter((text) => fold(text) === fold(tag));
    must(
      'id IN (SELECT run_id FROM tag WHERE name IN (SELECT value FROM json_each(?)))',
      JSON.stringify(written),
    );
  }
  if (query.grade !== undefined) must('grade = ?', query.grade);
  if (query.sinceMs !== undefined) must('created_at >= ?', momentOf(query.sinceMs));
  if (query.beforeMs !== undefined) must('created_at < ?', momentOf(query.beforeMs));
  if (query.clip !== undefined) {
    const part = fold(query.clip);
    const files = distinct(database, 'clip_file').filter((file) => fold(file).includes(part));
    const start = /^[0-9a-f]{6,64}$/.test(part) ? part : null;
    must(
      '(clip_file IN (SELECT value FROM json_each(?)) OR substr(clip_sha256, 1, length(?)) = ?)',
      JSON.stringify(files),
      start,
      start,
    );
  }
  if (query.text !== undefined)
    must('id IN (SELECT value FROM json_each(?))', idsAsJson(idsWithWords(database, query.text)));
  return { where: conditions.join(' AND '), values };
}

/** Moments are compared as texts, which years of five figures would upset. */
const LAST_MS = Date.UTC(9999, 11, 31, 23, 59, 59, 999);

function momentOf(timeMs: number): string {
  return new Date(Math.min(timeMs, LAST_MS)).toISOString();
}

/** Numbers of runs as one value that `json_each` takes apart. */
export function idsAsJson(ids: readonly number[]): string {
  return JSON.stringify(ids);
}

/** Texts that differ only in case or in how their accents are coded become one; what the database cannot hold is what it puts there. */
function fold(text: string): string {
  return text
    .replace(/[\0\p{Cs}]/gu, '\ufffd')
    .normalize('NFKC')
    .toUpperCase()
    .toLowerCase();
}

/** The names that occur, by the condition that asks for them, in the order of the alphabet. */
export function namesIn(database: Database): Record<NameFilter, string[]> {
  const each = NAME_FILTERS.map((name) => [name, inOrder(distinct(database, columnOf(name)))]);
  return Object.fromEntries(each) as Record<NameFilter, string[]>;
}

/** The tags that occur, in the order of the alphabet. */
export function tagsIn(database: Database): string[] {
  return inOrder(distinct(database, 'name', 'tag'));
}

type NameFilter = (typeof NAME_FILTERS)[number];

function columnOf(name: NameFilter): string {
  return name === 'delivery' ? 'delivery_name' : name;
}

/** Lane 2 before lane 10. */
function inOrder(names: string[]): string[] {
  return names.sort((a, b) => a.localeCompare(b, 'en', { numeric: true }));
}

function distinct(database: Database, column: string, table = 'run'): string[] {
  return database
    .all(`SELECT DISTINCT ${column} AS text FROM ${table} WHERE ${column} IS NOT NULL`)
    .map((row) => String(row['text']));
}

function idsWithWords(database: Database, text: string): number[] {
  const words = fold(text)
    .split(/\s+/)
    .filter((word) => word !== '');
  const tags = `coalesce((SELECT group_concat(name, ' ') FROM tag WHERE run_id = id), '')`;
  const joined = TEXT_COLUMNS.map((column) => `coalesce(${column}, '')`).join(` || ' ' || `);
  return database
    .all(`SELECT id, ${joined} || ' ' || ${tags} AS text FROM run`)
    .filter((row) => {
      const written = fold(String(row['text']));
      return words.every((word) => written.includes(word));
    })
    .map((row) => Number(row['id']));
}
