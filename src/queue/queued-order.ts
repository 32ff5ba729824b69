/** What stands in a job of the queue: the order of a clip, or of a stretch of one; read back as text of others. */
import type { Job } from 'bullmq';
import { jobKey, settingsKey } from '../batch/index.js';
import {
  TrundleError,
  clipOrderSchema,
  stretchOrderSchema,
  type ClipOrder,
  type StretchOrder,
} from '../run/index.js';
import { queueTexts } from '../texts/index.js';
import { stretchJobId } from './names.js';

/** What stands in a job. */
export type QueuedOrder = ClipOrder | StretchOrder;

/**
 * The order of a job, read as text of others.
 * @throws TrundleError `order-unreadable` where another version wrote it, or somebody else
 */
export function orderOfJob(job: Job<QueuedOrder>): QueuedOrder {
  const stretch = stretchOrderSchema.safeParse(job.data);
  if (!stretch.success) return clipOrderOf(job);
  if (job.id !== stretchJobId(stretch.data.clipJob, stretch.data.number)) throw unreadable();
  return stretch.data;
}

/** What an order is called in lists. */
export function nameOf(order: QueuedOrder): string {
  return 'clipJob' in order ? queueTexts.stretch(order.name, order.number + 1, order.count) : order.name;
}

/** The order of the job of a clip. @throws TrundleError `order-unreadable` */
export function clipOrderOf({ id, data }: Job<QueuedOrder>): ClipOrder {
  const read = clipOrderSchema.safeParse(data);
  if (read.success) {
    const key = settingsKey(read.data.request);
    if (key === read.data.settingsKey && jobKey(read.data.sha256, key) === id) return read.data;
  }
  throw unreadable();
}

function unreadable(): TrundleError {
  return new TrundleError(
    'order-unreadable',
    'The order was written by another version of the program; bring this machine and the one with the log to the same version.',
  );
}
