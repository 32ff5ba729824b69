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
import { toolVersion } from '../tool-version.js';
import { NotForThisWorker } from './failures.js';
import { stretchJobId } from './names.js';

/** What stands in a job. */
export type QueuedOrder = ClipOrder | StretchOrder;

/** Schemas of orders, of whatever version. */
const OF_AN_ORDER = /^trundle-(clip|stretch)-order\//;

/**
 * The order of a job, read as text of others.
 * @throws NotForThisWorker where another version of the program wrote it; TrundleError `order-unreadable` where somebody else did
 */
export function orderOfJob(job: Job<QueuedOrder>): QueuedOrder {
  const stretch = stretchOrderSchema.safeParse(job.data);
  if (!stretch.success) return clipOrderOf(job);
  requireThisVersion(stretch.data);
  if (job.id !== stretchJobId(stretch.data.clipJob, stretch.data.number)) throw unreadable();
  return stretch.data;
}

/** What an order is called in lists. */
export function nameOf(order: QueuedOrder): string {
  return 'clipJob' in order ? queueTexts.stretch(order.name, order.number + 1, order.count) : order.name;
}

/** The order of the job of a clip. @throws as `orderOfJob` */
export function clipOrderOf({ id, data }: Job<QueuedOrder>): ClipOrder {
  requireThisVersion(data);
  const read = clipOrderSchema.safeParse(data);
  if (read.success) {
    const key = settingsKey(read.data.request);
    if (key === read.data.settingsKey && jobKey(read.data.sha256, key) === id) return read.data;
  }
  throw unreadable();
}

/** Figures of two versions may differ, and so may stretches of one clip: an order is for workers of the version that gave it. */
function requireThisVersion(data: Partial<Record<'schema' | 'version', unknown>> | null): void {
  const { schema, version } = data ?? {};
  const { version: here } = toolVersion();
  if (typeof schema !== 'string' || !OF_AN_ORDER.test(schema) || version === here) return;
  const there = typeof version === 'string' ? version.slice(0, 100) : null;
  throw new NotForThisWorker('order-unreadable', queueTexts.otherVersion(there, here));
}

function unreadable(): TrundleError {
  return new TrundleError('order-unreadable', queueTexts.noOrder);
}
