/** Opens the log of runs: makes it, brings it to this version, and sets aside one that cannot be read. */
import fs from 'node:fs';
import path from 'node:path';
import { TrundleError, type Warning } from '../run/index.js';
import { DamagedError, Database, DEFAULT_TIMEOUT_MS } from './database.js';
import { MIGRATIONS, migrate, standingOf, type Migration } from './migrations.js';
import { RunLog } from './run-log.js';
import { salvage, type Salvaged } from './salvage.js';
import { setAside, whileMending } from './set-aside.js';

/** A log up to this size is read through when it is opened, bytes; of a larger one the list, and a document when it is asked for. */
const CHECKED_BYTES = 64 * 2 ** 20;
/** What the list is made from: a hundredth of a log, for documents, series and pictures stand in a table of their own. */
const LIST_TABLES = ['sqlite_schema', 'run', 'tag'] as const;

/** How the log is opened. */
export interface OpenOptions {
  /** How long another process may hold it, ms. */
  readonly timeoutMs?: number;
  /** Told when a damaged log was set aside (code `log-damaged`). */
  readonly onWarning?: (warning: Warning) => void;
  /** Size up to which the log is read through, bytes; 64 MB unless given. */
  readonly checkedBytes?: number;
  /** Steps from version to version; those of this program unless given. */
  readonly migrations?: readonly Migration[];
}

/**
 * Opens the log, making it and its folder when they are not there.
 *
 * What is reported as kept is on the disk: write-ahead log, synchronised at every commit (`synchronous = FULL`), so that neither a
 * crash of the program nor of the machine loses it. Several processes may have it open at once. A file that is damaged, or a database
 * of somebody else, is moved to `runs.db.damaged-<date>` and a new log is begun, with those of its runs that can still be read, under
 * their numbers. A log that this user may read but not write is read,
 * and refuses every change with `log-unwritable`.
 *
 * @param file the database file
 * @throws TrundleError `log-newer`, `log-busy`, `log-unwritable`
 */
export function openLog(file: string, options: OpenOptions = {}): RunLog {
  const place = path.resolve(file);
  makeFolder(place);
  const opening = {
    timeoutMs: DEFAULT_TIMEOUT_MS,
    onWarning: () => {},
    migrations: MIGRATIONS,
    checkedBytes: CHECKED_BYTES,
    ...options,
  };
  return new RunLog(openSound(place, opening), () => openSound(place, opening));
}

function openSound(file: string, options: Required<OpenOptions>): Database {
  try {
    return openDatabase(file, options);
  } catch (error) {
    if (!(error instanceof DamagedError)) throw error;
    return mended(file, options);
  }
}

/** Looks again once nobody else is mending: perhaps it is mended already. */
function mended(file: string, options: Required<OpenOptions>): Database {
  const { timeoutMs, onWarning, migrations } = options;
  try {
    const database = whileMending(file, timeoutMs, () => {
      try {
        return openDatabase(file, options);
      } catch (error) {
        if (!(error instanceof DamagedError)) throw error;
        onWarning({ code: 'log-damaged', text: beganAnew(file, migrations), atS: null });
        return openDatabase(file, options);
      }
    });
    if (database) return database;
  } catch (error) {
    throw error instanceof Error && 'syscall' in error ? unwritable(file, error) : error;
  }
  throw new TrundleError(
    'log-busy',
    `Another program is setting the damaged log "${file}" aside; wait until it is done and try again.`,
  );
}

/**
 * Begins a new log with what can be read of the damaged one, and puts it in the place of that only once it is whole.
 * @returns what is to be told
 */
