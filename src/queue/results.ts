/**
 * What was measured and waits for the coordinator, kept in Redis beside the jobs: so a worker needs no folder that both can write to, and
 * lists of jobs stay small.
 */
import { gunzipSync, gzipSync } from 'node:zlib';
import type { Redis } from 'ioredis';
import { MEASURED_CLIP_SCHEMA, TrundleError, measuredClipSchema, type MeasuredClip } from '../run/index.js';
import { resultsKey } from './names.js';

/** Largest result that is handed over, bytes as packed. */
export const MOST_RESULT_BYTES = 128 * 2 ** 20;
/** Largest that it may unpack to, so that nobody's few bytes fill the memory. */
const MOST_UNPACKED_BYTES = 2 ** 29 - 24;

/** A result as bytes: JSON, gzip (RFC 1952). @throws TrundleError `result-too-large` */
export function packMeasured(measured: Omit<MeasuredClip, 'schema'>): Uint8Array {
  const bytes = gzipSync(JSON.stringify({ schema: MEASURED_CLIP_SCHEMA, ...measured }));
  if (bytes.length <= MOST_RESULT_BYTES) return bytes;
  throw new TrundleError(
    'result-too-large',
    `What was measured on "${measured.name}" is ${Math.ceil(bytes.length / 2 ** 20)} MiB, more than the ${MOST_RESULT_BYTES / 2 ** 20} MiB that the queue hands over; measure the clip on the machine of the log.`,
  );
}

/** The result that was packed. @returns null for bytes that were damaged, or packed by another version */
export function unpackMeasured(bytes: Uint8Array): MeasuredClip | null {
  try {
    const text = gunzipSync(bytes, { maxOutputLength: MOST_UNPACKED_BYTES }).toString('utf8');
    const read = measuredClipSchema.safeParse(JSON.parse(text));
    return read.success ? read.data : null;
  } catch {
    return null;
  }
}

/** The results of one queue, by the keys of their jobs. */
export class Results {
  readonly #key: string;

  constructor(
    private readonly redis: Redis,
    queue: string,
  ) {
    this.#key = resultsKey(queue);
  }

  /** Keeps one; of two of the same job the last one stands. */
  async put(job: string, packed: Uint8Array): Promise<void> {
    await this.redis.hset(this.#key, job, Buffer.from(packed));
  }

  async has(job: string): Promise<boolean> {
    return (await this.redis.hexists(this.#key, job)) === 1;
  }

  /** The jobs that results are there of, in no order. */
  jobs(): Promise<string[]> {
    return this.redis.hkeys(this.#key);
  }

  count(): Promise<number> {
    return this.redis.hlen(this.#key);
  }

  /** One as it was packed; null where there is none (any more). */
  get(job: string): Promise<Uint8Array | null> {
    return this.redis.hgetBuffer(this.#key, job);
  }

  async remove(job: string): Promise<void> {
    await this.redis.hdel(this.#key, job);
  }
}
