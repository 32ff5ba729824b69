/** The log of runs: keeps, lists, gives back, describes and removes measured runs; every change is whole or not at all. */
import { TrundleError, passSheetSchema, runSchema, runSeriesSchema } from '../run/index.js';
import { SHEET_COLUMNS, columnsOf, rowOf } from './columns.js';
import { DamagedError, type Database, type Row, type Value } from './database.js';
import { pack, unpack } from './packed.js';
import { idsAsJson, namesIn, tagsIn, whereOf } from './query-sql.js';
import type { LogQuery } from './query.js';
import type { Kept, LogEntry, LogOverview, LogRow, LoggedRun, SheetChange } from './types.js';

const TAGS = '(SELECT json_group_array(name) FROM tag WHERE tag.run_id = run.id) AS tags';
const HAS_SERIES =
  'EXISTS (SELECT 1 FROM stored WHERE stored.run_id = run.id AND series IS NOT NULL) AS has_series';

/** An open log; made by `openLog`. Methods throw TrundleError `log-busy` or `log-unwritable` besides what they name. */
export class RunLog {
  /** @param reopen opens the log anew, setting a damaged one aside */
  constructor(
    private database: Database,
    private readonly reopen: () => Database,
  ) {}

  /** The database file. */
  get file(): string {
    return this.database.file;
  }

  /**
   * Keeps a run. When this returns, it is on the disk. A run of the same clip and settings is kept beside the older one; an older run
   * of the same report folder keeps its data and loses the folder, whose files were replaced.
   *
   * A log that turns out to be damaged is set aside and the run kept in a new one.
   */
  add(entry: LogEntry): Kept {
    return this.insertAnew(entry, false);
  }

  /**
   * As `add`, but a run of the same clip and settings that is there stands for this one, and takes its report folder. Two processes that
   * keep the same at once leave one run.
   */
  addOnce(entry: LogEntry): Kept {
    return this.insertAnew(entry, true);
  }

  /**
   * Which run has measured a clip with these settings, the newest of several; null where none has.
   * @param clipSha256 of the bytes of the clip: moved or renamed it is the same
   * @param settingsKey as the run was kept with
   */
  runOf(clipSha256: string, settingsKey: string): number | null {
    return this.told(() => this.idOf(clipSha256, settingsKey));
  }

  /** The runs that a query finds, newest first. */
  list(query: LogQuery = {}): LogRow[] {
    return this.told(() => {
      const { where, values } = whereOf(query, this.database);
      const limit = query.limit === undefined ? '' : ` LIMIT ${Math.max(0, Math.trunc(query.limit))}`;
      return this.database
        .all(
          `SELECT run.*, ${TAGS}, ${HAS_SERIES} FROM run WHERE ${where} ORDER BY created_at DESC, id DESC${limit}`,
          values,
        )
        .map(rowOf);
    });
  }

  /** Runs by their numbers, in that order. @throws TrundleError `log-entry-unknown` */
  rows(ids: readonly number[]): LogRow[] {
    return ids.map((id) => this.row(id));
  }

  /**
   * One run as a whole, its sheet as it stands now.
   * @throws TrundleError `log-entry-unknown`; `log-entry-unreadable` when its document or series is damaged or of another version
   */
  get(id: number): LoggedRun {
    const row = this.row(id);
    const stored = this.told(() => this.database.first('SELECT * FROM stored WHERE run_id = ?', [id]));
    const run = runSchema.safeParse(unpack(bytesOf(stored, 'document') ?? new Uint8Array()));
    const packed = bytesOf(stored, 'series');
    const series = packed === null ? null : runSeriesSchema.safeParse(unpack(packed));
    if (!run.success || series?.success === false)
      throw new TrundleError(
        'log-entry-unreadable',
        `Run ${id} of the log was measured by version ${row.toolVersion} and cannot be read by this one; measure "${row.clipFile}" again.`,
      );
    return {
      row,
      run: { ...run.data, pass: row.pass },
      series: series?.data ?? null,
      picture: bytesOf(stored, 'picture'),
      thumbnail: bytesOf(stored, 'thumbnail'),
    };
  }

