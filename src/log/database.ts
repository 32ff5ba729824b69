/** The embedded database as the log uses it: values in, rows out, every change in one transaction, failures in plain sentences. */
import fs from 'node:fs';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import type Engine from 'libsql';
import { TrundleError } from '../run/index.js';

/** What may be bound to a statement. */
export type Value = string | number | null | Uint8Array;

/** A row by the names of its columns; blobs come as bytes. */
export type Row = Record<string, Value>;

/** The file is no database of ours, or parts of it cannot be read. */
export class DamagedError extends Error {
  override readonly name = 'DamagedError';
}

/** How long another process may hold the database before we give up, ms. */
export const DEFAULT_TIMEOUT_MS = 5000;

/**
 * One connection.
 *
 * Statements are bound by position and always as one array: the engine takes a lone object for named values. What it answers is
 * copied into plain rows.
 */
export class Database {
  private readonly engine: InstanceType<typeof Engine>;

  /**
   * Opens the file, which is made when it is not there.
   * @param use `read` opens one that is there and writes nothing at all, not even beside it
   * @throws TrundleError `log-unwritable`
   */
  constructor(
    readonly file: string,
    readonly timeoutMs: number,
    readonly use: 'write' | 'read' = 'write',
  ) {
    const DatabaseEngine = loadEngine();
    const name = use === 'write' ? file : readOnlyName(file);
    this.engine = this.attempt(() => new DatabaseEngine(name, { timeout: timeoutMs }));
  }

  /** Every row that a statement gives. @throws DamagedError; TrundleError `log-busy`, `log-unwritable` */
  all(sql: string, values: readonly Value[] = []): Row[] {
    return this.attempt(() => this.engine.prepare(sql).all(bound(values)) as Record<string, unknown>[]).map(
      plainRow,
    );
  }

  /** The first row that a statement gives; undefined when there is none. @throws as `all` */
  first(sql: string, values: readonly Value[] = []): Row | undefined {
    return this.all(sql, values)[0];
  }

  /** Runs a statement that changes something. @returns the number of rows that it changed @throws as `all` */
  run(sql: string, values: readonly Value[] = []): number {
    return this.attempt(() => this.engine.prepare(sql).run(bound(values)).changes);
  }

  /** Runs statements without values. @throws as `all` */
  script(sql: string): void {
    this.attempt(() => this.engine.exec(sql));
  }

  /** A setting that is a number. */
  pragma(name: string): number {
    return Number(Object.values(this.first(`PRAGMA ${name}`) ?? {})[0]);
  }

  /** Does all of `work` or nothing; nobody else writes meanwhile. When it returns, the change is on the disk. @throws as `all` */
  change<T>(work: () => T): T {
    this.script('BEGIN IMMEDIATE');
    try {
      const result = work();
      this.script('COMMIT');
      return result;
    } catch (error) {
      // Some failures (a full disk) have ended the transaction already.
      if (this.engine.inTransaction) this.script('ROLLBACK');
      throw error;
    }
  }

  /** Moves what was written last into the database file, as far as nobody else needs it, and ends the connection. */
  close(): void {
    if (!this.engine.open) return;
    try {
      if (this.use === 'write') this.all('PRAGMA wal_checkpoint(TRUNCATE)');
    } catch {
      // All of it is safe in the file beside the database, and the next connection moves it.
    }
    this.engine.close();
  }

  private attempt<T>(work: () => T): T {
    try {
      return work();
    } catch (error) {
      throw inWords(error, this.file, this.timeoutMs);
    }
  }
}

/** Loaded when a log is opened: a machine without the engine measures all the same, and answers without a log do not wait for it. */
function loadEngine(): typeof Engine {
  try {
    return createRequire(import.meta.url)('libsql') as typeof Engine;
  } catch (cause) {
    throw new TrundleError(
      'log-unwritable',
      'The log cannot be opened: its database engine does not load on this machine; install the program anew.',
      { cause },
    );
  }
}

/**
 * The name that opens a file for reading only. What was written last stands beside it as long as somebody has it open, and is read from
 * there; where nothing stands beside it, nothing can be put there either, and the file is taken as it is (SQLite, "Write-Ahead
 * Logging", section "Read-Only Databases").
 */
function readOnlyName(file: string): string {
  const how = fs.existsSync(`${file}-wal`) ? 'mode=ro' : 'immutable=1';
  return `${pathToFileURL(file).href}?${how}`;
}

/** Texts end at a NUL character for the engine: it is replaced so that nothing behind it is lost. */
function bound(values: readonly Value[]): Value[] {
  return values.map((value) => (typeof value === 'string' ? value.replaceAll('\0', '\ufffd') : value));
}

function plainRow(row: Record<string, unknown>): Row {
  return Object.fromEntries(
    Object.entries(row).map(([name, value]) => [
      name,
      value instanceof ArrayBuffer ? new Uint8Array(value) : (value as Value),
    ]),
  );
}

/** Result codes of SQLite: the low byte of the extended ones, and one extended code of a file that ends too early. */
const CODES = {
  busy: 5,
  locked: 6,
  readOnly: 8,
  io: 10,
  corrupt: 11,
  full: 13,
  cannotOpen: 14,
  notDatabase: 26,
  shortRead: 522,
};

function inWords(error: unknown, file: string, timeoutMs: number): unknown {
  if (!(error instanceof Error)) return error;
  const full = codeOf(error);
  const code = full === CODES.shortRead ? CODES.corrupt : full === null ? null : full & 0xff;
  const failure = (name: 'log-busy' | 'log-unwritable', message: string): TrundleError =>
    new TrundleError(name, message, { cause: error });
  switch (code) {
    case CODES.busy:
    case CODES.locked:
      return failure(
        'log-busy',
        `Another program has held the log "${file}" for more than ${timeoutMs / 1000} s; wait until it is done and try again.`,
      );
    case CODES.corrupt:
    case CODES.notDatabase:
      return new DamagedError(`"${file}": ${error.message}`, { cause: error });
    case CODES.readOnly:
    case CODES.io:
    case CODES.cannotOpen:
      return failure(
        'log-unwritable',
        `The log "${file}" cannot be opened or written; check that you may write it and its folder, or choose another with --data-dir.`,
      );
    case CODES.full:
      return failure('log-unwritable', `The log "${file}" cannot grow: the disk is full.`);
    default:
      return error;
  }
}

/** The result code; a failure to open carries it at the end of its message only. */
function codeOf(error: Error & { rawCode?: number }): number | null {
  if (typeof error.rawCode === 'number') return error.rawCode;
  const ending = /^ConnectionFailed\(.*: (\d+)"\)$/s.exec(error.message)?.[1];
  return ending === undefined ? null : Number(ending);
}
