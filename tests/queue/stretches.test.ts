/** Long clips in the queue: stretches that are jobs of their own, joined to the run of the whole, whoever ends in the middle. */
import fs from 'node:fs';
import http from 'node:http';
import type { AddressInfo } from 'node:net';
import path from 'node:path';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { statusText } from '../../src/cli/queue-status.js';
import { findTools } from '../../src/footage/index.js';
import { measure } from '../../src/measure.js';
import { orderOf, type Coordinator } from '../../src/queue/index.js';
import { singleAxisPass } from '../support/accuracy-passes.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpClip } from '../support/made-up-clip.js';
import { WITHOUT_REDIS, titled, type RedisServer } from './support/redis-server.js';
import { kill, said, until, type Studio } from './support/studio.js';
import { studioForEach } from './support/studios.js';

// What takes seconds on a quiet machine takes minutes on a busy one.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

describe.skipIf(WITHOUT_REDIS !== null)(titled('long clips in the queue'), () => {
  const opened = studioForEach('long');
  let redis: RedisServer;
  let studio: Studio;
  let coordinator: Coordinator;
  beforeEach(() => {
    ({ redis, studio, coordinator } = opened());
  });

  /** What of a clip is left in Redis besides its result. */
  const keys = (): Promise<string[]> => redis.keys(`*${studio.queue}:*`);
  const leftOfJobs = async (): Promise<string[]> =>
    (await keys()).filter((key) => /stretches|:[0-9a-f]{64}/.test(key));

  it('go by stretches, which come before other clips, and are joined in their order', async () => {
    await studio.put(coordinator, studio.clip('long.mov', 'stretches 4'));
    await studio.put(coordinator, studio.clip('short.mov'));
    expect(await studio.work({ atOnce: 1 })).toEqual({ measured: 2, failed: 0, returned: 0, left: 0 });
    const [first, ...others] = studio.begun();
    expect(first).toBe('long.mov');
    expect(others.filter((one) => one.startsWith('long'))).toEqual([
      ...['long.mov#1', 'long.mov#2', 'long.mov#3'],
      'long.mov=0123',
    ]);
    expect(studio.told('stretch').map(({ name }) => name)).toEqual(
      [1, 2, 3, 4].map((n) => `long.mov, stretch ${n} of 4`),
    );
    await coordinator.collect(studio.place);
    expect(studio.logged()).toEqual(['long.mov', 'short.mov']);
    expect(await leftOfJobs()).toEqual([]);
  });

  it('lose nothing and have nothing twice when the worker of a stretch is killed', async () => {
    await studio.put(coordinator, studio.clip('long.mov', 'stretches 5\nwait 1500'));
    const first = studio.start('work');
    await said(first, 'begun long.mov, stretch 3 of 5');
    await until(() => studio.begun().length === 3, 'two stretches are measured');
    await kill(first);
    const status = await coordinator.status();
    expect(status.inStretches).toMatchObject([{ name: 'long.mov', done: 1, count: 5 }]);
    expect(statusText(status)).toContain(`\nlong     ${studio.clips}/long.mov  1 of 5 stretches measured\n`);
    expect(status.running.map(({ name }) => name).sort()).toEqual([
      ...['long.mov, stretch 2 of 5', 'long.mov, stretch 3 of 5'],
    ]);
    await studio.work();
    await coordinator.collect(studio.place);
    expect(studio.logged()).toEqual(['long.mov']);
    expect(studio.reports()).toHaveLength(1);
    // The first stretch had been measured; the two that the dead worker had were begun twice.
    expect(studio.begun().filter((one) => one === 'long.mov')).toHaveLength(1);
    expect(studio.begun().sort()).toEqual([
      ...['long.mov', 'long.mov#1', 'long.mov#1', 'long.mov#2', 'long.mov#2', 'long.mov#3', 'long.mov#4'],
      'long.mov=01234',
    ]);
    expect(await coordinator.load()).toEqual({ toCome: 0, running: 0, measured: 0 });
    expect(await leftOfJobs()).toEqual([]);
  });

  it('are given up with the reason of a stretch that will not do, leave nothing behind, and can be added again', async () => {
    const clip = studio.clip('long.mov', 'stretches 3\nbad 2');
    await studio.put(coordinator, clip);
    await studio.work();
    const { failed } = await coordinator.status();
    expect(failed).toMatchObject([
      { name: 'long.mov', failure: { sentence: 'Stretch 2 is damaged.', code: 'decode-failed' } },
    ]);
    expect((await keys()).filter((key) => key.includes('stretches'))).toEqual([]);
    expect(await studio.put(coordinator, clip)).toBe('again');
    await studio.work();
    // All anew: nothing that was measured of a clip outlives its end.
    expect(studio.begun().filter((one) => one === 'long.mov')).toHaveLength(2);
    expect((await coordinator.status()).failed).toHaveLength(1);
  });

  it('stay in one piece where they are fetched, from servers that the worker may read; a broken fetch is taken up', async () => {
    const bytes = fs.readFileSync(studio.clip('far.mov', `stretches 3\n${'x'.repeat(5000)}`));
    const asked: string[] = [];
    const server = http.createServer((request, response) => {
      const { range = '' } = request.headers;
      asked.push(range);
      const from = Number(/^bytes=(\d+)-$/.exec(range)?.[1]);
      response.writeHead(206, {
        'content-range': `bytes ${from}-${bytes.length - 1}/${bytes.length}`,
        ...{ 'content-length': bytes.length - from, etag: '"one"' },
      });
      // The worker's first try, after the two of whoever ordered it, breaks in the middle.
      if (asked.length === 3)
        response.write(bytes.subarray(0, 2000), () => setTimeout(() => response.destroy(), 20));
      else response.end(bytes.subarray(from));
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    try {
      const origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
      for (const name of ['far.mov', 'farther.mov']) {
        const rig = { focalLengthMm: name === 'far.mov' ? 35 : 50 };
        expect(await studio.put(coordinator, `${origin}/day%201/${name}`, rig, [origin])).toBe('added');
      }
      expect(await studio.work({ atOnce: 1, origins: [origin] })).toMatchObject({ measured: 2, failed: 0 });
      expect(asked[3]).toBe('bytes=2000-');
      await coordinator.collect(studio.place);
      expect(studio.begun()).toEqual(['far.mov', 'farther.mov']);
      expect(fs.readdirSync(path.join(studio.folder, 'temp'))).toEqual([]);
      // A worker that may not read it leaves it to those that may.
      await studio.put(coordinator, `${origin}/far.mov`, { focalLengthMm: 85 }, [origin]);
      const end = new AbortController();
      const working = studio.work({ signal: end.signal });
      await until(() => studio.told('left').length > 0, 'it is refused');
      end.abort();
      await working;
      expect(studio.told('left')).toMatchObject([{ name: 'far.mov', reason: /\[place-not-allowed\]$/ }]);
      expect(studio.told('failed')).toEqual([]);
      expect(await studio.work({ origins: [origin] })).toMatchObject({ measured: 1 });
    } finally {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    }
  });

  it('give the run of the clip that is measured in one process, by as many processes as it has stretches', async () => {
    const tools = await findTools();
    // Fifty frames in which nothing but the tilt shakes: three stretches, each of which stands for minutes.
    const limits = { atOnce: 30, stretch: 20, shared: 12 };
    const { clipFile } = await madeUpClip(singleAxisPass('tilt'));
    const rig = { focalLengthMm: 28, sensorWidthMm: 36, speedMps: 0.2, readoutMs: 0 };
    const request = { rig, outPoint: '2s' };
    studio.take(clipFile, 'long.mp4');
    const order = await orderOf(
      { clip: `${studio.clips}/long.mp4`, request },
      [],
      new AbortController().signal,
    );
    await coordinator.put(order, { attempts: 3, backOffMs: 100 });
    await studio.work({ earnest: { limits, tools } });
    const { kept } = await coordinator.collect(studio.place);
    expect(kept).toHaveLength(1);
    const queued = kept[0].run;

    // That stretches in a row give the same to the bit is shown where they are measured.
    const { run: atOnce } = await measure({ clip: clipFile, ...request }, { threads: 1, tools });
    expect(queued.clip.frameCount).toBe(atOnce.clip.frameCount);
    const [low, high] = atOnce.motion.angular.tilt.ci95Deg ?? [NaN, NaN];
    expect(queued.motion.angular.tilt.rmsDeg).toBeGreaterThan(low);
    expect(queued.motion.angular.tilt.rmsDeg).toBeLessThan(high);
    const { cropPercent } = atOnce.stabilise;
    expectWithin(queued.stabilise.cropPercent, cropPercent, {
      abs: 0.1 * cropPercent,
      why: 'the largest excursion of two seconds, seen in three stretches',
    });
    expect(queued.verdict.grade).toBe(atOnce.verdict.grade);
  });
});
