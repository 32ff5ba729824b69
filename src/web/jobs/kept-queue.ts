/** Jobs that wait or run, on the disk in their order: so they outlive the end of the program, however it comes. */
import path from 'node:path';
import type { JobOrder } from '../api.js';
import { KeptFile, isRecord } from '../kept-file.js';
import { readOrder } from './job-order.js';

/** A job as it is kept. */
export interface KeptJob {
  readonly id: string;
  readonly order: JobOrder;
  /** Null for a proof. */
  readonly clip: string | null;
  readonly clipName: string;
  readonly queuedAt: string;
  /** Its worker was at it when this was written. */
  readonly isRunning: boolean;
  /** It has been begun before. */
  readonly isAnew: boolean;
  /** How often the program ended without a word while it ran. */
  readonly crashes: number;
  /** Where its worker writes, absolute; null before it has said so. */
  readonly writing: { readonly folder: string; readonly made: boolean } | null;
}

const FILE = 'queue.json';
const FORMAT = 'trundle-queue/1';

/** The file of a data folder; none that can be read is null. */
export function keptQueue(dataDir: string): KeptFile<readonly KeptJob[]> {
  return new KeptFile<readonly KeptJob[]>(path.join(dataDir, FILE), {
    valueIn: ({ format, jobs }) =>
      format === FORMAT && Array.isArray(jobs) && jobs.every(isKeptJob) ? jobs : null,
    jsonOf: (jobs) => ({ format: FORMAT, jobs }),
  });
}

function isKeptJob(value: unknown): value is KeptJob {
  if (!isRecord(value)) return false;
  const { id, order, clip, clipName, queuedAt, isRunning, isAnew, crashes, writing } = value;
  return (
    [id, clipName].every((text) => typeof text === 'string' && text !== '') &&
    (clip === null || typeof clip === 'string') &&
    typeof queuedAt === 'string' &&
    !Number.isNaN(Date.parse(queuedAt)) &&
    [isRunning, isAnew].every((flag) => typeof flag === 'boolean') &&
    Number.isSafeInteger(crashes) &&
    isPlace(writing) &&
    isOrder(order)
  );
}

function isPlace(value: unknown): boolean {
  if (value === null) return true;
  return (
    isRecord(value) &&
    typeof value['folder'] === 'string' &&
    path.isAbsolute(value['folder']) &&
    typeof value['made'] === 'boolean'
  );
}

function isOrder(value: unknown): boolean {
  try {
    readOrder(value);
    return true;
  } catch {
    return false;
  }
}
