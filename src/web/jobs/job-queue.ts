/**
 * The queue of measurements and proofs: some at once, each in a process of its own, the rest in turn. It outlives the page, and what waits or
 * runs outlives the program.
 */
import path from 'node:path';
import { LOG_FILE, isInDataFolder, openLog } from '../../log/index.js';
import { TrundleError } from '../../run/index.js';
import { readSettings } from '../../settings/index.js';
import { dataTexts, jobTexts } from '../../texts/index.js';
import type { Job, JobOrder, Settings } from '../api.js';
import type { ClipLookup, WebContext } from '../server/context.js';
import type { PageEvent } from '../server/event-stream.js';
import { WebProblem, problemOf } from '../server/problem.js';
import type { KeptFile } from '../kept-file.js';
import { JobRecord, type JobClip } from './job-record.js';
import { keptQueue, type KeptJob } from './kept-queue.js';
import type { FromWorker, Task } from './protocol.js';
import { clearHalfWritten } from './report-folder.js';
import { Telling } from './telling.js';
import { startWorker, type WorkerMeans } from './work-process.js';

/** Jobs that have ended and stay on the list; older ones go. */
const MOST_ENDED = 50;
/** Jobs that wait at most: a full card is some hundred clips. */
const MOST_WAITING = 500;
/** Time left goes down though nothing is heard, ms. */
const TICK_MS = 1000;

/** A job during which the program ended so often is not begun again by itself. */
const MOST_CRASHES = 2;

/** Where settings that were measured with are remembered. */
export interface SetupMemory {
  remember(settings: Settings): void | Promise<void>;
}

/** The queue. */
export interface JobQueue {
  /**
   * Takes an order in.
   * @throws WebProblem `clip-unknown`, `queue-full`; TrundleError of the settings, of the log, and `run-invalid` where a run has no series
   */
  add(order: JobOrder): Job;
  /** Begins with what an earlier program left. */
  goOn(): void;
  /** In the order in which they came. */
  list(): readonly Job[];
  /** Stops one that waits or runs; takes one that has ended off the list. @throws WebProblem 404 `job-unknown` */
  stop(id: string): void;
  /** What a page is told that connects: all jobs, then last look and trace so far of those that run. */
  snapshot(): readonly PageEvent[];
  /** Resolves when what was asked until now is safe on the disk; a disk that takes nothing is told of in a warning of the process. */
  saved(): Promise<void>;
  /** Stops all work; resolves when no worker is left. What waited or ran is kept for the next time. */
  close(): Promise<void>;
}

/**
 * Opens the queue of the data folder with what an earlier program left in it. What that one was at will begin anew; what it ended in the
 * middle of twice without a word is told as failed.
 * @throws TrundleError `output-unwritable` where the file of the queue may not be read
 */
export async function openJobs(
  context: WebContext,
  clips: ClipLookup,
  setups: SetupMemory,
  means: WorkerMeans = {},
): Promise<JobQueue> {
  const file = keptQueue(context.dataDir);
  const kept = (await file.read()) ?? [];
  for (const { writing } of kept) if (writing) await clearHalfWritten(writing.folder, writing.made);
  return new Queue(context, clips, setups, means, file, kept);
}

class Queue implements JobQueue {
  readonly #jobs: JobRecord[] = [];
  readonly #telling = new Telling((id) => this.#publish(id));
  readonly #ticks: NodeJS.Timeout;
  /** One for each job that runs: resolved when its process is gone and all is told. */
  readonly #working = new Map<string, Promise<void>>();
  #closed = false;
  #saving: Promise<void> = Promise.resolve();
  /** The disk takes the queue; told once when it does not. */
  #isSafe = true;

  constructor(
    private readonly context: WebContext,
    private readonly clips: ClipLookup,
    private readonly setups: SetupMemory,
    private readonly means: WorkerMeans,
    private readonly file: KeptFile<readonly KeptJob[]>,
    kept: readonly KeptJob[],
  ) {
    this.#ticks = setInterval(() => this.#tick(), TICK_MS);
    this.#ticks.unref();
    this.#jobs.push(...kept.map(takenUp));
  }

