/**
 * What was measured and waits for the coordinator, kept in Redis beside the jobs: so a worker needs no folder that both can write to, and
 * lists of jobs stay small.
 */
import { gunzipSync, gzipSync } from 'node:zlib';
import type { Redis } from 'ioredis';
import { MEASURED_CLIP_SCHEMA, TrundleError, measuredClipSchema, type MeasuredClip } from '../run/index.js';
import { queueTexts } from '../texts/index.js';
import { resultsKey } from './names.js';

/** Largest result that is handed over, bytes as packed: half of what Redis takes for one value. */
export const MOST_RESULT_BYTES = 256 * 2 ** 20;
/** Largest that it may unpack to: the longest text that Node holds, and nobody's few bytes fill the memory. */
const MOST_UNPACKED_BYTES = 2 ** 29 - 24;
/** What a frame takes of the text of a result, bytes: 774, packed 278, were measured on 900 frames of a boarded floor. */
const FRAME_BYTES = 800;
/** Longest range whose result surely is handed over, frames: seven hours at 25 frames/s. */
export const MOST_FRAMES = Math.floor(MOST_UNPACKED_BYTES / FRAME_BYTES);

/**
 * Refuses a clip before hours are spent on it.
 * @param frames of the range, as the clip states them
 * @throws TrundleError `result-too-large`
 */
export function requireFitting(frames: number, name: string): void {
  if (frames > MOST_FRAMES)
    throw new TrundleError('result-too-large', queueTexts.tooLong(name, frames, MOST_FRAMES));
}

/** A result as bytes: JSON, gzip (RFC 1952). @throws TrundleError `result-too-large` */
export function packMeasured(measured: Omit<MeasuredClip, 'schema'>): Uint8Array {
  const bytes = gzipSync(textOf(measured));
  if (bytes.length <= MOST_RESULT_BYTES) return bytes;
  throw tooLarge(measured.name);
}

/** @throws TrundleError `result-too-large` where it is longer than any text may be */
function textOf(measured: Omit<MeasuredClip, 'schema'>): string {
  try {
    return JSON.stringify({ schema: MEASURED_CLIP_SCHEMA, ...measured });
  } catch (error) {
    if (error instanceof RangeError) throw tooLarge(measured.name);
    throw error;
  }
}

function tooLarge(name: string): TrundleError {
  return new TrundleError('result-too-large', queueTexts.tooLarge(name));
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
