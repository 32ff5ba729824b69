/**
 * The side of a worker: takes clips out of the queue, measures each in a process of its own and hands the result over. While it lives it
 * says so for every clip it has; a clip whose worker is silent goes to another one.
 */
import { setTimeout as sleep } from 'node:timers/promises';
import type { Job, Worker } from 'bullmq';
import type { Redis } from 'ioredis';
import { jobKey, settingsKey } from '../batch/index.js';
import type { WorkMeans } from '../batch/plain.js';
import type { Tools } from '../footage/index.js';
import { TrundleError, clipOrderSchema, type ClipOrder } from '../run/index.js';
import { queueTexts } from '../texts/index.js';
import { asQueueFailure, connect, disconnect } from './connect.js';
import { changed, clearFetched, clipHere } from './clip-here.js';
import type { ClipRules } from './clip-rules.js';
import { loadEngine, type Engine } from './engine.js';
import { isFinal, writeFailure } from './failures.js';
import { measureApart } from './measure-apart.js';
import { PREFIX } from './names.js';
import type { RedisAddress } from './redis-address.js';
import { Results } from './results.js';
import type { WorkProgress } from './status.js';

/** A worker that was silent for so long has lost its clips to others, ms. */
export const USUAL_LOCK_MS = 60_000;
/** A clip whose worker died so often is given up: it may be what kills them. */
const MOST_DEATHS = 3;
/** Least time between two words to the queue on how far a clip is, ms. */
const PROGRESS_MS = 2000;
/** How often it is looked whether the queue is empty, ms. */
const LOOK_MS = 500;
/** Without Redis the end is not waited for longer than this, ms. */
const LAST_MS = 5000;

/** What a worker works with. */
export interface WorkOptions {
  readonly address: RedisAddress;
  readonly queue: string;
  /** Name that it goes by in lists: machine and process. */
  readonly name: string;
  readonly rules: ClipRules;
  /** Folder for fetched clips while they are measured. */
  readonly tempFolder: string;
  /** Clips at once. */
  readonly atOnce: number;
  /** Threads of each measurement. */
  readonly threads: number;
  readonly lockMs?: number;
  readonly tools: Tools;
  /** Ends by itself when no clip waits, runs anywhere, or is tried again later. */
  readonly untilEmpty?: boolean;
  /** Raised for a graceful end: no new clip, those under way are finished. */
  readonly signal: AbortSignal;
  /** Raised when those under way are to be given back at once. */
  readonly giveBack: AbortSignal;
  readonly onEvent?: (event: WorkEvent) => void;
  /** How a measurement is started; for tests. */
  readonly means?: Partial<WorkMeans>;
}

/** What a worker tells of its work. */
export type WorkEvent =
  | { readonly kind: 'ready' }
  | { readonly kind: 'begun'; readonly name: string }
  | { readonly kind: 'measured'; readonly name: string; readonly grade: string; readonly tookS: number }
  | {
      readonly kind: 'failed';
      readonly name: string;
      readonly reason: string;
      /** Whether it is tried again. */
      readonly again: boolean;
    }
  | { readonly kind: 'returned'; readonly name: string }
  /** A sentence on the connection. */
  | { readonly kind: 'note'; readonly sentence: string };

/** What a worker has done. */
export interface WorkSummary {
  readonly measured: number;
  /** Tries that failed, final or not. */
  readonly failed: number;
  readonly returned: number;
}

/**
 * Works until the signal is raised or, when asked, the queue is empty.
 * @throws TrundleError `queue-engine-missing`, `queue-unreachable`, `queue-unfit`; failures of clips are told in events and in the queue
 */
export async function work(options: WorkOptions): Promise<WorkSummary> {
  const engine = await loadEngine();
  const { address, tempFolder, onEvent = () => {} } = options;
  const onNote = (sentence: string): void => onEvent({ kind: 'note', sentence });
  const redis = await connect(engine, address, { patienceMs: null, onNote });
  await clearFetched(tempFolder);
  const shift = new Shift(options, engine, redis);
  try {
    return await shift.untilEnd();
  } catch (error) {
    throw asQueueFailure(error, address);
  } finally {
    await disconnect(redis);
  }
}

/** One worker from its start to its end. */
class Shift {
  readonly #results: Results;
  readonly #worker: Worker<ClipOrder>;
  readonly #underWay = new Set<string>();
  readonly #counts = { measured: 0, failed: 0, returned: 0 };

