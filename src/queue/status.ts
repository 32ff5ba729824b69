/** How a queue stands: counts, what runs where and how far, what is tried again later, what was given up and why. */
import type { Job, Queue } from 'bullmq';
import type { Stage } from '../measure-request.js';
import { clipOrderSchema, type ClipOrder } from '../run/index.js';
import { readFailure, type ToldFailure } from './failures.js';
import type { Results } from './results.js';

/** Clips that are listed one by one in each state. */
const MOST_LISTED = 1000;

/** How far a worker is with a clip. */
export interface WorkProgress {
  readonly stage: Stage | 'fetch';
  readonly done: number;
  readonly total: number | null;
}

/** A clip of the queue. */
export interface QueuedClip {
  readonly name: string;
  /** Path or address it was ordered from, an address without its query. */
  readonly place: string;
  /** Tries that have failed. */
  readonly failures: number;
  readonly attempts: number;
}

/** How a queue stands. */
export interface QueueStatus {
  readonly waiting: number;
  readonly running: readonly (QueuedClip & {
    readonly worker: string | null;
    readonly progress: WorkProgress | null;
    /** ISO 8601 in UTC. */
    readonly since: string | null;
  })[];
  /** To be tried again. */
  readonly later: readonly (QueuedClip & { readonly failure: ToldFailure })[];
  readonly failed: readonly (QueuedClip & { readonly failure: ToldFailure })[];
  /** Measured and not collected. */
  readonly toCollect: number;
  /** Machines and processes that take clips from the queue. */
  readonly workers: readonly string[];
}

/** Asks the queue. */
export async function statusOf(queue: Queue<ClipOrder>, results: Results): Promise<QueueStatus> {
  const [counts, toCollect, workers, running, later, failed] = await Promise.all([
    queue.getJobCounts('wait', 'prioritized'),
    results.count(),
    queue.getWorkers(),
    queue.getActive(0, MOST_LISTED - 1),
    queue.getDelayed(0, MOST_LISTED - 1),
    queue.getFailed(0, MOST_LISTED - 1),
  ]);
  return {
    waiting: Object.values(counts).reduce((sum, count) => sum + count, 0),
    running: running.map((job) => ({
      ...clipOf(job),
      worker: job.processedBy ?? null,
      progress: progressOf(job.progress),
      since: job.processedOn === undefined ? null : new Date(job.processedOn).toISOString(),
    })),
    later: later.map((job) => ({ ...clipOf(job), failure: failureOf(job) })),
    failed: failed.map((job) => ({ ...clipOf(job), failure: failureOf(job) })),
    toCollect,
    workers: [...new Set(workers.map((one) => workerName(one['rawname'] ?? '')))].sort(),
  };
}

/** What is known of a clip, whatever somebody put into the queue. */
function clipOf({ data, attemptsMade, opts }: Job<ClipOrder>): QueuedClip {
  const order = clipOrderSchema.safeParse(data);
  const tries = { failures: attemptsMade, attempts: opts.attempts ?? 1 };
  if (!order.success) return { name: '?', place: '?', ...tries };
  const { name, place } = order.data;
  return { name, place: 'path' in place ? place.path : place.url.replace(/[?#].*$/s, ''), ...tries };
}

function failureOf({ failedReason = '' }: Job<ClipOrder>): ToldFailure {
  return readFailure(failedReason);
}

function progressOf(progress: unknown): WorkProgress | null {
  const { stage, done, total } = (progress ?? {}) as Partial<WorkProgress>;
  if (typeof stage !== 'string' || typeof done !== 'number') return null;
  return { stage, done, total: typeof total === 'number' ? total : null };
}

/** The name of a worker out of that of its connection, which ends with it. */
function workerName(connection: string): string {
  return connection.split(':w:').at(-1) ?? connection;
}
