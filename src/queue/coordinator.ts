/**
 * The side of the machine with the log: puts clips into the queue, once each, and takes what was measured out of it, into log and report
 * folders, once each. It may be away while workers finish: what they measured waits in Redis.
 */
import { setTimeout as sleep } from 'node:timers/promises';
import type { Job, Queue } from 'bullmq';
import type { Redis } from 'ioredis';
import { jobKey } from '../batch/index.js';
import { TrundleError, clipOrderSchema, type ClipOrder } from '../run/index.js';
import { asQueueFailure, connect, disconnect } from './connect.js';
import { keepMeasured, type Collected, type KeepPlace } from './keep-measured.js';
import { loadEngine } from './engine.js';
import { PREFIX, PRIORITY } from './names.js';
import { type RedisAddress } from './redis-address.js';
import { Results } from './results.js';
import { statusOf, type QueueStatus } from './status.js';
import { StretchRecords } from './stretch-records.js';

/** How long a command of the coordinator waits for a broken connection, ms. */
const PATIENCE_MS = 60_000;
/** How often the queue is looked at while the coordinator waits, ms. */
const LOOK_MS = 1000;
/** Jobs that are looked through at once. */
const PAGE = 200;

/** States of jobs that are still to come. */
const TO_COME = ['wait', 'prioritized', 'delayed'] as const;

/** Which queue, and who is told what happens to it. */
export interface QueuePlace {
  readonly address: RedisAddress;
  readonly queue: string;
  /** Told in a sentence when the connection breaks or is there again. */
  readonly onNote?: (sentence: string) => void;
  /** How long a command waits for a broken connection, ms; a minute unless set. */
  readonly patienceMs?: number;
}

/** How often and how soon a clip is tried again when what failed may pass. */
export interface TryOptions {
  /** Tries in all. */
  readonly attempts: number;
  /** Before the second try, ms; twice as long before each further one. */
  readonly backOffMs: number;
}

/** Tries unless asked for others: the last one comes three and a half minutes after the first. */
export const USUAL_TRIES: TryOptions = { attempts: 4, backOffMs: 30_000 };
/** Clips that may wait unless another number is asked for. */
export const MOST_WAITING = 1000;

/** What became of a clip that was put in: new, there already, being measured, measured and not collected yet, or put in again after it had failed. */
export type Put = 'added' | 'there' | 'running' | 'measured' | 'again';

/** How many clips are where; each stretch of a long clip counts beside its clip. */
export interface Load {
  readonly toCome: number;
  readonly running: number;
  readonly measured: number;
}

/** What a look for results gave. */
export interface Collection {
  readonly kept: readonly Collected[];
  /** Clips whose result cannot be read by this version, or is damaged; they stay where they are. */
  readonly unreadable: number;
  /** Jobs whose result had been lost with the memory of Redis; they were put in again. */
  readonly lost: number;
}

/** An open queue, seen from the machine with the log; made by `openCoordinator`. Methods throw TrundleError `queue-unreachable`, `queue-unfit` and `queue-full`. */
export class Coordinator {
  readonly #results: Results;
  readonly #records: StretchRecords;

  constructor(
    private readonly place: QueuePlace,
    private readonly redis: Redis,
    private readonly queue: Queue<ClipOrder>,
  ) {
    this.#results = new Results(redis, place.queue);
    this.#records = new StretchRecords(redis, place.queue);
  }

