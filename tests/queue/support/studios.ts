/** Studios for the tests of a suite, opened before each test and taken away after it. */
import { afterAll, afterEach, beforeAll, beforeEach } from 'vitest';
import type { Coordinator } from '../../../src/queue/index.js';
import { RedisServer, type ServerOptions } from './redis-server.js';
import { Studio } from './studio.js';

/** What a test works with. */
export interface Opened {
  readonly redis: RedisServer;
  readonly studio: Studio;
  readonly coordinator: Coordinator;
}

/**
 * One Redis for a suite, and for each of its tests a studio with a queue of its own.
 * @param queue what the queues are called, with a number
 * @returns what is open now; to be asked within a test
 */
export function studioForEach(queue: string): () => Opened {
  let redis: RedisServer;
  let opened: Opened;
  let count = 0;
  beforeAll(async () => (redis = await RedisServer.start()));
  afterAll(() => redis.end());
  beforeEach(async () => {
    const studio = new Studio(redis.address, `${queue}-${++count}`);
    opened = { redis, studio, coordinator: await studio.coordinator() };
  });
  afterEach(async () => {
    await opened.coordinator.close();
    opened.studio.end();
  });
  return () => opened;
}

/** A Redis of its own for every studio that a test opens: for tests that do something to Redis. */
export function studiosApart(): (options?: ServerOptions) => Promise<Omit<Opened, 'coordinator'>> {
  const opened: Omit<Opened, 'coordinator'>[] = [];
  afterEach(async () => {
    for (const { redis, studio } of opened.splice(0)) {
      studio.end();
      await redis.end();
    }
  });
  return async (options = {}) => {
    const redis = await RedisServer.start(options);
    const one = { redis, studio: new Studio(redis.address, 'clips') };
    opened.push(one);
    return one;
  };
}
