/** The runs of the log for the page: listed with what the server knows of their clips, described, removed, and their reports. */
import os from 'node:os';
import { logFile, type LogQuery, type LogRow, type LoggedRun, type RunLog } from '../../log/index.js';
import type { RunList, RunRow, StoredRun } from '../api.js';
import type { ClipLookup, WebContext } from '../server/context.js';
import { WebProblem } from '../server/problem.js';
import { KnownClips } from './known-clips.js';
import { OpenedLog } from './opened-log.js';
import type { CheckedChange } from './requests.js';
import { RunReports } from './run-reports.js';

/** Opens the log for the page; one that is not there is not made. Closed by `close`, or when the server closes. */
export function openRuns(context: WebContext, clips: ClipLookup): Runs {
  return new Runs(context, clips);
}

/** The log of one server. Every method throws TrundleError with the codes of the log besides what it names. */
export class Runs {
  /** Folder of the log. */
  readonly dataDir: string;
  readonly reports: RunReports;
  private readonly log: OpenedLog;
  private readonly known: KnownClips;

  constructor(
    private readonly context: WebContext,
    private readonly clips: ClipLookup,
  ) {
    this.dataDir = context.dataDir;
    const file = logFile(context.dataDir, process.env, process.platform, os.homedir());
    this.log = new OpenedLog(file, ({ code, text }) => process.emitWarning(text, { code }));
    this.known = new KnownClips(clips);
    this.reports = new RunReports(this, context.outDir);
    context.signal.addEventListener('abort', () => this.close(), { once: true });
  }

  /** The runs that a question finds, newest first, with what there is to ask for. */
  async list(query: LogQuery): Promise<RunList> {
    const log = this.log.get();
    const rows = log?.list(query) ?? [];
    const { runs: all = 0, names = {}, tags = [] } = log?.overview() ?? {};
    const known = await this.known.among(rows.map(({ clipSha256 }) => clipSha256));
    const runs = rows.map((row) => ({ ...row, clipKnown: known.has(row.clipSha256) }));
    return { runs, all, names, tags };
  }

  /** Runs as the log lists them, in the order asked for. @throws WebProblem 404 when one is not there */
  rows(ids: readonly number[]): LogRow[] {
    const log = this.log.get();
    const rows = log?.list({ ids }) ?? [];
    const missing = ids.filter((id) => !rows.some((row) => row.id === id));
    if (log === null || missing.length > 0) notThere(missing);
    return ids.flatMap((id) => rows.filter((row) => row.id === id));
  }

  /** One run as the log lists it. @throws WebProblem 404 */
  row(id: number): LogRow {
    return this.rows([id])[0];
  }

  /** One run as a whole. @throws WebProblem 404; TrundleError `log-entry-unreadable` for one of another version */
  get(id: number): LoggedRun {
    return this.logOf([id]).get(id);
  }

  /** One run for questions in the browser. @throws as `get` */
  async stored(id: number): Promise<StoredRun> {
    const { row, run, series } = this.get(id);
    const clip = await this.clips.ofSha256(row.clipSha256);
    return { row: await this.listed(row), run, series, clip: clip?.id ?? null };
  }

  /** The small picture of a run. @throws WebProblem 404 when there is no such run, or none was kept */
  thumbnail(id: number): Uint8Array {
    return this.logOf([id]).thumbnail(id) ?? noPicture(id);
  }

  /** The frame of the report. @throws as `thumbnail` */
  picture(id: number): Uint8Array {
    return this.logOf([id]).picture(id) ?? noPicture(id);
  }

  /** Writes on the sheet of a run and changes its tags, all or nothing. @throws WebProblem 404; TrundleError `argument-invalid` */
  async change(id: number, { sheet, addTags, removeTags }: CheckedChange): Promise<RunRow> {
    const row = this.logOf([id]).rewrite(id, sheet, addTags, removeTags);
    this.context.events.publish('log', { runs: [id] });
    return await this.listed(row);
  }

  /** Takes runs out of the log, all or none; report folders stay, copies of clips that no run needs any more go. @throws WebProblem 404 */
  async remove(ids: readonly number[]): Promise<number[]> {
    const log = this.logOf(ids);
    const gone = log.remove(ids);
    const removed = gone.map(({ id }) => id);
    this.context.events.publish('log', { runs: removed });
    await this.#forgetClips(log, [...new Set(gone.map(({ clipSha256 }) => clipSha256))]);
    return removed;
  }

  /** Copies that no run needs any more go. The runs are gone by now: a copy that stays costs room, no more. */
  async #forgetClips(log: RunLog, sha256s: readonly string[]): Promise<void> {
    try {
      const unused = sha256s.filter(
        (sha256) => !log.list({ clip: sha256 }).some((row) => row.clipSha256 === sha256),
      );
      if (unused.length > 0) await this.clips.forget(unused);
    } catch (error) {
      process.emitWarning(error instanceof Error ? error : String(error));
    }
  }

  /** Ends the use of the log; a second time does nothing. */
  close(): void {
    this.log.close();
  }

  private async listed(row: LogRow): Promise<RunRow> {
    return { ...row, clipKnown: await this.known.ask(row.clipSha256) };
  }

  /** The log, in which these runs are. */
  private logOf(ids: readonly number[]): RunLog {
    this.rows(ids);
    const log = this.log.get();
    if (log === null) notThere(ids);
    return log;
  }
}

function notThere(ids: readonly number[]): never {
  throw new WebProblem(
    404,
    'log-entry-unknown',
    `There is no run ${ids.join(' or ')} in the log; perhaps it was removed.`,
  );
}

function noPicture(id: number): never {
  throw new WebProblem(404, 'picture-missing', `Run ${id} was kept without a picture.`);
}