  /** Puts a clip in; one that is there with these settings is not put in twice, but goes by this order unless it is being measured. */
  put(order: ClipOrder, { attempts, backOffMs }: TryOptions): Promise<Put> {
    return this.#told(async () => {
      const id = jobKey(order.sha256, order.settingsKey);
      if (await this.#results.has(id)) return 'measured';
      const there = await this.queue.getJob(id);
      if (there) {
        const state = await there.getState();
        if (state === 'active') return 'running';
        // It may be elsewhere by now, or have another sheet, and the worker that looks for it next is told.
        await there.updateData(order);
        if (state === 'failed') {
          await there.retry('failed', { resetAttemptsMade: true, resetAttemptsStarted: true });
          return 'again';
        }
        if (state !== 'completed') return 'there';
        // Its result was collected, or lost: `collect` tells these apart where it is asked first.
        await there.remove();
      }
      await this.queue.add('clip', order, {
        jobId: id,
        priority: PRIORITY.clip,
        attempts,
        backoff: { type: 'exponential', delay: backOffMs, jitter: 0.2 },
        stackTraceLimit: 0,
      });
      return 'added';
    });
  }

  /** How many clips are where. */
  load(): Promise<Load> {
    return this.#told(async () => {
      const counts = await this.queue.getJobCounts(...TO_COME, 'active');
      const toCome = TO_COME.reduce((sum, state) => sum + (counts[state] ?? 0), 0);
      return { toCome, running: counts['active'] ?? 0, measured: await this.#results.count() };
    });
  }

  /**
   * Takes what was measured into the log and writes its reports. What is in the log already is not kept twice, whoever else collects.
   *
   * @param onKept told of each as soon as it is safe
   * @throws TrundleError where log or folder take nothing; what was not kept stays in the queue
   */
  collect(
    place: KeepPlace,
    onKept: (one: Collected) => void = () => {},
    signal?: AbortSignal,
  ): Promise<Collection> {
    return this.#told(async () => {
      const kept: Collected[] = [];
      let unreadable = 0;
      for (const job of await this.#results.jobs()) {
        if (signal?.aborted) break;
        const packed = await this.#results.get(job);
        if (packed === null) continue;
        const collected = await keepMeasured(job, packed, place, signal);
        if (collected === null) {
          unreadable++;
          continue;
        }
        await this.#results.remove(job);
        await this.#forget(job);
        kept.push(collected);
        onKept(collected);
      }
      return { kept, unreadable, lost: signal?.aborted ? 0 : await this.#sortOutFinished(place) };
    });
  }

  /** Takes clips that were given up off the queue. @returns how many */
  forgetFailed(): Promise<number> {
    return this.#told(async () => {
      let count = 0;
      for await (const { id = '' } of this.#jobs('failed')) {
        await this.#records.forget(id);
        await this.#forget(id);
        count++;
      }
      return count;
    });
  }

  /** Everything that people ask of a queue. */
  status(): Promise<QueueStatus> {
    return this.#told(() => statusOf(this.queue, this.#results));
  }

  /**
   * Waits until fewer than `most` clips wait or are not collected: what is measured fills the memory of Redis, too.
   * @param onHeld told how many are where at every look that finds no room, about once a second
   * @param collect makes room by collecting; without it somebody else has to where all that is measured waits for that
   */
  async untilRoom(
    most: number,
    {
      signal,
      onHeld,
      collect,
    }: {
      readonly signal: AbortSignal;
      readonly onHeld: (load: Load) => void;
      readonly collect?: (() => Promise<unknown>) | undefined;
    },
  ): Promise<void> {
    while (!signal.aborted) {
      const load = await this.load();
      if (load.toCome + load.measured < most) return;
      onHeld(load);
      await collect?.();
      await pause(signal);
    }
  }

  /** Collects until no clip is to come or being measured. @param onLook told how many are where, about once a second */
  async untilDone(
    collect: () => Promise<unknown>,
    { signal, onLook }: { readonly signal: AbortSignal; readonly onLook: (load: Load) => void },
  ): Promise<void> {
    for (; !signal.aborted; await pause(signal)) {
      // Looked at first: what is measured after the look is collected below.
      const load = await this.load();
      onLook(load);
      await collect();
      if (load.toCome + load.running === 0 && (await this.load()).toCome === 0) return;
    }
  }

  /** Ends the connection. */
  async close(): Promise<void> {
    await this.queue.close().catch(() => undefined);
    await disconnect(this.redis);
  }

  /**
   * Jobs that are done and whose result is not there: it was collected by somebody who was ended before the job could go, or it is lost,
   * and then the clip is measured again. @returns how many are measured again
   */
  async #sortOutFinished(place: KeepPlace): Promise<number> {
    let lost = 0;
    for await (const job of this.#jobs('completed')) {
      const { id = '', data } = job;
      const order = clipOrderSchema.safeParse(data);
      // A result that came in meanwhile is for the next look.
      if (await this.#results.has(id)) continue;
      if (!order.success || place.isKept(order.data.sha256, order.data.settingsKey)) {
        await this.#forget(id);
        continue;
      }
      await job.retry('completed', { resetAttemptsMade: true, resetAttemptsStarted: true }).catch(ignore);
      lost++;
    }
    return lost;
  }

  /** Takes a job off the queue; one that a worker has just now goes when it is done. */
  async #forget(id: string): Promise<void> {
    await this.queue.remove(id).catch(ignore);
  }

  /** Jobs of a state as they are at the beginning, so that what happens to them on the way changes nothing in the order. */
  async *#jobs(state: 'failed' | 'completed'): AsyncGenerator<Job<ClipOrder>> {
    const ids: string[] = [];
    for (let from = 0; ; from += PAGE) {
      const page = await this.queue.getRanges([state], from, from + PAGE - 1, true);
      ids.push(...page);
      if (page.length < PAGE) break;
    }
    for (const id of ids) {
      const job = await this.queue.getJob(id);
      if (job) yield job;
    }
  }

  async #told<T>(work: () => Promise<T>): Promise<T> {
    try {
      return await work();
    } catch (error) {
      throw asQueueFailure(error, this.place.address);
    }
  }
}

/**
 * Opens a queue for the machine with the log.
 * @throws TrundleError `queue-engine-missing`, `queue-unreachable`, `queue-unfit`
 */
export async function openCoordinator(place: QueuePlace): Promise<Coordinator> {
  const engine = await loadEngine();
  const { address, onNote, patienceMs = PATIENCE_MS } = place;
  const redis = await connect(engine, address, { patienceMs, ...(onNote && { onNote }) });
  const queue = new engine.Queue<ClipOrder>(place.queue, {
    connection: redis,
    prefix: PREFIX,
    skipVersionCheck: true,
  });
  // What fails is thrown where it was asked.
  queue.on('error', ignore);
  return new Coordinator(place, redis, queue);
}

async function pause(signal: AbortSignal): Promise<void> {
  await sleep(LOOK_MS, undefined, { signal }).catch(ignore);
}

/** @throws a fault of ours, which is not to be swallowed with those of Redis */
function ignore(error: unknown): void {
  if (error instanceof TrundleError) throw error;
}
