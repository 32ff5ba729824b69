/** The end of the program, however it comes, and the queue: nothing that waits or runs is lost, and nothing is tried without end. */
import fs from 'node:fs';
import path from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import type { Job } from '../../../src/web/api.js';
import { writeFakeWorker } from '../../web/jobs/support/fake-worker.js';
import { recordedQueue, type RecordedQueue } from '../../web/jobs/support/recorded-queue.js';

const open: RecordedQueue[] = [];
afterEach(async () => {
  for (const recorded of open.splice(0)) await recorded.close();
});

async function queueOf(atOnce = 1, left: RecordedQueue | null = null): Promise<RecordedQueue> {
  const means = (folder: string) => ({ url: writeFakeWorker(folder), graceMs: 300 });
  const recorded = await recordedQueue(means, { atOnce }, left?.folder ?? null);
  open.push(recorded);
  return recorded;
}

async function order({ queue }: RecordedQueue, clip: string, notes: string, lens = '28mm'): Promise<string> {
  const { id } = queue.add({ kind: 'measure', clip, settings: { notes, focal: lens } });
  await queue.saved();
  return id;
}

const file = ({ dataDir }: RecordedQueue): string => path.join(dataDir, 'queue.json');
const shown = ({ queue }: RecordedQueue): unknown =>
  queue.list().map(({ clipName, settings, state, isAnew }) => [clipName, settings['focal'], state, isAnew]);
const hasBegun = ({ stage }: Job): boolean => stage === 'track';
const hasEnded = ({ state }: Job): boolean => ['done', 'failed', 'cancelled'].includes(state);

describe('the program ends while clips wait and are measured', () => {
  it('power cut: all go on in their order with their settings, and what ran begins anew and says so', async () => {
    const before = await queueOf();
    const ran = await order(before, 'hall', 'waits', '28mm');
    await order(before, 'loft', 'waits', '35mm');
    await order(before, 'rail', 'waits', '50mm');
    await before.until(ran, hasBegun);
    const after = await queueOf(1, before);
    expect(shown(after)).toEqual([
      ['hall.mp4', '28mm', 'running', true],
      ['loft.mp4', '35mm', 'queued', false],
      ['rail.mp4', '50mm', 'queued', false],
    ]);
    expect(after.queue.list()[0].id).toBe(ran);
  });

  it('asked to end: the same, and the ones that were stopped for it count as no crash', async () => {
    let now = await queueOf();
    const ran = await order(now, 'hall', 'waits');
    await order(now, 'loft', 'measures');
    for (let i = 0; i < 3; i++) {
      await now.until(ran, hasBegun);
      await now.queue.close();
      now = await queueOf(1, now);
    }
    expect(shown(now)).toEqual([
      ['hall.mp4', '28mm', 'running', true],
      ['loft.mp4', '28mm', 'queued', false],
    ]);
  });

  it('what was done, failed or cancelled by then does not come back', async () => {
    const before = await queueOf();
    for (const notes of ['measures', 'refuses', 'crashes'])
      await before.until(await order(before, 'hall', notes), hasEnded);
    const ran = await order(before, 'hall', 'ignores');
    const waited = await order(before, 'loft', 'waits');
    await before.until(ran, hasBegun);
    before.queue.stop(waited);
    // It does not listen: the program ends before it is gone.
    before.queue.stop(ran);
    await before.queue.saved();
    expect(shown(await queueOf(1, before))).toEqual([]);
  });

  it('a job that ended the program twice is set aside with a sentence and not begun a third time; the next goes on', async () => {
    let now = await queueOf();
    const bad = await order(now, 'hall', 'waits');
    const next = await order(now, 'loft', 'measures');
    for (let i = 0; i < 2; i++) {
      await now.until(bad, hasBegun);
      now = await queueOf(1, now);
    }
    await now.until(next, ({ state }) => state === 'done');
    const job = now.queue.list().find(({ id }) => id === bad);
    expect(job).toMatchObject({ state: 'failed', problem: { code: 'ended-twice' } });
    expect(job?.problem?.detail).toMatch(/^The program ended twice .* Try it again .*\.$/);
    // It stays until somebody takes it off.
    await now.queue.saved();
    const later = await queueOf(1, now);
    expect(shown(later)).toEqual([['hall.mp4', '28mm', 'failed', true]]);
    later.queue.stop(bad);
    await later.queue.saved();
    expect(shown(await queueOf(1, later))).toEqual([]);
  });

  it('half a report that was being written is cleared away before it begins anew', async () => {
    const before = await queueOf();
    const ran = await order(before, 'hall', 'waits');
    await before.until(ran, hasBegun);
    await before.queue.saved();
    const made = path.join(before.folder, 'made', 'hall');
    fs.mkdirSync(made, { recursive: true });
    const kept = JSON.parse(fs.readFileSync(file(before), 'utf8')) as { jobs: { writing: unknown }[] };
    kept.jobs[0].writing = { folder: made, made: true };
    fs.writeFileSync(file(before), JSON.stringify(kept));
    await queueOf(1, before);
    expect(fs.existsSync(made)).toBe(false);
  });

  it('its clip is not known any more: the job fails with a sentence, the others go on', async () => {
    const before = await queueOf(0);
    before.clips.set('cellar', { ...before.clips.get('hall')!, id: 'cellar', name: 'cellar.mp4' });
    const lost = await order(before, 'cellar', 'measures');
    const next = await order(before, 'hall', 'measures');
    const after = await queueOf(1, before);
    expect((await after.until(lost, hasEnded)).problem?.code).toBe('clip-unknown');
    await after.until(next, ({ state }) => state === 'done');
  });
});

