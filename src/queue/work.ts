/**
 * The side of a worker: takes clips out of the queue, measures each in a process of its own and hands the result over. While it lives it
 * says so for every clip it has; a clip whose worker is silent goes to another one.
 */
import { setTimeout as sleep } from 'node:timers/promises';
import type { Job, Queue, Worker } from 'bullmq';
import type { Redis } from 'ioredis';
import type { WorkMeans } from '../batch/plain.js';
import type { StretchLimits } from '../follow-stretches.js';
import type { Tools } from '../footage/index.js';
import { TrundleError } from '../run/index.js';
import { queueTexts } from '../texts/index.js';
import { asQueueFailure, connect, disconnect, isAbsent, isFull, isRefusal } from './connect.js';
import { CarryOut, type Turn } from './carry-out.js';
import { clearFetched } from './clip-here.js';
import type { ClipRules } from './clip-rules.js';
import { loadEngine, type Engine } from './engine.js';
import { NotForThisWorker, isFinal, writeFailure } from './failures.js';
import { PREFIX, clipJobOf } from './names.js';
import { FULL_AGAIN_MS, Patience } from './patience.js';
import { nameOf, orderOfJob, type QueuedOrder } from './queued-order.js';
import { shownAddress, type RedisAddress } from './redis-address.js';
import { clipOf, leftOf, type LeftToOthers, type QueuedClip } from './status.js';

/** A worker that was silent for so long has lost its clips to others, ms. */
export const USUAL_LOCK_MS = 60_000;
/** A clip whose worker died so often is given up: it may be what kills them. */
const MOST_DEATHS = 3;
/** How often a clip that waits for its stretches looks after them, ms; the last stretch calls it at once. */
const STRETCH_LOOK_MS = 10_000;
/** For so long a clip that this worker left to others is not looked at again by any, ms. */
const LEFT_MS = 10_000;
/** How often it is looked whether the queue is empty, ms. */
const LOOK_MS = 500;
/** How often it is looked whether Redis is there by now, ms. */
const ABSENT_MS = 2000;
/** Without Redis the end is not waited for longer than this, ms. */
const LAST_MS = 5000;

/** States of jobs that are not at their end. */
const THERE = ['wait', 'prioritized', 'delayed', 'active'] as const;

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
  /** Ends by itself when no clip waits, runs anywhere, or is tried again later, besides those that this worker has left to others. */
  readonly untilEmpty?: boolean;
  /** Raised for a graceful end: no new clip, those under way are finished. */
  readonly signal: AbortSignal;
  /** Raised when those under way are to be given back at once. */
  readonly giveBack: AbortSignal;
  readonly onEvent?: (event: WorkEvent) => void;
  /** How long a clip rests that was left to others, ms; for tests. */
  readonly leftMs?: number;
  /** How long clips are cut; for tests. */
  readonly limits?: StretchLimits;
  /** How a measurement is started; for tests. */
  readonly means?: Partial<WorkMeans>;
}

/** What a worker tells of its work. */
export type WorkEvent =
  | { readonly kind: 'ready' }
  | { readonly kind: 'begun'; readonly name: string }
  | { readonly kind: 'measured'; readonly name: string; readonly verdict: string; readonly tookS: number }
  /** Of a long clip, by the name of clip and stretch. */
  | { readonly kind: 'stretch'; readonly name: string; readonly tookS: number }
  | {
      readonly kind: 'failed';
      readonly name: string;
      readonly place: string;
      readonly reason: string;
      /** Whether it is tried again. */
      readonly again: boolean;
    }
  | { readonly kind: 'returned'; readonly name: string }
  /** This worker may not read it; told once of each. */
  | { readonly kind: 'left'; readonly name: string; readonly place: string; readonly reason: string }
  /** A sentence on the connection. */
  | { readonly kind: 'note'; readonly sentence: string };

/** What a worker has done. */
export interface WorkSummary {
  readonly measured: number;
  /** Tries that failed, final or not. */
  readonly failed: number;
  readonly returned: number;
  /** Clips and stretches that this worker may not read and has left to others. */
  readonly left: number;
}

/**
 * Works until the signal is raised or, when asked, the queue is empty. A Redis that is not there yet is waited for, unless it is to end by
 * itself.
 * @throws TrundleError `queue-engine-missing`, `queue-unreachable`, `queue-unfit`; failures of clips are told in events and in the queue
 */
