/**
 * Carries out the jobs of a queue: clips, and stretches of clips that are too long to be held at once.
 *
 * A long clip has three kinds of turns: in the first its first stretch is measured and the others are ordered; in those between it is seen
 * to that each stretch is measured or ordered; in the last they are joined. Every turn goes by what it finds in Redis, so it does not
 * matter where an earlier one was broken off.
 */
import type { Job, Queue } from 'bullmq';
import type { Redis } from 'ioredis';
import { STRETCH_ORDER_SCHEMA, type ClipOrder, type StretchOrder } from '../run/index.js';
import { queueTexts } from '../texts/index.js';
import { changed, clipHere } from './clip-here.js';
import { StretchGivenUp } from './failures.js';
import { measureApart, type Done } from './measure-apart.js';
import { PRIORITY, stretchJobId } from './names.js';
import type { Patience } from './patience.js';
import type { OrderedPart } from './protocol.js';
import { clipOrderOf, nameOf, type QueuedOrder } from './queued-order.js';
import { Results } from './results.js';
import type { WorkProgress } from './status.js';
import { StretchRecords } from './stretch-records.js';
import type { WorkEvent, WorkOptions } from './work.js';

/** Least time between two words to the queue on how far a job is, ms. */
const PROGRESS_MS = 2000;

/** What came of a turn: something was measured, there was nothing to do (any more), or the clip waits for its stretches. */
export type Turn =
  | { readonly kind: 'measured'; readonly verdict: string }
  | { readonly kind: 'stretch' }
  | { readonly kind: 'nothing' }
  | { readonly kind: 'apart' };

/** Carries out jobs of one queue; see above. */
export class CarryOut {
  readonly #results: Results;
  readonly #records: StretchRecords;

  constructor(
    private readonly options: WorkOptions,
    redis: Redis,
    private readonly queue: Queue<QueuedOrder>,
    private readonly patience: Patience,
  ) {
    this.#results = new Results(redis, options.queue);
    this.#records = new StretchRecords(redis, options.queue);
  }

  /**
   * One turn of a job.
   * @throws TrundleError as the measurement, StretchGivenUp
   */
  turn(job: Job<QueuedOrder>, order: QueuedOrder): Promise<Turn> {
    return 'clipJob' in order ? this.#stretch(job, order) : this.#clip(job, order);
  }

  /** What is to be done when a job is given up: nothing of a clip is left, and the clip of a stretch learns of it. */
  async givenUp(job: Job<QueuedOrder>, order: QueuedOrder | null): Promise<void> {
    if (order === null) return;
    if ('clipJob' in order) return this.#wake(order.clipJob);
    const id = job.id ?? '';
    const stand = await this.#records.stand(id);
    await this.#records.forget(id);
    // Those that are under way find that nobody waits for them.
    for (let number = 1; number < (stand?.count ?? 0); number++)
      await this.queue.remove(stretchJobId(id, number)).catch(() => undefined);
  }

  /** Whether the clip of a stretch still is in the queue. */
  async isWaitedFor({ clipJob }: StretchOrder): Promise<boolean> {
    const clip = await this.queue.getJob(clipJob);
    return clip !== undefined && !['failed', 'completed', 'unknown'].includes(await clip.getState());
  }