describe('the file of the queue', () => {
  const job = {
    ...{ id: 'a', clip: 'hall', clipName: 'hall.mp4', queuedAt: '2031-03-14T08:00:00.000Z' },
    ...{ order: { kind: 'measure', clip: 'hall', settings: { notes: 'measures' } } },
    ...{ isRunning: false, isAnew: false, crashes: 0, writing: null },
  };
  const text = (change: object, format = 'trundle-queue/1'): string =>
    JSON.stringify({ format, jobs: [{ ...job, ...change }] });
  it.each([
    ['cut short', text({}).slice(0, 40)],
    ['empty', ''],
    ['of a later version', text({}, 'trundle-queue/2')],
    ['no list', '{"format":"trundle-queue/1","jobs":{}}'],
    ['an order that is none', text({ order: { kind: 'remove', clip: 'hall' } })],
    ['settings that are no texts', text({ order: { ...job.order, settings: { focal: 28 } } })],
    ['a place that is not absolute', text({ writing: { folder: '../../home', made: true } })],
    ['a count that is none', text({ crashes: -0.5 })],
    ['a moment that is none', text({ queuedAt: 'today' })],
  ])('%s: is set aside under a dated name, the queue begins empty and takes orders', async (_, content) => {
    const before = await queueOf(0);
    fs.mkdirSync(before.dataDir, { recursive: true });
    fs.writeFileSync(file(before), content);
    const after = await queueOf(0, before);
    expect(after.queue.list()).toEqual([]);
    const aside = fs.readdirSync(after.dataDir).filter((name) => /^queue\.json\.damaged-[\d-]+$/.test(name));
    expect(aside.map((name) => fs.readFileSync(path.join(after.dataDir, name), 'utf8'))).toEqual([content]);
    const id = await order(after, 'hall', 'measures');
    expect(fs.readFileSync(file(after), 'utf8')).toContain(id);
  });

  it('sound: what it holds is taken up', async () => {
    const before = await queueOf();
    fs.mkdirSync(before.dataDir, { recursive: true });
    fs.writeFileSync(file(before), text({}));
    const after = await queueOf(1, before);
    expect((await after.until('a', hasEnded)).state).toBe('done');
  });

  it('cannot be written: clips are measured all the same, and a warning says once that the queue is not safe', async () => {
    const recorded = await queueOf();
    // A file in the place of the data folder, as where a disk went: root, too, cannot write below it.
    fs.writeFileSync(recorded.dataDir, '');
    const warnings: string[] = [];
    const hear = (warning: Error): void => void warnings.push(warning.message);
    process.on('warning', hear);
    try {
      for (let i = 0; i < 2; i++)
        expect((await recorded.until(await order(recorded, 'hall', 'measures'), hasEnded)).state).toBe(
          'done',
        );
      await expect.poll(() => warnings.length).toBe(1);
      expect(warnings[0]).toMatch(/is not safe against the end of the program: .*check that the folder/);
    } finally {
      process.off('warning', hear);
    }
  });

  it('is written before an order is answered, however many come at once', async () => {
    const recorded = await queueOf(0);
    for (let i = 0; i < 60; i++)
      recorded.queue.add({ kind: 'measure', clip: 'hall', settings: { notes: 'measures' } });
    await recorded.queue.saved();
    const { jobs } = JSON.parse(fs.readFileSync(file(recorded), 'utf8')) as { jobs: { id: string }[] };
    expect(jobs.map(({ id }) => id)).toEqual(recorded.queue.list().map(({ id }) => id));
  });
});
