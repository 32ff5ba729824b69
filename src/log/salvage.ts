/** Reads out of a damaged log what can still be read, run by run, into a new one under the same numbers. */
import { DamagedError, Database, type Row, type Value } from './database.js';
import { standingOf } from './migrations.js';
import { unpack } from './packed.js';

/** What became of the runs of a damaged log. */
export interface Salvaged {
  /** Runs that are in the new log, with their documents. */
  readonly saved: number;
  /** Numbers at which something could not be read: at most so many runs are lost, as far as the log still tells. */
  readonly unreadable: number;
}

/** Numbers beyond this are taken for damage themselves. */
const LARGEST_NUMBER = 1_000_000;
const NOTHING: Salvaged = { saved: 0, unreadable: 0 };

/**
 * Copies every run whose row and document can be read and belong together; of series, pictures and tags whatever there is. Nothing is
 * written to the damaged file.
 *
 * @param damaged a file that may be no log at all
 * @param into a new log without runs; numbers that the damaged one has used are not given again
 * @throws as `into` does, where it cannot be written
 */
export function salvage(damaged: string, into: Database): Salvaged {
  let from: Database | null = null;
  try {
    from = new Database(damaged, into.timeoutMs, 'read');
    if (standingOf(from) !== 'ours') return NOTHING;
    return copyRuns(from, into);
  } catch (error) {
    if (error instanceof DamagedError) return NOTHING;
    throw error;
  } finally {
    from?.close();
  }
}

function copyRuns(from: Database, into: Database): Salvaged {
  const last = lastNumber(from);
  const columns = sharedColumns(from, into);
  let saved = 0;
  let unreadable = 0;
  into.change(() => {
    for (let id = 1; id <= last; id++) {
      const run = readable(() => wholeRun(from, id));
      if (run === undefined) unreadable++;
      else if (run !== null && kept(run, columns, into)) saved++;
      else if (run !== null) unreadable++;
    }
    into.run(`INSERT INTO sqlite_sequence (name, seq) SELECT 'run', 0
      WHERE NOT EXISTS (SELECT 1 FROM sqlite_sequence WHERE name = 'run')`);
    into.run("UPDATE sqlite_sequence SET seq = max(seq, ?) WHERE name = 'run'", [last]);
  });
  return { saved, unreadable };
}

/** What a read gives; undefined where the damage is in its way. */
function readable<T>(read: () => T): T | undefined {
  try {
    return read();
  } catch (error) {
    if (error instanceof DamagedError) return undefined;
    throw error;
  }
}

/** The highest number that any part of the log knows of. */
function lastNumber(from: Database): number {
  const ways = [
    "SELECT seq AS n FROM sqlite_sequence WHERE name = 'run'",
    'SELECT max(id) AS n FROM run',
    'SELECT max(run_id) AS n FROM stored',
  ];
  const numbers = ways.map((sql) => Number(readable(() => from.first(sql))?.['n'] ?? 0));
  return Math.max(0, ...numbers.filter((n) => Number.isInteger(n) && n <= LARGEST_NUMBER));
}

/** Columns of the list that both versions of the log have. */
function sharedColumns(from: Database, into: Database): readonly string[] {
  const names = (database: Database): string[] =>
    database.all("SELECT name FROM pragma_table_info('run')").map(({ name }) => String(name));
  const old = new Set(names(from));
  return names(into).filter((name) => old.has(name));
}

interface WholeRun {
  readonly row: Row;
  readonly document: Uint8Array;
  readonly series: Value;
  readonly thumbnail: Value;
  readonly picture: Value;
  readonly tags: readonly string[];
}

/** A run with its document; null where there is none of this number. @throws DamagedError also where row and document do not belong together */
function wholeRun(from: Database, id: number): WholeRun | null {
  const row = from.first('SELECT * FROM run WHERE id = ?', [id]);
  const stored = (column: string): Value | undefined =>
    from.first(`SELECT ${column} FROM stored WHERE run_id = ?`, [id])?.[column];
  const document = stored('document');
  if (row === undefined && document === undefined) return null;
  if (row === undefined || !(document instanceof Uint8Array) || !belongTogether(row, unpack(document)))
    throw new DamagedError(`run ${id} of "${from.file}" is not whole`);
  const part = (column: string): Value => readable(() => stored(column)) ?? null;
  const series = part('series');
  return {
    row,
    document,
    series: series instanceof Uint8Array && unpack(series) !== null ? series : null,
    thumbnail: soundPicture(part('thumbnail')),
    picture: soundPicture(part('picture')),
    tags: (readable(() => from.all('SELECT name FROM tag WHERE run_id = ?', [id])) ?? []).map(({ name }) =>
      String(name),
    ),
  };
}

/** Documents carry a checksum, rows do not: what both hold tells whether the row is the document's. */
function belongTogether(row: Row, document: unknown): boolean {
  const { createdAt, clip } = (document ?? {}) as { createdAt?: unknown; clip?: { sha256?: unknown } };
  return createdAt === row['created_at'] && clip?.sha256 === row['clip_sha256'];
}

/** A JPEG from its first mark to its last; null for anything else. */
function soundPicture(bytes: Value): Value {
  if (!(bytes instanceof Uint8Array)) return null;
  const ends = [bytes[0], bytes[1], bytes.at(-2), bytes.at(-1)];
  return ends.join() === '255,216,255,217' ? bytes : null;
}

/** @returns whether the new log took it: a damaged row may hold what no column takes */
function kept(run: WholeRun, columns: readonly string[], into: Database): boolean {
  const { row, document, series, thumbnail, picture, tags } = run;
  into.script('SAVEPOINT run');
  try {
    into.run(
      `INSERT INTO run (${columns.join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`,
      columns.map((name) => row[name]),
    );
    into.run('INSERT INTO stored (run_id, document, series, thumbnail, picture) VALUES (?, ?, ?, ?, ?)', [
      ...[row['id'], document, series, thumbnail, picture],
    ]);
    for (const name of new Set(tags))
      into.run('INSERT INTO tag (run_id, name) VALUES (?, ?)', [row['id'], name]);
    into.script('RELEASE run');
    return true;
  } catch (error) {
    if (!(error instanceof Error) || !('rawCode' in error)) throw error;
    into.script('ROLLBACK TO run; RELEASE run');
    return false;
  }
}