  async #clip(job: Job<QueuedOrder>, order: ClipOrder): Promise<Turn> {
    const id = job.id ?? '';
    // Measured by a worker that was taken for dead, or that ended before it could say so.
    if (await this.#results.has(id)) {
      await this.#records.forget(id);
      return { kind: 'nothing' };
    }
    if ((await this.#records.stand(id)) === null) {
      // A fetched clip is whole on this machine; for each stretch it would have to be fetched once more.
      const inStretches = 'path' in order.place;
      const begunMs = performance.now();
      const done = await this.#measure(job, order, { kind: 'clip', inStretches }, order.name);
      if (done.kind === 'done') return this.#keep(id, order, done);
      await this.patience.until(() => this.#records.begin(id, done.record, done.count));
      this.#tellStretch(queueTexts.stretch(order.name, 1, done.count), begunMs);
    }
    const records = await this.#recordsOf(job, order);
    if (records === null) {
      await job.changePriority({ priority: PRIORITY.begun });
      return { kind: 'apart' };
    }
    const name = queueTexts.joining(order.name);
    return this.#keep(id, order, await this.#measure(job, order, { kind: 'join', records }, name));
  }

  async #keep(id: string, order: ClipOrder, done: Done): Promise<Turn> {
    if (done.kind !== 'done') throw new Error(`expected the run of "${order.name}", got a stretch of it`);
    if (done.sha256 !== order.sha256) throw changed(order.name);
    await this.patience.until(() => this.#results.put(id, done.packed));
    await this.#records.forget(id);
    return { kind: 'measured', verdict: done.verdict };
  }

  /**
   * The records of all stretches; null while some are missing: it is seen to that these are in the queue.
   * @throws StretchGivenUp where one of them was given up
   */
  async #recordsOf(job: Job<QueuedOrder>, order: ClipOrder): Promise<Uint8Array[] | null> {
    const id = job.id ?? '';
    const stand = await this.#records.stand(id);
    if (stand === null) return null;
    const { count, measured } = stand;
    const progress: WorkProgress = { stage: 'stretches', done: measured.size, total: count };
    await job.updateProgress(progress);
    for (let number = 1; number < count; number++)
      if (!measured.has(number)) await this.#order(job, order, number, count);
    if (measured.size < count) return null;
    const records = await Promise.all(Array.from({ length: count }, (_, k) => this.#records.get(id, k)));
    return records.every((record) => record !== null) ? records : null;
  }

  /** Sees to it that a stretch is in the queue, once. @throws StretchGivenUp */
  async #order(
    clip: Job<QueuedOrder>,
    { version, name, place }: ClipOrder,
    number: number,
    count: number,
  ): Promise<void> {
    const clipJob = clip.id ?? '';
    const jobId = stretchJobId(clipJob, number);
    const there = await this.queue.getJob(jobId);
    if (there && (await there.getState()) === 'failed') throw new StretchGivenUp(there.failedReason);
    if (there) return;
    const { attempts, backoff } = clip.opts;
    await this.queue.add(
      'stretch',
      { schema: STRETCH_ORDER_SCHEMA, version, clipJob, name, place, number, count },
      {
        ...{ jobId, priority: PRIORITY.begun, removeOnComplete: true, stackTraceLimit: 0 },
        ...(attempts !== undefined && { attempts }),
        ...(backoff !== undefined && { backoff }),
      },
    );
  }

  async #stretch(job: Job<QueuedOrder>, order: StretchOrder): Promise<Turn> {
    const { clipJob, number, count } = order;
    const clip = await this.queue.getJob(clipJob);
    const stand = await this.#records.stand(clipJob);
    const first = await this.#records.get(clipJob, 0);
    const isWanted = stand?.count === count && !stand.measured.has(number) && (await this.isWaitedFor(order));
    if (!clip || first === null || !isWanted) {
      await this.#wake(clipJob);
      return { kind: 'nothing' };
    }
    const name = nameOf(order);
    const begunMs = performance.now();
    const part: OrderedPart = { kind: 'stretch', number, count, first };
    // The clip may be elsewhere by now than when its stretches were ordered.
    const done = await this.#measure(job, clipOrderOf(clip), part, name);
    if (done.kind !== 'stretch') throw new Error(`expected a stretch of "${order.name}", got its run`);
    // Of a clip that was given up meanwhile nothing is kept.
    if (!(await this.isWaitedFor(order))) return { kind: 'nothing' };
    await this.patience.until(() => this.#records.put(clipJob, number, done.record));
    this.#tellStretch(name, begunMs);
    if ((await this.#records.stand(clipJob))?.measured.size === count) await this.#wake(clipJob);
    return { kind: 'stretch' };
  }

  /** @param begun what is told to be begun, once it is found that this worker may read it */
  async #measure(job: Job<QueuedOrder>, order: ClipOrder, part: OrderedPart, begun: string): Promise<Done> {
    const { rules, tempFolder, tools, threads, name: worker, giveBack: signal, limits, means } = this.options;
    const tell = progressTeller(job);
    const clip = await clipHere(order, rules, {
      ...{ tempFolder, signal },
      onProgress: (done) => tell({ stage: 'fetch', done, total: order.sizeBytes }),
      onFound: () => this.#tell({ kind: 'begun', name: begun }),
    });
    try {
      return await measureApart(
        { file: clip.file, order, part, limits, tools, threads, worker },
        ({ stage, done, total }) => tell({ stage, done, total }),
        signal,
        means,
      );
    } finally {
      await clip.done();
    }
  }

  /** Lets a clip that waits for its stretches look at once; one that does not wait needs no call. */
  async #wake(clipJob: string): Promise<void> {
    const clip = await this.queue.getJob(clipJob);
    await clip?.promote().catch(() => undefined);
  }

  #tellStretch(name: string, begunMs: number): void {
    this.#tell({ kind: 'stretch', name, tookS: (performance.now() - begunMs) / 1000 });
  }

  #tell(event: WorkEvent): void {
    this.options.onEvent?.(event);
  }
}

/** Tells the queue how far a job is, not more often than anybody looks; what does not arrive is no loss. */
function progressTeller(job: Job<QueuedOrder>): (progress: WorkProgress) => void {
  let toldMs = -Infinity;
  return (progress) => {
    if (performance.now() - toldMs < PROGRESS_MS) return;
    toldMs = performance.now();
    job.updateProgress(progress).catch(() => undefined);
  };
}
