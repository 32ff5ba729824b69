/** How a queue stands: counts, what runs where and how far, what is tried again later, what was given up and why. */
import type { Job, Queue } from 'bullmq';
import type { Stage } from '../measure-request.js';
import { clipOrderSchema, stretchOrderSchema, type ClipOrder } from '../run/index.js';
import { readFailure, type ToldFailure } from './failures.js';
import { nameOf, type QueuedOrder } from './queued-order.js';
import type { Results } from './results.js';

/** Clips that are listed one by one in each state. */
const MOST_LISTED = 1000;

/** How far a worker is with a clip. */
export interface WorkProgress {
  /** `stretches` where a long clip waits for its stretches; these are counted. */
  readonly stage: Stage | 'fetch' | 'stretches';
  readonly done: number;
  readonly total: number | null;
}

/** What stands in a job in the place of progress while it rests because a worker may not read its clip. */
export interface LeftToOthers {
  readonly stage: 'left';
  readonly worker: string;
  /** As `writeFailure` writes it. */
  readonly reason: string;
}

/** A clip of the queue. */
export interface QueuedClip {
  /** Path below the folder that was added, with slashes, or name; and which stretch where it is one. */
  readonly name: string;
  /** Path or address it was ordered from, an address without its query. */
  readonly place: string;
  /** Tries that have failed. */
  readonly failures: number;
  readonly attempts: number;
}

/** How a queue stands. */
export interface QueueStatus {
  /** With those that were left. */
  readonly waiting: number;
  /** Waiting for another worker than the one that looked at it last, which may not read it. */
  readonly left: readonly (QueuedClip & { readonly worker: string; readonly failure: ToldFailure })[];
  readonly running: readonly (QueuedClip & {
    readonly worker: string | null;
    readonly progress: WorkProgress | null;
    /** ISO 8601 in UTC. */
    readonly since: string | null;
  })[];
  /** Long clips whose stretches wait or run. */
  readonly inStretches: readonly (QueuedClip & { readonly done: number; readonly count: number })[];
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
  const [counts, toCollect, workers, running, delayed, failed] = await Promise.all([
    queue.getJobCounts('wait', 'prioritized'),
    results.count(),
    queue.getWorkers(),
    queue.getActive(0, MOST_LISTED - 1),
    queue.getDelayed(0, MOST_LISTED - 1),
    queue.getFailed(0, MOST_LISTED - 1),
  ]);
  const left = delayed.flatMap((job) => {
    const { worker, reason } = leftOf(job) ?? {};
    if (worker === undefined || reason === undefined) return [];
    return [{ ...clipOf(job), worker, failure: readFailure(reason) }];
  });
  return {
    waiting: Object.values(counts).reduce((sum, count) => sum + count, left.length),
    left,
    running: running.map((job) => ({
      ...clipOf(job),
      worker: job.processedBy ?? null,
      progress: progressOf(job.progress),
      since: job.processedOn === undefined ? null : new Date(job.processedOn).toISOString(),
    })),
    inStretches: delayed.flatMap((job) => {
      const stretches = stretchesOf(job);
      return stretches === null ? [] : [{ ...clipOf(job), ...stretches }];
    }),
    later: delayed
      .filter((job) => stretchesOf(job) === null && leftOf(job) === null)
      .map((job) => ({ ...clipOf(job), failure: failureOf(job) })),
    failed: failed.map((job) => ({ ...clipOf(job), failure: failureOf(job) })),
    toCollect,
    workers: [...new Set(workers.map((one) => workerName(one['rawname'] ?? '')))].sort(),
  };
}

/**
 * A clip as it is told from others: by its path below the folder that was added, or, where it has none, by its whole place.
 * @example shownClip({ name: 'C0001.MP4, stretch 2 of 3', place: '/cards/a/C0001.MP4' }) // "/cards/a/C0001.MP4, stretch 2 of 3"
 */
export function shownClip({ name, place }: Pick<QueuedClip, 'name' | 'place'>): string {
  if (name.includes('/')) return name;
  const last = place.split(/[/\\]/).at(-1) ?? '';
  return last !== '' && name.startsWith(last) ? `${place}${name.slice(last.length)}` : `${name} (${place})`;
}

/** The place of an order as it is shown: an address without its query, which may hold a key. */
export function shownPlace({ place }: Pick<ClipOrder, 'place'>): string {
  return 'path' in place ? place.path : place.url.replace(/[?#].*$/s, '');
}

/** What is known of a clip or a stretch, whatever somebody put into the queue. */
export function clipOf({ data, attemptsMade, opts }: Job<QueuedOrder>): QueuedClip {
  const order = clipOrderSchema.safeParse(data).data ?? stretchOrderSchema.safeParse(data).data;
  const tries = { failures: attemptsMade, attempts: opts.attempts ?? 1 };
  if (order === undefined) return { ...namesIn(data), ...tries };
  return {
    name: nameOf(order),
    place: shownPlace(order),
    ...tries,
  };
}

/** What an order of another version calls its clip, as far as that can be told. */
function namesIn(data: unknown): Pick<QueuedClip, 'name' | 'place'> {
  const { name, place } = (data ?? {}) as Partial<Record<'name' | 'place', unknown>>;
  const { path, url } = (place ?? {}) as Partial<Record<'path' | 'url', unknown>>;
  const textOf = (text: unknown): string => (typeof text === 'string' && text !== '' ? text : '?');
  return {
    name: textOf(name),
    place: path === undefined ? textOf(url).replace(/[?#].+$/s, '') : textOf(path),
  };
}

function failureOf({ failedReason = '' }: Job<ClipOrder>): ToldFailure {
  return readFailure(failedReason);
}

/** What a clip waits for that is not to be tried again but waits for its stretches; null for others. */
function stretchesOf({ progress }: Job<ClipOrder>): { readonly done: number; readonly count: number } | null {
  const { stage, done = 0, total = 0 } = (progress ?? {}) as Partial<WorkProgress>;
  return stage === 'stretches' && done < (total ?? 0) ? { done, count: total ?? 0 } : null;
}

/** Who left a clip to others and why; null where nobody did since it was tried last. */
export function leftOf({ progress }: { readonly progress: unknown }): LeftToOthers | null {
  const { stage, worker, reason } = (progress ?? {}) as Partial<LeftToOthers>;
  if (stage !== 'left' || typeof worker !== 'string' || typeof reason !== 'string') return null;
  return { stage, worker, reason };
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
