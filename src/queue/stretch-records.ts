/**
 * What was measured of the stretches of long clips, kept in Redis until the clip is joined or given up. Records that nobody comes for any
 * more go by themselves.
 */
import type { Redis } from 'ioredis';
import { stretchesKey } from './names.js';

/** Records are forgotten when no stretch of their clip was measured for so long, s: a week. */
const FORGET_S = 7 * 86_400;
const COUNT = 'count';

/** The records of one queue, by the keys of the jobs of clips. */
export class StretchRecords {
  constructor(
    private readonly redis: Redis,
    private readonly queue: string,
  ) {}

  /** Keeps the record of the first stretch, and how many there are: from now on the clip goes by stretches. */
  async begin(clipJob: string, first: Uint8Array, count: number): Promise<void> {
    await this.forget(clipJob);
    await this.#put(clipJob, { [COUNT]: String(count), 0: Buffer.from(first) });
  }

  /** Keeps the record of a later one; of two of the same stretch the last one stands, for they are the same. */
  async put(clipJob: string, number: number, record: Uint8Array): Promise<void> {
    await this.#put(clipJob, { [number]: Buffer.from(record) });
  }

  /** How many stretches there are, and which of them are measured; null for a clip that was not begun by stretches. */
  async stand(
    clipJob: string,
  ): Promise<{ readonly count: number; readonly measured: ReadonlySet<number> } | null> {
    const fields = await this.redis.hkeys(this.#key(clipJob));
    const count = Number((await this.redis.hget(this.#key(clipJob), COUNT)) ?? 0);
    // Without the first one there is nothing to go on with.
    if (!(count > 0) || !fields.includes('0')) return null;
    return { count, measured: new Set(fields.filter((field) => field !== COUNT).map(Number)) };
  }

  /** One record; null where it is not there (any more). */
  get(clipJob: string, number: number): Promise<Uint8Array | null> {
    return this.redis.hgetBuffer(this.#key(clipJob), String(number));
  }

  async forget(clipJob: string): Promise<void> {
    await this.redis.del(this.#key(clipJob));
  }

  async #put(clipJob: string, fields: Readonly<Record<string, string | Buffer>>): Promise<void> {
    const key = this.#key(clipJob);
    await this.redis.hset(key, fields);
    await this.redis.expire(key, FORGET_S);
  }

  #key(clipJob: string): string {
    return stretchesKey(this.queue, clipJob);
  }
}