  goOn(): void {
    if (this.#jobs.length > 0) void this.#save();
    this.#startNext();
  }

  add(order: JobOrder): Job {
    if (this.#closed) throw new WebProblem(503, 'closing', jobTexts.closing);
    if (this.#jobs.filter(({ state }) => state === 'queued').length >= MOST_WAITING)
      throw new WebProblem(503, 'queue-full', jobTexts.queueFull);
    const record = new JobRecord(order, this.#checked(order));
    this.#jobs.push(record);
    if (order.kind === 'measure') void this.#remember(order.settings);
    void this.#save();
    this.#startNext();
    if (record.state === 'queued') this.#telling.now(record.id);
    return this.#told(record);
  }

  list(): readonly Job[] {
    return this.#jobs.map((record) => this.#told(record));
  }

  stop(id: string): void {
    const record = this.#jobs.find((one) => one.id === id);
    if (!record) throw new WebProblem(404, 'job-unknown', jobTexts.jobUnknown);
    if (record.hasEnded) return this.#takeOff(record);
    if (record.state === 'running') {
      record.stopping = true;
      void this.#save();
      record.worker?.stop();
      return;
    }
    record.cancel();
    this.#ended(record);
  }

  snapshot(): readonly PageEvent[] {
    const running = this.#jobs.filter(({ state }) => state === 'running');
    return [
      ['jobs', this.list()],
      ...running.flatMap(({ look, trace }): PageEvent[] => {
        const whole = trace.whole();
        return [...(look ? [['look', look] as const] : []), ...(whole ? [['trace', whole] as const] : [])];
      }),
    ];
  }

  saved(): Promise<void> {
    return this.#saving;
  }

  async close(): Promise<void> {
    this.#closed = true;
    clearInterval(this.#ticks);
    for (const record of this.#jobs.filter(({ state }) => state === 'running')) {
      record.leaving = true;
      record.worker?.stop();
    }
    await Promise.all(this.#working.values());
    await this.#save();
    for (const { id } of this.#jobs) this.#telling.forget(id);
  }

  /** What an order is about. @throws as `add` */
  #checked(order: JobOrder): JobClip {
    if (order.kind === 'measure') {
      const { id, name } = this.clips.find(order.clip);
      readSettings(order.settings, { presets: this.context.presets });
      return { clip: id, clipName: name };
    }
    if (!isInDataFolder(this.#logFile)) throw new TrundleError('log-entry-unknown', jobTexts.noLog);
    const log = openLog(this.#logFile);
    try {
      const [row] = log.rows([order.run]);
      if (!row.hasSeries) throw new TrundleError('run-invalid', jobTexts.seriesMissing(order.run));
      return { clip: null, clipName: row.clipFile };
    } finally {
      log.close();
    }
  }

  get #logFile(): string {
    return path.join(this.context.dataDir, LOG_FILE);
  }

  /** A setup that cannot be remembered has to be typed again, no more. */
  async #remember(settings: Settings): Promise<void> {
    try {
      await this.setups.remember(settings);
    } catch (error) {
      process.emitWarning(error instanceof Error ? error : String(error));
    }
  }

  /** Keeps what waits or runs, and what was given up; never throws. */
  #save(): Promise<void> {
    const kept = (): readonly KeptJob[] =>
      this.#jobs
        .filter((record) => (record.hasEnded ? isGivenUp(record) : !record.stopping))
        .map((record) => record.kept());
    this.#saving = this.file.write(kept).then(
      () => void (this.#isSafe = true),
      (error: unknown) => {
        if (this.#isSafe)
          process.emitWarning(dataTexts.queueNotKept(error instanceof Error ? error.message : String(error)));
        this.#isSafe = false;
      },
    );
    return this.#saving;
  }

  #startNext(): void {
    while (!this.#closed && this.#working.size < this.context.atOnce) {
      const record = this.#jobs.find(({ state }) => state === 'queued');
      if (!record) return;
      record.begin();
      this.#telling.now(record.id);
      const work = this.#run(record).finally(() => {
        this.#working.delete(record.id);
        this.#ended(record);
      });
      this.#working.set(record.id, work);
    }
  }

  /** Runs one job to its end, whatever that is; never throws. */
  async #run(record: JobRecord): Promise<void> {
    try {
      const task = await this.#taskOf(record);
      // A crash of the whole program must find it written that this job ran.
      await this.#save();
      if (record.stopping || record.leaving) return leave(record);
      record.worker = startWorker(task, (message) => this.#hear(record, message), this.means);
      const { mute } = await record.worker.ended;
      if (record.result?.kind !== 'done') await this.#clear(record);
      await this.#conclude(record, mute);
    } catch (error) {
      record.fail(problemOf(error));
    }
  }

  /** @throws WebProblem when the clip is not there any more */
  async #taskOf({ order }: JobRecord): Promise<Task> {
    const { outDir, tools, threads, presets } = this.context;
    const means = { logFile: this.#logFile, outDir, tools, threads };
    if (order.kind === 'measure') {
      const { path: clip, name } = this.clips.find(order.clip);
      return { kind: 'measure', ...means, clip, name, settings: order.settings, presets };
    }
    const log = openLog(this.#logFile);
    const [{ clipSha256, clipFile }] = ((): ReturnType<typeof log.rows> => {
      try {
        return log.rows([order.run]);
      } finally {
        log.close();
      }
    })();
    const known = await this.clips.ofSha256(clipSha256);
    if (!known) throw new WebProblem(404, 'clip-missing', jobTexts.clipOfRunMissing(clipFile));
    return { ...order, ...means, clip: known.path };
  }

  #hear(record: JobRecord, message: FromWorker): void {
    const { events } = this.context;
    switch (message.kind) {
      case 'progress':
        record.progress(message);
        return this.#telling.soon(record.id);
      case 'look':
        record.look = { job: record.id, ...message.look };
        return events.publish('look', record.look);
      case 'trace': {
        const news = record.trace.add(message.samples);
        if (news) events.publish('trace', news);
        return;
      }
      case 'writing':
        record.writing = message;
        void this.#save();
        return;
      case 'done':
      case 'failed':
        record.result = message;
    }
  }

  /** Says what became of a job whose process is gone. */
  async #conclude(record: JobRecord, mute: boolean): Promise<void> {
    const { result, order, stopping } = record;
    if (result?.kind === 'done') {
      const { outcome } = result;
      if (order.kind === 'measure' && outcome.sha256 !== null)
        await this.#noteClip(order.clip, outcome.sha256);
      record.finish(outcome);
      if (outcome.changed.length > 0) this.context.events.publish('log', { runs: outcome.changed });
    } else if (stopping || record.leaving || result?.problem.code === 'interrupted') leave(record);
    else if (result) record.fail(result.problem);
    else
      record.fail(
        problemOf(new WebProblem(500, 'worker-died', mute ? jobTexts.workerMute : jobTexts.workerDied)),
      );
  }

  /** A clip that was taken off the list meanwhile needs no note. */
  async #noteClip(clip: string, sha256: string): Promise<void> {
    try {
      await this.clips.remember(clip, sha256);
    } catch (error) {
      if (!(error instanceof WebProblem)) process.emitWarning(error instanceof Error ? error : String(error));
    }
  }

  async #clear({ writing }: JobRecord): Promise<void> {
    if (writing) await clearHalfWritten(writing.folder, writing.made);
  }

  #ended(record: JobRecord): void {
    this.#telling.now(record.id);
    void this.#save();
    this.#startNext();
    for (const { id, state } of this.#jobs) if (state === 'queued') this.#telling.now(id);
    const ended = this.#jobs.filter(({ hasEnded }) => hasEnded);
    for (const old of ended.slice(0, Math.max(0, ended.length - MOST_ENDED))) this.#takeOff(old);
  }

  #takeOff(record: JobRecord): void {
    this.#jobs.splice(this.#jobs.indexOf(record), 1);
    if (isGivenUp(record)) void this.#save();
    this.#telling.forget(record.id);
    this.context.events.publish('gone', { job: record.id });
  }

