/** A Redis that is full, late, encrypted, locked, too old or of another number: one sentence each, and nothing is lost. */
import { execFileSync, spawn } from 'node:child_process';
import fs from 'node:fs';
import net, { type AddressInfo } from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { orderOf } from '../../src/queue/index.js';
import { toolVersion } from '../../src/tool-version.js';
import { runWords, runWordsWith } from '../support/recorded-io.js';
import { RedisServer, WITHOUT_REDIS, titled } from './support/redis-server.js';
import { until } from './support/studio.js';
import { studioForEach, studiosApart } from './support/studios.js';

// What takes seconds on a quiet machine takes minutes on a busy one.
vi.setConfig({ testTimeout: 240_000 });

/** Less than an empty Redis takes. */
const NO_MEMORY_BYTES = 1000;
const FULL = /^Redis at 127\.0\.0\.1:\d+ is full: its maxmemory is used up/;

describe.skipIf(WITHOUT_REDIS !== null)(titled('a Redis that is full'), () => {
  const opened = studioForEach('full');
  afterEach(() => opened().redis.limitMemory(0));

  it('keeps a worker waiting with what it has measured, told once, and nothing is lost when there is room', async () => {
    const { redis, studio, coordinator } = opened();
    await studio.put(coordinator, studio.clip('a.mov', 'wait 1000'));
    await studio.put(coordinator, studio.clip('b.mov'));
    const end = new AbortController();
    const working = studio.work({ atOnce: 1, signal: end.signal });
    await until(() => studio.begun().length === 1, 'the first is measured');
    await redis.limitMemory(NO_MEMORY_BYTES);
    const told = (): string[] => studio.told('note').map(({ sentence }) => sentence);
    await until(() => told().length > 0, 'it is told');
    // Long enough for two further tries.
    await new Promise((resolve) => setTimeout(resolve, 4500));
    expect(told()).toEqual([expect.stringMatching(FULL)]);
    expect(await coordinator.load()).toMatchObject({ measured: 0 });
    await redis.limitMemory(0);
    await until(async () => (await coordinator.load()).measured === 2, 'both have arrived');
    end.abort();
    expect(await working).toEqual({ measured: 2, failed: 0, returned: 0, left: 0 });
    await coordinator.collect(studio.place);
    expect(studio.logged()).toEqual(['a.mov', 'b.mov']);
    expect(studio.begun()).toEqual(['a.mov', 'b.mov']);
  });

  it('holds back a worker that has nothing, which ends all the same when it is asked', async () => {
    const { redis, studio, coordinator } = opened();
    await studio.put(coordinator, studio.clip('a.mov'));
    await redis.limitMemory(NO_MEMORY_BYTES);
    const end = new AbortController();
    const working = studio.work({ signal: end.signal });
    await until(() => studio.told('note').length > 0, 'it is told');
    await new Promise((resolve) => setTimeout(resolve, 2500));
    end.abort();
    expect(await working).toEqual({ measured: 0, failed: 0, returned: 0, left: 0 });
    expect(studio.told('note')).toHaveLength(1);
    await redis.limitMemory(0);
    expect(await studio.work()).toMatchObject({ measured: 1 });
  });

  it('holds back adding until there is room, and still gives out what is measured', async () => {
    const { redis, studio, coordinator } = opened();
    await studio.put(coordinator, studio.clip('a.mov'));
    await studio.work();
    await redis.limitMemory(NO_MEMORY_BYTES);
    const words = ['--redis', redis.url, '--queue', studio.queue, '--data-dir', path.dirname(studio.logFile)];
    let isFull = false;
    const adding = runWordsWith(
      { onErr: (text) => (isFull ||= FULL.test(text)) },
      ...['queue', 'add', studio.clip('b.mov'), ...words],
    );
    await until(() => isFull, 'it is held back');
    const collected = await runWords('queue', 'collect', ...words, '--out-dir', studio.outDir);
    expect(collected).toMatchObject({ status: 0, err: '1 clip collected.\n' });
    await redis.limitMemory(0);
    expect(await adding).toMatchObject({
      status: 0,
      out: 'b.mov: added\n',
      err: expect.stringMatching(/ when there is room\. [^\n]+\n1 clip added of 1\.\n$/) as unknown,
    });
  });
});

describe.skipIf(WITHOUT_REDIS !== null)(titled('two versions of the program at one queue'), () => {
  const opened = studioForEach('versions');

  it('leave the orders of each other alone, which costs no try, and say why', async () => {
    const { studio, coordinator } = opened();
    const clip = studio.clip('a.mov');
    const order = await orderOf({ clip, request: {} }, [], new AbortController().signal);
    const tries = { attempts: 1, backOffMs: 100 };
    await coordinator.put({ ...order, version: '9.8.7' }, tries);
    expect(await studio.work()).toEqual({ measured: 0, failed: 0, returned: 0, left: 1 });
    const sentence = `It was ordered by version 9.8.7 of the program, and this worker has ${toolVersion().version}; bring both to the same version, and add it again.`;
    expect(studio.told('left')).toMatchObject([{ name: 'a.mov', reason: `${sentence} [order-unreadable]` }]);
    expect((await coordinator.status()).left).toMatchObject([
      { name: 'a.mov', worker: 'here', failures: 0, failure: { sentence, code: 'order-unreadable' } },
    ]);
    // One that is written otherwise is called by its name all the same.
    const other = { ...order, version: undefined, lens: 'a word of later versions' };
    await coordinator.put(other as never, tries);
    await studio.work();
    expect((await coordinator.status()).left).toMatchObject([{ name: 'a.mov', place: clip, failures: 0 }]);
    // Ordered again by this version it goes to workers of this version.
    expect(await coordinator.put(order, tries)).toBe('there');
    expect(await studio.work()).toEqual({ measured: 1, failed: 0, returned: 0, left: 0 });
  });
});