  constructor(
    private readonly options: WorkOptions,
    private readonly engine: Engine,
    private readonly redis: Redis,
  ) {
    const { queue, name, atOnce, lockMs = USUAL_LOCK_MS } = options;
    this.#results = new Results(redis, queue);
    this.#worker = new engine.Worker<ClipOrder>(queue, (job, token) => this.#serve(job, token), {
      ...{ connection: redis, prefix: PREFIX, skipVersionCheck: true, autorun: false },
      ...{ name, concurrency: atOnce, lockDuration: lockMs, stalledInterval: lockMs / 2 },
      ...{ maxStalledCount: MOST_DEATHS, runRetryDelay: 1000 },
    });
    this.#worker.on('error', (error) => this.#note(error));
  }

  async untilEnd(): Promise<WorkSummary> {
    const { signal, giveBack, untilEmpty, onEvent = () => {} } = this.options;
    const running = this.#worker.run();
    onEvent({ kind: 'ready' });
    const over = new AbortController();
    const ends = [raised(signal), ...(untilEmpty ? [this.#untilEmpty(over.signal)] : [])];
    try {
      await Promise.race([...ends, running]);
    } finally {
      over.abort();
    }
    // Takes no new clip, and resolves when those under way are done or given back.
    const closing = this.#worker.close();
    const last = raised(giveBack).then(() => sleep(LAST_MS, undefined, { ref: false }));
    await Promise.race([closing, last]);
    await running.catch(() => undefined);
    return { ...this.#counts };
  }

  async #untilEmpty(over: AbortSignal): Promise<void> {
    const { Queue } = this.engine;
    const queue = new Queue(this.options.queue, {
      ...{ connection: this.redis, prefix: PREFIX, skipVersionCheck: true },
    });
    queue.on('error', () => undefined);
    try {
      for (; !over.aborted; await sleep(LOOK_MS, undefined, { signal: over }).catch(() => undefined)) {
        const counts = await queue.getJobCounts('wait', 'prioritized', 'delayed', 'active');
        if (Object.values(counts).every((count) => count === 0)) return;
      }
    } finally {
      await queue.close().catch(() => undefined);
    }
  }

  /** Carries one job out, as the engine asks: what it throws decides what becomes of the job. */
  async #serve(job: Job<ClipOrder>, token: string | undefined): Promise<{ readonly grade: string | null }> {
    const { onEvent = () => {}, giveBack } = this.options;
    const startedMs = performance.now();
    let name = '?';
    try {
      const order = checked(job);
      name = order.name;
      this.#underWay.add(name);
      // Measured by a worker that was taken for dead, or that ended before it could say so.
      if (await this.#results.has(job.id ?? '')) return { grade: null };
      onEvent({ kind: 'begun', name });
      const grade = await this.#measure(job, order);
      this.#counts.measured++;
      onEvent({ kind: 'measured', name, grade, tookS: (performance.now() - startedMs) / 1000 });
      return { grade };
    } catch (error) {
      if (giveBack.aborted) {
        await job.moveToWait(token);
        this.#counts.returned++;
        onEvent({ kind: 'returned', name });
        throw new this.engine.WaitingError();
      }
      this.#counts.failed++;
      const again = !isFinal(error) && job.attemptsMade + 1 < (job.opts.attempts ?? 1);
      const reason = writeFailure(error);
      onEvent({ kind: 'failed', name, reason, again });
      throw isFinal(error) ? new this.engine.UnrecoverableError(reason) : new Error(reason);
    } finally {
      this.#underWay.delete(name);
    }
  }

  async #measure(job: Job<ClipOrder>, order: ClipOrder): Promise<string> {
    const { rules, tempFolder, tools, threads, name: worker, giveBack: signal, means } = this.options;
    const tell = progressTeller(job);
    const clip = await clipHere(order, rules, {
      ...{ tempFolder, signal },
      onProgress: (done) => tell({ stage: 'fetch', done, total: order.sizeBytes }),
    });
    try {
      const { packed, sha256, grade } = await measureApart(
        { file: clip.file, order, tools, threads, worker },
        ({ stage, done, total }) => tell({ stage, done, total }),
        signal,
        means,
      );
      if (sha256 !== order.sha256) throw changed(order.name);
      await this.#results.put(job.id ?? '', packed);
      return grade;
    } finally {
      await clip.done();
    }
  }

  #note(error: Error): void {
    const { address, onEvent = () => {} } = this.options;
    const told = asQueueFailure(error, address);
    // A broken connection is told of once, by whoever sees it first.
    if (told instanceof TrundleError && told.code === 'queue-unreachable') return;
    // The clip went to another worker, which finds the result of this one or gives the same.
    const isLost = /lock|not in the active state/i.test(error.message);
    onEvent({ kind: 'note', sentence: isLost ? queueTexts.takenOver : writeFailure(told) });
  }
}

/**
 * The order of a job, read as text of others.
 * @throws TrundleError `order-unreadable` where another version wrote it, or somebody else
 */
function checked({ id, data }: Job<ClipOrder>): ClipOrder {
  const read = clipOrderSchema.safeParse(data);
  if (read.success) {
    const key = settingsKey(read.data.request);
    if (key === read.data.settingsKey && jobKey(read.data.sha256, key) === id) return read.data;
  }
  throw new TrundleError(
    'order-unreadable',
    'The order was written by another version of the program; bring this machine and the one with the log to the same version.',
  );
}

/** Tells the queue how far a job is, not more often than anybody looks; what does not arrive is no loss. */
function progressTeller(job: Job<ClipOrder>): (progress: WorkProgress) => void {
  let toldMs = -Infinity;
  return (progress) => {
    if (performance.now() - toldMs < PROGRESS_MS) return;
    toldMs = performance.now();
    job.updateProgress(progress).catch(() => undefined);
  };
}

function raised(signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    if (signal.aborted) resolve();
    else signal.addEventListener('abort', () => resolve(), { once: true });
  });
}