  /** The small picture of a run, JPEG; null when none was kept. @throws TrundleError `log-entry-unknown` */
  thumbnail(id: number): Uint8Array | null {
    return this.pictureIn('thumbnail', id);
  }

  /** The picture of the report of a run, JPEG; null when none was kept. @throws TrundleError `log-entry-unknown` */
  picture(id: number): Uint8Array | null {
    return this.pictureIn('picture', id);
  }

  /** How many runs there are, and the names and tags that occur on any of them. */
  overview(): LogOverview {
    return this.told(() => ({
      runs: Number(this.database.first('SELECT count(*) AS runs FROM run')?.['runs']),
      names: namesIn(this.database),
      tags: tagsIn(this.database),
    }));
  }

  /** Puts tags on a run and takes others off. @returns the run as it is listed now @throws TrundleError `log-entry-unknown` */
  tag(id: number, add: readonly string[], remove: readonly string[] = []): LogRow {
    return this.rewrite(id, {}, add, remove);
  }

  /**
   * Writes on the sheet of a run; entries that are not named stay.
   * @returns the run as it is listed now
   * @throws TrundleError `log-entry-unknown`, `argument-invalid`
   */
  describe(id: number, change: SheetChange): LogRow {
    return this.rewrite(id, change, [], []);
  }

  /** Changes sheet and tags at once, all or nothing. @returns the run as it is listed now @throws as `describe` */
  rewrite(
    id: number,
    change: SheetChange,
    addTags: readonly string[],
    removeTags: readonly string[],
  ): LogRow {
    const given = Object.entries(change).filter(([, value]) => value !== undefined);
    const checked = checkSheet(Object.fromEntries(given.filter(([, value]) => value !== null)));
    const unknown = given.find(([name]) => !Object.hasOwn(SHEET_COLUMNS, name));
    if (unknown) throw new TypeError(`an entry of the sheet is one of its names, got ${unknown[0]}`);
    const entries = given.map(
      ([name]) =>
        [
          SHEET_COLUMNS[name as keyof SheetChange],
          (checked[name as keyof SheetChange] ?? null) as Value,
        ] as const,
    );
    return this.changing(() => {
      const { tags = [] } = this.row(id).pass;
      for (const [column, value] of entries)
        this.database.run(`UPDATE run SET ${column} = ? WHERE id = ?`, [value, id]);
      if (addTags.length + removeTags.length > 0) {
        const names = [...new Set([...tags, ...addTags.map((name) => name.trim())])];
        this.writeTags(
          id,
          names.filter((name) => !removeTags.includes(name)),
        );
      }
      return this.row(id);
    });
  }

  /**
   * Takes runs out of the log for good, all or none, and gives their room back to the disk. Report folders stay.
   * @returns the runs that went
   * @throws TrundleError `log-entry-unknown`
   */
  remove(ids: readonly number[]): LogRow[] {
    return this.told(() => {
      const gone = this.database.change(() => {
        const rows = this.rows([...new Set(ids)]);
        this.database.run('DELETE FROM run WHERE id IN (SELECT value FROM json_each(?))', [idsAsJson(ids)]);
        return rows;
      });
      this.database.all('PRAGMA incremental_vacuum');
      return gone;
    });
  }

  /** Remembers where the report of a run is now. @throws TrundleError `log-entry-unknown` */
  movedTo(id: number, reportFolder: string): void {
    this.changing(() => {
      this.row(id);
      this.claimFolder(id, reportFolder);
    });
  }

  /** Ends the use of the log; a second time does nothing. */
  close(): void {
    this.database.close();
  }

  private insertAnew(entry: LogEntry, once: boolean): Kept {
    try {
      return this.insert(entry, once);
    } catch (error) {
      if (!(error instanceof DamagedError)) throw error;
      this.database.close();
      this.database = this.reopen();
      return this.insert(entry, once);
    }
  }

  private idOf(clipSha256: string, settingsKey: string): number | null {
    const found = this.database.first(
      'SELECT max(id) AS id FROM run WHERE clip_sha256 = ? AND settings_key = ?',
      [clipSha256, settingsKey],
    );
    const id = found?.['id'] ?? null;
    return id === null ? null : Number(id);
  }