  #tick(): void {
    for (const record of this.#jobs)
      if (record.state === 'running' && record.measureUp()) this.#telling.soon(record.id);
  }

  #publish(id: string): void {
    const record = this.#jobs.find((one) => one.id === id);
    if (record) this.context.events.publish('job', this.#told(record));
  }

  /** Jobs before one that waits: those that run, and those that came earlier. */
  #told(record: JobRecord): Job {
    if (record.state !== 'queued') return record.told(0);
    const before = this.#jobs.slice(0, this.#jobs.indexOf(record));
    const running = this.#jobs.filter(({ state }) => state === 'running').length;
    return record.told(running + before.filter(({ state }) => state === 'queued').length);
  }
}

/** A job of an earlier program as it is now. */
function takenUp(kept: KeptJob): JobRecord {
  const crashes = kept.crashes + (kept.isRunning ? 1 : 0);
  const record = new JobRecord(kept.order, kept, { ...kept, crashes, isAnew: kept.isAnew || kept.isRunning });
  if (crashes >= MOST_CRASHES)
    record.fail(problemOf(new WebProblem(500, 'ended-twice', jobTexts.endedTwice)));
  return record;
}

/** It has failed by ending the program; it stays with its sentence until somebody takes it off. */
function isGivenUp({ crashes }: JobRecord): boolean {
  return crashes >= MOST_CRASHES;
}

/** A job whose worker was stopped: by somebody who does not want it, or by the end of the program. */
function leave(record: JobRecord): void {
  if (record.leaving && !record.stopping) record.postpone();
  else record.cancel();
}