export async function work(options: WorkOptions): Promise<WorkSummary> {
  const engine = await loadEngine();
  const { address, tempFolder } = options;
  const redis = await connected(engine, options);
  if (redis === null) return { measured: 0, failed: 0, returned: 0, left: 0 };
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

/** The connection, waited for where Redis is not there yet; null where the end came first. */
async function connected(engine: Engine, options: WorkOptions): Promise<Redis | null> {
  const { address, signal, untilEmpty, onEvent = () => {} } = options;
  const onNote = (sentence: string): void => onEvent({ kind: 'note', sentence });
  for (let isTold = false; !signal.aborted; isTold = true) {
    try {
      return await connect(engine, address, { patienceMs: null, onNote });
    } catch (error) {
      if (untilEmpty || !(error instanceof TrundleError) || !isAbsent(error)) throw error;
      const { code = '' } = error.cause as NodeJS.ErrnoException;
      if (!isTold) onNote(queueTexts.notYet(shownAddress(address), code));
      await sleep(ABSENT_MS, undefined, { signal }).catch(() => undefined);
    }
  }
  return null;
}

/** One worker from its start to its end. */
class Shift {
  readonly #queue: Queue<QueuedOrder>;
  readonly #carryOut: CarryOut;
  readonly #worker: Worker<QueuedOrder>;
  readonly #counts = { measured: 0, failed: 0, returned: 0 };
  /** Jobs that were left to others and not measured here since. */
  readonly #left = new Set<string>();
  /** Jobs that others have taken over. */
  readonly #lost = new Set<string>();
  readonly #patience: Patience;
  #rest: NodeJS.Timeout | undefined;
  /** What Redis refused last, until it gives a job again. */
  #refused = '';

  constructor(
    private readonly options: WorkOptions,
    private readonly engine: Engine,
    private readonly redis: Redis,
  ) {
    const { queue, name, atOnce, lockMs = USUAL_LOCK_MS } = options;
    const shared = { connection: redis, prefix: PREFIX, skipVersionCheck: true };
    this.#queue = new engine.Queue<QueuedOrder>(queue, shared);
    // What fails is thrown where it was asked.
    this.#queue.on('error', () => undefined);
    this.#patience = new Patience(options.giveBack, () =>
      this.#say(queueTexts.fullHolds(shownAddress(options.address))),
    );
    this.#carryOut = new CarryOut(options, redis, this.#queue, this.#patience);
    this.#worker = new engine.Worker<QueuedOrder>(queue, (job, token) => this.#serve(job, token), {
      ...{ ...shared, autorun: false },
      ...{ name, concurrency: atOnce, lockDuration: lockMs, stalledInterval: lockMs / 2 },
      ...{ maxStalledCount: MOST_DEATHS, runRetryDelay: 1000 },
    });
    this.#worker.on('error', (error) => this.#onError(error));
  }

  async untilEnd(): Promise<WorkSummary> {
    const { signal, giveBack, untilEmpty, onEvent = () => {} } = this.options;
    // It ends by itself while it rests, too.
    const broken = this.#worker.run().then(() => new Promise<never>(() => {}));
    onEvent({ kind: 'ready' });
    const over = new AbortController();
    const ends = [raised(signal), ...(untilEmpty ? [this.#untilEmpty(over.signal)] : [])];
    try {
      await Promise.race([...ends, broken]);
    } finally {
      over.abort();
      clearTimeout(this.#rest);
    }
    // Takes no new clip, and resolves when those under way are done or given back.
    const closing = this.#worker.close();
    const last = raised(giveBack).then(() => sleep(LAST_MS, undefined, { ref: false }));
    await Promise.race([closing, last]);
    await this.#queue.close().catch(() => undefined);
    return { ...this.#counts, left: this.#left.size };
  }

  async #untilEmpty(over: AbortSignal): Promise<void> {
    for (; !over.aborted; await sleep(LOOK_MS, undefined, { signal: over }).catch(() => undefined)) {
      const counts = await this.#queue.getJobCounts(...THERE);
      const count = Object.values(counts).reduce((sum, some) => sum + some, 0);
      // A long clip is left when a stretch of it is.
      const left = new Set([...this.#left].flatMap((id) => [id, clipJobOf(id)]));
      if (count <= left.size && (await this.#areAmong(left))) return;
    }
  }

  async #areAmong(left: ReadonlySet<string>): Promise<boolean> {
    return (await this.#queue.getRanges([...THERE], 0, -1)).every((id) => left.has(id));
  }

  /** Carries one job out, as the engine asks: what it throws decides what becomes of the job. */
  async #serve(
    job: Job<QueuedOrder>,
    token: string | undefined,
  ): Promise<{ readonly verdict: string } | null> {
    const { onEvent = () => {} } = this.options;
    const startedMs = performance.now();
    let order: QueuedOrder | null = null;
    let turn: Turn;
    this.#refused = '';
    this.#patience.over();
    try {
      const read = (order = orderOfJob(job));
      // A turn that was broken off goes on by what it finds.
      turn = await this.#patience.until(() => this.#carryOut.turn(job, read));
      this.#left.delete(job.id ?? '');
    } catch (error) {
      return this.#afterFailure(error, job, order, token);
    }
    if (turn.kind === 'apart') {
      await this.#patience.until(() => job.moveToDelayed(Date.now() + STRETCH_LOOK_MS, token));
      throw new this.engine.DelayedError();
    }
    if (turn.kind !== 'measured') return null;
    const { verdict } = turn;
    this.#counts.measured++;
    onEvent({
      kind: 'measured',
      name: nameOf(order),
      verdict,
      tookS: (performance.now() - startedMs) / 1000,
    });
    return { verdict };
  }

  /** Gives a job back, tries it again later or gives it up. @returns null where nobody waits for it any more */
  async #afterFailure(
    error: unknown,
    job: Job<QueuedOrder>,
    order: QueuedOrder | null,
    token: string | undefined,
  ): Promise<null> {
    const { onEvent = () => {}, giveBack } = this.options;
    const { name, place } = clipOf(job);
    if (giveBack.aborted) {
      // A Redis that takes nothing lets its lock run out, and then it goes to others.
      await job.moveToWait(token).catch(() => undefined);
      this.#counts.returned++;
      onEvent({ kind: 'returned', name });
      throw new this.engine.WaitingError();
    }
    if (order !== null && 'clipJob' in order && !(await this.#carryOut.isWaitedFor(order))) return null;
    if (error instanceof NotForThisWorker) return this.#leave(error, job, { name, place }, token);
    this.#counts.failed++;
    const again = !isFinal(error) && job.attemptsMade + 1 < (job.opts.attempts ?? 1);
    const reason = writeFailure(error);
    onEvent({ kind: 'failed', name, place, reason, again });
    // Who had left it is no news any more.
    if (leftOf(job) !== null) await this.#patience.until(() => job.updateProgress(0));
    if (!again) await this.#carryOut.givenUp(job, order);
    throw isFinal(error) ? new this.engine.UnrecoverableError(reason) : new Error(reason);
  }

  /** Leaves a job to other workers: no try is counted, and it rests a while so that they come to it. */
  async #leave(
    error: NotForThisWorker,
    job: Job<QueuedOrder>,
    clip: Pick<QueuedClip, 'name' | 'place'>,
    token: string | undefined,
  ): Promise<never> {
    const { onEvent = () => {}, leftMs = LEFT_MS, name: worker } = this.options;
    const id = job.id ?? '';
    const reason = writeFailure(error);
    if (!this.#left.has(id)) onEvent({ kind: 'left', ...clip, reason });
    this.#left.add(id);
    const left: LeftToOthers = { stage: 'left', worker, reason };
    await this.#patience.until(() => job.updateProgress(left));
    await this.#patience.until(() => job.moveToDelayed(Date.now() + leftMs, token));
    throw new this.engine.DelayedError();
  }

  #onError(error: Error): void {
    const told = asQueueFailure(error, this.options.address);
    if (told instanceof TrundleError) return this.#onRefusal(told);
    const [, lost] = /(?:lock for job|Job) ([\w-]+)/.exec(error.message) ?? [];
    if (lost === undefined || !/lock|not in the active state/i.test(error.message))
      this.#say(writeFailure(told));
    else void this.#tellTakenOver(lost).catch(() => undefined);
  }

  /** Tells once when a clip went to another worker, which finds the result of this one or gives the same; a lock that could not be renewed is not lost yet. */
  async #tellTakenOver(id: string): Promise<void> {
    const holder = await this.redis.get(`${this.#queue.toKey(id)}:lock`);
    const isTaken =
      holder === null
        ? (await this.#queue.getJobState(id)) === 'completed'
        : !holder.startsWith(this.#worker.id);
    if (!isTaken || this.#lost.has(id)) return;
    this.#lost.add(id);
    this.#say(queueTexts.takenOver);
  }

  /** Tells once what Redis refuses, and asks for no job for a while: the engine would ask at once, and again. */
  #onRefusal(told: TrundleError): void {
    // A broken connection is told of by whoever sees it first.
    if (!isRefusal(told)) return;
    if (isFull(told)) this.#patience.found();
    else if (told.message !== this.#refused) this.#say(writeFailure(told));
    this.#refused = told.message;
    if (this.#rest !== undefined || this.options.signal.aborted) return;
    void this.#worker.pause(true);
    this.#rest = setTimeout(() => {
      this.#rest = undefined;
      void this.#worker.resume();
    }, FULL_AGAIN_MS);
  }

  #say(sentence: string): void {
    this.options.onEvent?.({ kind: 'note', sentence });
  }
}

function raised(signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    if (signal.aborted) resolve();
    else signal.addEventListener('abort', () => resolve(), { once: true });
  });
}