  /** @param once whether a run of the same clip and settings that is there stands for this one */
  private insert(entry: LogEntry, once: boolean): Kept {
    const { run, series, picture, thumbnail, reportFolder, settingsKey = null } = entry;
    const columns = columnsOf({ ...entry, reportFolder: null });
    const names = Object.keys(columns);
    const document = pack(run);
    const packedSeries = series === null ? null : pack(series);
    return this.database.change(() => {
      const earlier = once && settingsKey !== null ? this.idOf(run.clip.sha256, settingsKey) : null;
      if (earlier !== null)
        return { id: earlier, replaced: this.claimed(earlier, reportFolder), already: true };
      const answer = this.database.first(
        `INSERT INTO run (${names.join(', ')}) VALUES (${names.map(() => '?').join(', ')}) RETURNING id`,
        Object.values(columns),
      );
      const id = Number(answer?.['id']);
      this.database.run(
        'INSERT INTO stored (run_id, document, series, thumbnail, picture) VALUES (?, ?, ?, ?, ?)',
        [id, document, packedSeries, thumbnail, picture],
      );
      for (const name of new Set(run.pass.tags))
        this.database.run('INSERT INTO tag (run_id, name) VALUES (?, ?)', [id, name]);
      return { id, replaced: this.claimed(id, reportFolder) };
    });
  }

  private claimed(id: number, folder: string | null): number[] {
    return folder === null ? [] : this.claimFolder(id, folder);
  }

  /** The folder belongs to this run from now on. @returns the runs that it belonged to */
  private claimFolder(id: number, folder: string): number[] {
    const before = this.database.all('SELECT id FROM run WHERE report_folder = ? AND id <> ?', [folder, id]);
    this.database.run('UPDATE run SET report_folder = NULL WHERE report_folder = ?', [folder]);
    this.database.run('UPDATE run SET report_folder = ? WHERE id = ?', [folder, id]);
    return before.map((row) => Number(row['id']));
  }

  private writeTags(id: number, tags: readonly string[]): void {
    checkSheet({ tags });
    this.database.run('DELETE FROM tag WHERE run_id = ?', [id]);
    for (const name of tags) this.database.run('INSERT INTO tag (run_id, name) VALUES (?, ?)', [id, name]);
  }

  private pictureIn(column: 'thumbnail' | 'picture', id: number): Uint8Array | null {
    this.row(id);
    return bytesOf(
      this.told(() => this.database.first(`SELECT ${column} FROM stored WHERE run_id = ?`, [id])),
      column,
    );
  }

  private row(id: number): LogRow {
    const [row] = this.list({ ids: [id] });
    if (row) return row;
    const newest = this.told(() => this.database.first('SELECT max(id) AS id FROM run'))?.['id'];
    throw new TrundleError(
      'log-entry-unknown',
      `There is no run ${id} in the log${newest ? `; the newest is ${Number(newest)}` : ', which is empty'}. See trundle log.`,
    );
  }

  private changing<T>(work: () => T): T {
    return this.told(() => this.database.change(work));
  }

  private told<T>(work: () => T): T {
    try {
      return work();
    } catch (error) {
      if (!(error instanceof DamagedError)) throw error;
      throw new TrundleError(
        'log-damaged',
        `The log "${this.file}" is damaged and this cannot be read from it; move the file away to begin a new one.`,
        { cause: error },
      );
    }
  }
}

function bytesOf(row: Row | undefined, name: string): Uint8Array | null {
  const value = row?.[name];
  return value instanceof Uint8Array ? value : null;
}

function checkSheet(sheet: unknown): ReturnType<typeof passSheetSchema.parse> {
  const result = passSheetSchema.safeParse(sheet);
  if (result.success) return result.data;
  const [{ path }] = result.error.issues;
  if (path[0] === 'passNumber')
    throw new TrundleError(
      'argument-invalid',
      'The number of the pass must be a whole number from 1 to 9999.',
    );
  throw new TrundleError(
    'argument-invalid',
    `"${path.join('.')}" of the sheet will not do: it is a few words, at most 200 characters (notes 4000, 50 tags).`,
  );
}
