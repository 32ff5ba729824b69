/** The queue on a real Redis: a clip is measured once and kept once, whatever is asked twice; what fails, waits or is given back. */
import fs from 'node:fs';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { WITHOUT_REDIS, titled } from './support/redis-server.js';
import { statusText } from '../../src/cli/queue-status.js';
import { until, type Studio, type WorkerWish } from './support/studio.js';
import { studioForEach } from './support/studios.js';
import type { Coordinator } from '../../src/queue/index.js';

// What takes seconds on a quiet machine takes minutes on a busy one.
vi.setConfig({ testTimeout: 240_000 });

describe.skipIf(WITHOUT_REDIS !== null)(titled('the queue'), () => {
  const opened = studioForEach('test');
  let studio: Studio;
  let coordinator: Coordinator;
  beforeEach(() => {
    ({ studio, coordinator } = opened());
  });

  it('measures what is put in and brings it into log and reports, once each', async () => {
    for (const name of ['hall.mov', 'dock.mov'])
      expect(await studio.put(coordinator, studio.clip(name))).toBe('added');
    // The same bytes under another name are the same clip.
    fs.copyFileSync(studio.clip('hall.mov'), `${studio.clips}/copy.mov`);
    expect(await studio.put(coordinator, `${studio.clips}/copy.mov`)).toBe('there');
    expect(await studio.work()).toEqual({ measured: 2, failed: 0, returned: 0, left: 0 });
    expect(await coordinator.load()).toEqual({ toCome: 0, running: 0, measured: 2 });
    // Put in again while its result waits.
    expect(await studio.put(coordinator, studio.clip('hall.mov'))).toBe('measured');
    const found = await coordinator.collect(studio.place);
    expect(found.kept.map(({ already }) => already)).toEqual([false, false]);
    expect(studio.logged()).toHaveLength(2);
    expect(studio.reports()).toHaveLength(2);
    expect(await coordinator.collect(studio.place)).toEqual({ kept: [], unreadable: 0, lost: 0 });
    expect(await coordinator.load()).toEqual({ toCome: 0, running: 0, measured: 0 });
    expect(studio.begun().sort()).toEqual(['copy.mov', 'dock.mov'].sort());
  });

  it('keeps nothing beside a run of the log that has the same clip and settings, and measures with others', async () => {
    const hall = studio.clip('hall.mov');
    for (const focalLengthMm of [35, 35, 50]) {
      await studio.put(coordinator, hall, { focalLengthMm });
      await studio.work();
      await coordinator.collect(studio.place);
    }
    expect(studio.begun()).toHaveLength(3);
    expect(studio.logged()).toHaveLength(2);
    expect(studio.reports()).toHaveLength(2);
  });

  it('tries again later what may pass, and then measures it', async () => {
    await studio.put(coordinator, studio.clip('hall.mov', 'once ffmpeg-broke-off'));
    expect(await studio.work()).toEqual({ measured: 1, failed: 1, returned: 0, left: 0 });
    expect(studio.told('failed')).toMatchObject([
      { again: true, reason: /will not do\. \[ffmpeg-broke-off\]/ },
    ]);
    expect(studio.begun()).toHaveLength(2);
  });

  it('gives up at once a clip that will not do, and after its tries one whose process always dies; says why; takes them when put in again', async () => {
    await studio.put(coordinator, studio.clip('notes.mov', 'fail clip-no-video'));
    await studio.put(coordinator, studio.clip('huge.mov', 'die now'));
    expect(await studio.work()).toEqual({ measured: 0, failed: 4, returned: 0, left: 0 });
    expect(studio.begun().sort()).toEqual(['huge.mov', 'huge.mov', 'huge.mov', 'notes.mov']);
    const { failed } = await coordinator.status();
    const told = failed.map(({ name, failure }) => ({ name, ...failure }));
    expect(told).toHaveLength(2);
    expect(told).toContainEqual({
      ...{ name: 'notes.mov', code: 'clip-no-video' },
      sentence: 'It is "notes.mov" that will not do.',
    });
    expect(told).toContainEqual({
      ...{ name: 'huge.mov', code: 'worker-ended' },
      sentence: expect.stringMatching(
        /^The process that measured "huge\.mov" ended without a word/,
      ) as unknown,
    });
    expect(await studio.put(coordinator, `${studio.clips}/notes.mov`)).toBe('again');
    expect(await coordinator.load()).toMatchObject({ toCome: 1 });
    expect(await coordinator.forgetFailed()).toBe(1);
  });

  it('refuses a clip that is another by now', async () => {
    const hall = studio.clip('hall.mov');
    await studio.put(coordinator, hall);
    fs.writeFileSync(hall, 'other bytes of another length');
    await studio.work();
    expect(studio.told('failed')).toMatchObject([{ again: false, reason: /hall\.mov".* \[clip-changed\]$/ }]);
  });

  it('holds back while too many clips wait, and goes on when there is room', async () => {
    for (const name of ['a.mov', 'b.mov']) await studio.put(coordinator, studio.clip(name));
    const end = new AbortController();
    const working = studio.work({ signal: end.signal });
    let held = 0;
    await coordinator.untilRoom(2, {
      collect: () => coordinator.collect(studio.place),
      signal: end.signal,
      onHeld: () => held++,
    });
    expect(held).toBeGreaterThan(0);
    const { toCome, measured } = await coordinator.load();
    expect(toCome + measured).toBeLessThan(2);
    end.abort();
    await working;
  });

  it.each<[string, () => WorkerWish, string]>([
    ['may not read', () => ({ folders: [fs.mkdtempSync(`${studio.folder}/empty-`)] }), 'place-not-allowed'],
    [
      'does not find where a map leads',
      () => ({ folders: [], maps: [`${studio.clips}=${fs.mkdtempSync(`${studio.folder}/empty-`)}`] }),
      'clip-missing',
    ],
  ])(
    'leaves to others what a worker %s: no try is counted, and it ends when nothing else is left',
    async (_, wish, code) => {
      for (const name of ['a.mov', 'b.mov']) await studio.put(coordinator, studio.clip(name));
      const [end, others] = [new AbortController(), wish()];
      const working = studio.work({ ...others, name: 'cart-3', signal: end.signal, untilEmpty: false });
      await until(() => studio.told('left').length === 2, 'both are left');
      // Each is looked at again more often than it has tries.
      await new Promise((resolve) => setTimeout(resolve, 1500));
      await until(async () => (await coordinator.status()).left.length === 2, 'both rest');
      const status = await coordinator.status();
      expect(status).toMatchObject({ waiting: 2, later: [], failed: [] });
      expect(status.left[0]).toMatchObject({ worker: 'cart-3', failures: 0, failure: { code } });
      expect(statusText(status)).toMatch(
        new RegExp(
          `^2 waiting,.*\\nwaiting +/.*/clips/[ab]\\.mov  left to others by cart-3: .* \\[${code}\\]$`,
          'm',
        ),
      );
      end.abort();
      expect(await working).toEqual({ measured: 0, failed: 0, returned: 0, left: 2 });
      expect(studio.told('begun')).toEqual([]);
      expect(studio.told('left')).toHaveLength(2);
      expect(await studio.work(others)).toMatchObject({ measured: 0, failed: 0, left: 2 });
      expect(await studio.work()).toEqual({ measured: 2, failed: 0, returned: 0, left: 0 });
      expect((await coordinator.status()).left).toEqual([]);
    },
  );

  it('finishes what is under way when it is asked to end, and begins nothing more', async () => {
    for (const name of ['a.mov', 'b.mov', 'c.mov'])
      await studio.put(coordinator, studio.clip(name, 'wait 400'));
    const end = new AbortController();
    const working = studio.work({ atOnce: 1, signal: end.signal });
    await until(() => studio.begun().length === 1, 'the first clip is begun');
    end.abort();
    expect(await working).toEqual({ measured: 1, failed: 0, returned: 0, left: 0 });
    expect(await coordinator.load()).toEqual({ toCome: 2, running: 0, measured: 1 });
  });

  it('gives back at once what is under way when it is asked twice; no try is lost by that', async () => {
    await studio.put(coordinator, studio.clip('long.mov', 'wait 60000'));
    const [end, giveBack] = [new AbortController(), new AbortController()];
    const working = studio.work({ signal: end.signal, giveBack: giveBack.signal });
    await until(() => studio.begun().length === 1, 'the clip is begun');
    end.abort();
    giveBack.abort();
    expect(await working).toEqual({ measured: 0, failed: 0, returned: 1, left: 0 });
    expect(await coordinator.load()).toEqual({ toCome: 1, running: 0, measured: 0 });
    fs.writeFileSync(`${studio.clips}/long.mov`, '');
    await studio.work();
    // Its first failure, of three tries that it has.
    expect(studio.told('failed')).toMatchObject([{ reason: /clip-changed/ }]);
  });

  it('tells how it stands while a clip is measured', async () => {
    await studio.put(coordinator, studio.clip('hall.mov', 'wait 1500'));
    const working = studio.work({ name: 'cart-2' });
    await until(
      async () => (await coordinator.status()).running[0]?.progress?.stage === 'track',
      'it says how far it is',
    );
    const status = await coordinator.status();
    expect(status).toMatchObject({ waiting: 0, later: [], failed: [], toCollect: 0 });
    expect(status.running).toMatchObject([{ name: 'hall.mov', worker: 'cart-2', attempts: 3, failures: 0 }]);
    expect(status.workers.join()).toContain('cart-2');
    await working;
  });
});
