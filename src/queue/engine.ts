/** The engine of the queue, which need not be installed: loaded when a queue is opened, and nowhere else in the program. */
import type * as Bullmq from 'bullmq';
import type { Redis } from 'ioredis';
import { TrundleError } from '../run/index.js';

/** What the queue is made of. */
export interface Engine {
  readonly Queue: typeof Bullmq.Queue;
  readonly Worker: typeof Bullmq.Worker;
  readonly UnrecoverableError: typeof Bullmq.UnrecoverableError;
  readonly WaitingError: typeof Bullmq.WaitingError;
  readonly DelayedError: typeof Bullmq.DelayedError;
  readonly Redis: typeof Redis;
}

const NOT_THERE: readonly unknown[] = ['ERR_MODULE_NOT_FOUND', 'MODULE_NOT_FOUND'];

/**
 * Loads it.
 * @param load gives both packages; for tests
 * @throws TrundleError `queue-engine-missing` where it is not installed
 */
export async function loadEngine(
  load: () => Promise<[typeof Bullmq, { Redis: typeof Redis }]> = () =>
    Promise.all([import('bullmq'), import('ioredis')]),
): Promise<Engine> {
  try {
    const [{ Queue, Worker, UnrecoverableError, WaitingError, DelayedError }, client] = await load();
    return { Queue, Worker, UnrecoverableError, WaitingError, DelayedError, Redis: client.Redis };
  } catch (cause) {
    if (!NOT_THERE.includes((cause as NodeJS.ErrnoException).code)) throw cause;
    throw new TrundleError(
      'queue-engine-missing',
      'The queue needs the packages bullmq and ioredis, which are not installed here; run "npm install bullmq ioredis" in the folder of Trundle. One machine needs no queue: see trundle measure.',
      { cause },
    );
  }
}