function beganAnew(file: string, migrations: readonly Migration[]): string {
  const fresh = `${file}.mended`;
  for (const part of ['', '-wal', '-shm', '-journal']) fs.rmSync(fresh + part, { force: true });
  const database = new Database(fresh, DEFAULT_TIMEOUT_MS);
  let salvaged: Salvaged;
  try {
    prepare(database, migrations);
    salvaged = salvage(file, database);
    // All of it in one file, which can be moved.
    database.all('PRAGMA journal_mode = DELETE');
  } finally {
    database.close();
  }
  const name = path.basename(setAside(file, new Date()));
  fs.renameSync(fresh, file);
  return `The log "${file}" is damaged or not a log of this program; it was set aside as "${name}" and a new one begun${outcome(salvaged)}.`;
}

function outcome({ saved, unreadable }: Salvaged): string {
  if (saved === 0) return ', for no run of it could be read';
  const runs = saved === 1 ? 'the one run' : `the ${saved} runs`;
  const lost = unreadable === 0 ? '' : `; ${unreadable} could not be read`;
  return ` with ${runs} that could be read${lost}`;
}

/** A log that may be read but not written, somebody else's perhaps, is opened for reading; each change to it then fails. */
function openDatabase(file: string, options: Required<OpenOptions>): Database {
  try {
    return openToWrite(file, options);
  } catch (error) {
    const refused = error instanceof TrundleError && error.code === 'log-unwritable';
    if (!refused || !mayRead(file)) throw error;
    return openToRead(file, options, error);
  }
}

function mayRead(file: string): boolean {
  try {
    fs.closeSync(fs.openSync(file, 'r'));
    return true;
  } catch {
    return false;
  }
}

/** @param refusal thrown where the log would have to be begun, or brought to this version, before it can be read */
function openToRead(
  file: string,
  { timeoutMs, migrations, checkedBytes }: Required<OpenOptions>,
  refusal: Error,
): Database {
  const database = new Database(file, timeoutMs, 'read');
  try {
    const current =
      standingOf(database, migrations) === 'ours' && database.pragma('user_version') === migrations.length;
    if (!current) throw refusal;
    checkPages(database, checkedBytes);
    return database;
  } catch (error) {
    database.close();
    throw error;
  }
}

function openToWrite(file: string, { timeoutMs, migrations, checkedBytes }: Required<OpenOptions>): Database {
  const database = new Database(file, timeoutMs);
  try {
    if (standingOf(database, migrations) === 'ours') checkPages(database, checkedBytes);
    prepare(database, migrations);
    return database;
  } catch (error) {
    database.close();
    throw error;
  }
}

/** Sets the ways of writing, and brings tables to this version. */
function prepare(database: Database, migrations: readonly Migration[]): void {
  // Removed runs give their room back; this can be chosen only before the first table is made.
  if (standingOf(database, migrations) === 'empty') database.script('PRAGMA auto_vacuum = INCREMENTAL');
  writeAhead(database);
  database.script('PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;');
  migrate(database, migrations);
}

/** @throws DamagedError */
function checkPages(database: Database, checkedBytes: number): void {
  const isLarge = fs.statSync(database.file).size > checkedBytes;
  for (const what of isLarge ? LIST_TABLES : ['1']) {
    const [answer] = Object.values(database.first(`PRAGMA quick_check(${what})`) ?? {});
    if (answer !== 'ok') throw new DamagedError(`"${database.file}": ${String(answer)}`);
  }
}

/** Changing the journal needs the file alone for a moment, and the engine does not wait for that by itself. */
function writeAhead(database: Database): void {
  const until = performance.now() + database.timeoutMs;
  for (;;)
    try {
      database.all('PRAGMA journal_mode = WAL');
      return;
    } catch (error) {
      const busy = error instanceof TrundleError && error.code === 'log-busy';
      if (!busy || performance.now() > until) throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 10);
    }
}

function makeFolder(file: string): void {
  try {
    fs.mkdirSync(path.dirname(file), { recursive: true });
  } catch (error) {
    throw unwritable(file, error);
  }
}

function unwritable(file: string, cause: unknown): TrundleError {
  return new TrundleError(
    'log-unwritable',
    `The folder of the log "${file}" cannot be made or written; choose another with --data-dir.`,
    { cause },
  );
}