describe.skipIf(WITHOUT_REDIS !== null)(titled('a Redis that cannot be used'), () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-tls-'));
  const open = studiosApart();
  const status = (url: string) => runWords('queue', 'status', '--redis', url);
  let redis: RedisServer;
  beforeAll(async () => (redis = await RedisServer.start({ password: 'open-sesame' })));
  afterAll(async () => {
    await redis.end();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it.each<[string, (url: string) => string, RegExp]>([
    ['a wrong password', (url) => url.replace('open', 'close'), /lets nobody in without .*unreachable/],
    ['a database that it does not have', (url) => `${url}/99`, /\/99 refused: .*out of range.*unfit/],
  ])('is told in one sentence: %s', async (_, changed, sentence) => {
    const told = await status(changed(redis.url));
    expect(told).toMatchObject({ status: 2, out: '' });
    expect(told.err).toMatch(/^trundle: Redis at 127\.0\.0\.1:\d+[^\n]+\n$/);
    expect(told.err).toMatch(sentence);
    expect(told.err).not.toContain('sesame');
  });

  it('is told in one sentence: it is too old', async () => {
    const old = net.createServer((socket) => {
      const info = 'redis_version:5.0.14\r\nloading:0\r\n';
      socket.on('data', (asked) => {
        for (const [, word] of asked.toString().matchAll(/^\*\d+\r\n\$\d+\r\n(\w+)/gm))
          socket.write(/^info$/i.test(word) ? `$${info.length}\r\n${info}\r\n` : '+OK\r\n');
      });
      socket.on('error', () => undefined);
    });
    await new Promise<void>((resolve) => old.listen(0, '127.0.0.1', resolve));
    const { port } = old.address() as AddressInfo;
    expect(await status(`redis://127.0.0.1:${port}`)).toEqual({
      ...{ status: 2, out: '' },
      err: `trundle: Redis at 127.0.0.1:${port} is version 5.0.14; the queue needs 6.2 or newer. [queue-unfit]\n`,
    });
    await new Promise((resolve) => old.close(resolve));
  });

  it('is waited for by a worker where it is only late', async () => {
    const { redis: late, studio } = await open({ keeps: true });
    const coordinator = await studio.coordinator();
    await studio.put(coordinator, studio.clip('a.mov'));
    await coordinator.close();
    await late.kill();
    const end = new AbortController();
    const working = studio.work({ signal: end.signal });
    await until(() => studio.told('note').length > 0, 'it is told');
    expect(studio.told('note')[0]?.sentence).toMatch(/is not there yet \(ECONNREFUSED\); waiting for it\./);
    await late.begin();
    await until(() => studio.told('measured').length === 1, 'it is measured');
    end.abort();
    await working;
  });

  it('with a certificate of its own is told with what to do, which does', async (context) => {
    const [certificate, key] = [path.join(folder, 'own.crt'), path.join(folder, 'own.key')];
    try {
      const subject = ['-subj', '/CN=localhost', '-addext', 'subjectAltName=DNS:localhost,IP:127.0.0.1'];
      const made = ['req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes'];
      execFileSync('openssl', [...made, '-keyout', key, '-out', certificate, '-days', '2', ...subject], {
        stdio: 'ignore',
      });
    } catch {
      return context.skip('there is no openssl to make a certificate with');
    }
    const { redis: own } = await open({ tls: { certificate, key } });
    for (const url of [own.url, own.url.replace('127.0.0.1', 'localhost')])
      expect(await status(url)).toMatchObject({
        ...{ status: 2, out: '' },
        err: expect.stringMatching(
          /^trundle: Redis at .* has a certificate .* in NODE_EXTRA_CA_CERTS\. [^\n]+\n$/,
        ) as unknown,
      });
    expect((await status(own.url.replace('rediss', 'redis'))).err).toMatch(/begins with rediss:\/\/\./);
    const main = path.resolve(import.meta.dirname, '../../src/cli/main.ts');
    const child = spawn(process.execPath, ['--import', 'tsx', main, 'queue', 'status', '--redis', own.url], {
      env: { ...process.env, NODE_EXTRA_CA_CERTS: certificate },
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    let said = '';
    child.stderr.on('data', (data: Buffer) => (said += data.toString()));
    expect([await new Promise((resolve) => child.once('close', resolve)), said]).toEqual([0, '']);
  });
});
