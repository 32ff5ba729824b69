/** Workers, the machine with the log and Redis end in the middle of their work: nothing is lost, and nothing is there twice. */
import { describe, expect, it, vi } from 'vitest';
import { WITHOUT_REDIS, titled } from './support/redis-server.js';
import { kill, said, until } from './support/studio.js';
import { studiosApart } from './support/studios.js';

// What takes seconds on a quiet machine takes minutes on a busy one.
vi.setConfig({ testTimeout: 240_000 });

const NAMES = ['a.mov', 'b.mov', 'c.mov', 'd.mov'];

describe.skipIf(WITHOUT_REDIS !== null)(titled('a sudden end'), () => {
  const open = studiosApart();

  it('of a worker with two clips in hand: another one measures them', async () => {
    const { studio } = await open();
    const coordinator = await studio.coordinator();
    // Long enough that the end comes in the middle, on a busy machine too.
    for (const name of NAMES) await studio.put(coordinator, studio.clip(name, 'wait 3000'));
    const first = studio.start('work');
    await said(first, 'begun');
    await until(() => studio.begun().length === 2, 'both are measured');
    await kill(first);
    await studio.work({ name: 'second' });
    await coordinator.collect(studio.place);
    expect(studio.logged()).toEqual(NAMES);
    expect(studio.reports()).toHaveLength(NAMES.length);
    // The two that the first one had were begun twice, the others once.
    expect(studio.begun().sort()).toEqual(['a.mov', 'a.mov', 'b.mov', 'b.mov', 'c.mov', 'd.mov']);
    expect(await coordinator.load()).toEqual({ toCome: 0, running: 0, measured: 0 });
    await coordinator.close();
  });

  it('of the machine with the log while it collects, and its absence while clips are measured', async () => {
    const { studio } = await open();
    const before = await studio.coordinator();
    for (const name of NAMES) await studio.put(before, studio.clip(name));
    await before.close();
    await studio.work();
    const collecting = studio.start('collect');
    await said(collecting, 'kept');
    await kill(collecting);
    const after = await studio.coordinator();
    const { kept } = await after.collect(studio.place);
    expect(studio.logged()).toEqual(NAMES);
    expect(studio.reports()).toHaveLength(NAMES.length);
    // Some were safe before the end came, and some were not.
    expect(kept.length).toBeLessThan(NAMES.length);
    expect(await after.load()).toEqual({ toCome: 0, running: 0, measured: 0 });
    await after.close();
  });

  it('of two that collect at once: one of each is kept', async () => {
    const { studio } = await open();
    const [one, other] = [await studio.coordinator(), await studio.coordinator()];
    for (const name of NAMES) await studio.put(one, studio.clip(name));
    await studio.work();
    await Promise.all([one.collect(studio.place), other.collect(studio.place)]);
    expect(studio.logged()).toEqual(NAMES);
    expect(studio.reports()).toHaveLength(NAMES.length);
    await Promise.all([one.close(), other.close()]);
  });

  it('of a Redis that keeps what it is told: all go on when it is there again', async () => {
    const { redis, studio } = await open({ keeps: true });
    const coordinator = await studio.coordinator();
    for (const name of NAMES) await studio.put(coordinator, studio.clip(name, 'wait 2500'));
    const working = studio.work();
    await until(() => studio.begun().length === 2, 'two are measured');
    await redis.kill();
    await new Promise((resolve) => setTimeout(resolve, 300));
    await redis.begin();
    await working;
    await coordinator.collect(studio.place);
    expect(studio.logged()).toEqual(NAMES);
    expect(studio.told('note').map(({ sentence }) => sentence)).toContain(
      `Redis at 127.0.0.1:${redis.address.port} is there again.`,
    );
    expect(await coordinator.load()).toEqual({ toCome: 0, running: 0, measured: 0 });
    await coordinator.close();
  });

  it('of a Redis that forgets: what is in hand arrives, and the rest is put in again without anything twice', async () => {
    const { redis, studio } = await open();
    const coordinator = await studio.coordinator();
    for (const name of NAMES) await studio.put(coordinator, studio.clip(name, 'wait 2500'));
    const end = new AbortController();
    const working = studio.work({ signal: end.signal });
    await until(() => studio.begun().length === 2, 'two are measured');
    await redis.kill();
    await redis.begin();
    await until(async () => (await coordinator.load()).measured === 2, 'both have arrived');
    end.abort();
    await working;
    await coordinator.collect(studio.place);
    expect(studio.logged()).toEqual(['a.mov', 'b.mov']);
    for (const name of NAMES) await studio.put(coordinator, `${studio.clips}/${name}`);
    await studio.work();
    await coordinator.collect(studio.place);
    expect(studio.logged()).toEqual(NAMES);
    await coordinator.close();
  });
});
