/** What the queue does with its jobs, whatever their workers do. */
import fs from 'node:fs';
import path from 'node:path';
import type { Hono } from 'hono';
import { afterEach, describe, expect, it } from 'vitest';
import { openLog } from '../../../src/log/index.js';
import type { ClipEntry, Job } from '../../../src/web/api.js';
import { jobRoutes } from '../../../src/web/jobs/index.js';
import type { WorkerMeans } from '../../../src/web/jobs/work-process.js';
import { WebProblem, answerProblem } from '../../../src/web/server/problem.js';
import { madeUpBundle } from '../../report/support/made-up-bundle.js';
import { isAlive } from './support/processes.js';
import { writeFakeWorker, writeMuteWorker } from './support/fake-worker.js';
import { recordedQueue, type RecordedQueue } from './support/recorded-queue.js';

const hasEnded = ({ state }: Job): boolean => ['done', 'failed', 'cancelled'].includes(state);
const hasBegun = ({ stage }: Job): boolean => stage === 'track';

let open: RecordedQueue | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

async function queueOf(atOnce = 1, means: WorkerMeans = { graceMs: 300 }): Promise<RecordedQueue> {
  return (open = await recordedQueue((folder) => ({ url: writeFakeWorker(folder), ...means }), { atOnce }));
}

function ask({ queue }: RecordedQueue, act: string, clip = 'hall'): Job {
  return queue.add({ kind: 'measure', clip, settings: { notes: act } });
}

describe('the queue', () => {
  it('measures a clip: the job ends with run, grade and sentence, its clip and settings are remembered, the log is told', async () => {
    const recorded = await queueOf();
    const { id, state, clipName, ahead } = ask(recorded, 'measures');
    expect({ state, clipName, ahead }).toEqual({ state: 'running', clipName: 'hall.mp4', ahead: 0 });
    const job = await recorded.until(id, hasEnded);
    expect(job).toMatchObject({
      ...{ state: 'done', run: 7, grade: 'pass', sentence: 'It will do.', problem: null },
      ...{ stage: null, leftS: null, framesPerS: null },
    });
    expect(Date.parse(job.endedAt ?? '')).toBeGreaterThanOrEqual(Date.parse(job.startedAt ?? ''));
    expect(recorded.noted.get('hall')).toBe('ab');
    expect(recorded.remembered).toEqual([{ notes: 'measures' }]);
    const names = recorded.told.map(({ name }) => name);
    expect(names).toEqual(expect.arrayContaining(['job', 'look', 'trace', 'log']));
    expect(recorded.told.find(({ name }) => name === 'log')?.data).toEqual({ runs: [7] });
    expect(recorded.told.findLast(({ name }) => name === 'job')?.data).toEqual(job);
    // Forty frames came at once: a page is told now and then, not of each.
    expect(names.filter((name) => name === 'job').length).toBeLessThan(6);
  });

  it('runs as many at once as it may, the others in the order in which they came', async () => {
    const recorded = await queueOf(2);
    const ids = ['waits', 'waits', 'waits', 'measures'].map((act) => ask(recorded, act).id);
    const seen = (): unknown => recorded.queue.list().map(({ state, ahead }) => [state, ahead]);
    expect(seen()).toEqual([
      ['running', 0],
      ['running', 0],
      ['queued', 2],
      ['queued', 3],
    ]);
    await recorded.until(ids[1], hasBegun);
    recorded.queue.stop(ids[1]);
    await recorded.until(ids[2], hasBegun);
    expect(seen()).toEqual([
      ['running', 0],
      ['cancelled', 0],
      ['running', 0],
      ['queued', 2],
    ]);
    const ahead = recorded.told.filter(({ name, data }) => name === 'job' && (data as Job).id === ids[3]);
    expect((ahead.at(-1)?.data as Job).ahead).toBe(2);
    recorded.queue.stop(ids[0]);
    await recorded.until(ids[3], ({ state }) => state === 'done');
  });

  it('takes one that waits out of the line without starting it, and off the list when asked again', async () => {
    const recorded = await queueOf();
    const first = ask(recorded, 'waits');
    const second = ask(recorded, 'measures');
    recorded.queue.stop(second.id);
    expect(recorded.queue.list()[1]).toMatchObject({ state: 'cancelled', startedAt: null });
    recorded.queue.stop(second.id);
    expect(recorded.queue.list().map(({ id }) => id)).toEqual([first.id]);
    expect(recorded.told.at(-1)).toEqual({ name: 'gone', data: { job: second.id } });
    expect(() => recorded.queue.stop(second.id)).toThrow(expect.objectContaining({ code: 'job-unknown' }));
    await recorded.until(first.id, hasBegun);
  });

  it('ends a worker that does not listen, with the processes it has started', async () => {
    const recorded = await queueOf();
    const { id } = ask(recorded, 'ignores');
    const { done: pid } = await recorded.until(id, hasBegun);
    expect(isAlive(pid)).toBe(true);
    recorded.queue.stop(id);
    await recorded.until(id, ({ state }) => state === 'cancelled');
    await expect.poll(() => isAlive(pid)).toBe(false);
  });

  it('loses only the job whose worker crashes, says so plainly and goes on with the next', async () => {
    const recorded = await queueOf();
    const crash = ask(recorded, 'crashes');
    const next = ask(recorded, 'measures');
    const job = await recorded.until(crash.id, hasEnded);
    expect(job).toMatchObject({ state: 'failed', run: null, problem: { code: 'worker-died' } });
    expect(job.problem?.detail).toMatch(/^The work stopped in the middle, .*\.$/);
    await recorded.until(next.id, ({ state }) => state === 'done');
  });

  it('clears what a worker that was killed while writing has left', async () => {
    const recorded = await queueOf();
    const { id } = ask(recorded, 'dies');
    expect((await recorded.until(id, hasEnded)).problem?.code).toBe('worker-died');
    expect(fs.readdirSync(recorded.outDir)).toEqual([]);
  });

  it('leaves what others have put there', async () => {
    const recorded = await queueOf();
    const folder = path.join(recorded.outDir, 'hall');
    fs.mkdirSync(folder, { recursive: true });
    fs.writeFileSync(path.join(folder, 'notes.txt'), 'the third pass was the good one');
    fs.mkdirSync(path.join(recorded.outDir, '.loft-writing-aB3dE6'));
    await recorded.until(ask(recorded, 'dies').id, hasEnded);
    expect(fs.readdirSync(recorded.outDir).sort()).toEqual(['.loft-writing-aB3dE6', 'hall']);
    expect(fs.readdirSync(folder)).toEqual(['notes.txt']);
  });

  it('tells a failure of the measurement in its own words', async () => {
    const recorded = await queueOf();
    const job = await recorded.until(ask(recorded, 'refuses').id, hasEnded);
    expect(job).toMatchObject({ state: 'failed', problem: { code: 'clip-too-short', status: 422 } });
    expect(recorded.noted.size).toBe(0);
  });

  it('calls a run that could not be kept in the log done, and tells the problem', async () => {
    const recorded = await queueOf();
    const job = await recorded.until(ask(recorded, 'keeps nothing').id, hasEnded);
    expect(job).toMatchObject({ state: 'done', run: null, problem: { code: 'log-unwritable' } });
    expect(recorded.told.some(({ name }) => name === 'log')).toBe(false);
  });

  it('gives up a worker that never says a word', async () => {
    open = await recordedQueue((folder) => ({ url: writeMuteWorker(folder), startMs: 200 }));
    const job = await open.until(ask(open, 'measures').id, hasEnded);
    expect(job).toMatchObject({ state: 'failed', problem: { code: 'worker-died' } });
    expect(job.problem?.detail).toMatch(/could not be started/);
  });

  it('tells a page that comes later all jobs, and look and trace of those that run', async () => {
    const recorded = await queueOf();
    const first = ask(recorded, 'measures');
    await recorded.until(first.id, hasEnded);
    const { id } = ask(recorded, 'waits');
    await recorded.until(id, hasBegun);
    await expect.poll(() => recorded.queue.snapshot().length).toBe(3);
    const [jobs, look, trace] = recorded.queue.snapshot();
    expect(jobs).toEqual(['jobs', recorded.queue.list()]);
    expect(look).toEqual(['look', expect.objectContaining({ job: id, points: [1, 2] })]);
    expect(trace).toEqual(['trace', expect.objectContaining({ job: id, from: 0, panDeg: [0, 1] })]);
  });

  it('keeps the last fifty that have ended', async () => {
    const recorded = await queueOf();
    const first = ask(recorded, 'waits');
    const ids = Array.from({ length: 52 }, () => ask(recorded, 'measures').id);
    for (const id of ids) recorded.queue.stop(id);
    expect(recorded.queue.list().map(({ id }) => id)).toEqual([first.id, ...ids.slice(2)]);
    await recorded.until(first.id, hasBegun);
  });

  it('takes no more than some hundred that wait', async () => {
    const recorded = await queueOf(0);
    for (let i = 0; i < 500; i++) ask(recorded, 'measures');
    expect(() => ask(recorded, 'measures')).toThrow(expect.objectContaining({ code: 'queue-full' }));
    recorded.queue.stop(recorded.queue.list()[0].id);
    expect(ask(recorded, 'measures').state).toBe('queued');
  });

  it('ends its workers when it is closed: what ran or waited is kept, and nothing new is taken', async () => {
    const recorded = await queueOf();
    const running = ask(recorded, 'ignores');
    ask(recorded, 'measures');
    const { done: pid } = await recorded.until(running.id, hasBegun);
    await recorded.queue.close();
    expect(recorded.queue.list().map(({ state }) => state)).toEqual(['queued', 'queued']);
    await expect.poll(() => isAlive(pid)).toBe(false);
    expect(() => ask(recorded, 'measures')).toThrow(expect.objectContaining({ code: 'closing' }));
  });

  it('fails a job whose clip went while it waited', async () => {
    const recorded = await queueOf();
    const first = ask(recorded, 'waits');
    const second = ask(recorded, 'measures', 'loft');
    recorded.clips.delete('loft');
    recorded.queue.stop(first.id);
    expect((await recorded.until(second.id, hasEnded)).problem?.code).toBe('clip-unknown');
  });
});

describe('the queue under /api', () => {
  const SETTINGS = { notes: 'measures', focal: '28mm', for: 'web HD' };
  const send = (body: unknown): RequestInit => ({ method: 'POST', body: JSON.stringify(body) });
  /** Ten seconds at 25 frames a second, whichever clip is known. */
  const entry = (id: string): Promise<ClipEntry> => {
    if (id !== 'hall') return Promise.reject(new WebProblem(404, 'clip-unknown', 'It is not there.'));
    const rate = { fps: 25, fpsFraction: '25/1', variableRate: false, durationS: 10, frameCount: 250 };
    return Promise.resolve({
      ...{ id, name: 'hall.mp4', origin: 'folder', sizeBytes: 1, widthPx: 640, heightPx: 360 },
      ...{ ...rate, codec: 'h264', timecodeStart: null, rig: null },
    });
  };
  function appOf(recorded: RecordedQueue): Hono {
    const app = jobRoutes(recorded.queue, { entry });
    app.onError((error, context) => answerProblem(context, error));
    return app;
  }

  it('takes an order, lists it and takes it off again', async () => {
    const recorded = await queueOf();
    const app = appOf(recorded);
    const answer = await app.request('/jobs', send({ kind: 'measure', clip: 'hall', settings: SETTINGS }));
    expect(answer.status).toBe(201);
    const { id, settings } = (await answer.json()) as Job;
    expect(settings).toEqual(SETTINGS);
    await recorded.until(id, hasEnded);
    expect(await (await app.request('/jobs')).json()).toEqual(recorded.queue.list());
    expect((await app.request(`/jobs/${id}`, { method: 'DELETE' })).status).toBe(204);
    expect(await (await app.request('/jobs')).json()).toEqual([]);
  });

  it.each([
    ['a clip that is not known', { kind: 'measure', clip: 'cellar', settings: {} }, 404, 'clip-unknown'],
    [
      'a value without sense',
      { kind: 'measure', clip: 'hall', settings: { focal: 'long' } },
      422,
      'argument-invalid',
    ],
    [
      'an in point that cannot be read',
      { kind: 'measure', clip: 'hall', settings: { in: 'after lunch' } },
      422,
      'range-invalid',
    ],
    [
      'an in point beyond the end',
      { kind: 'measure', clip: 'hall', settings: { in: '00:00:10:00' } },
      422,
      'range-invalid',
    ],
    [
      'an out point before the in point',
      { kind: 'measure', clip: 'hall', settings: { in: '5s', out: '100f' } },
      422,
      'range-invalid',
    ],
    [
      'a setting that is none',
      { kind: 'measure', clip: 'hall', settings: { lense: '28mm' } },
      422,
      'argument-unknown',
    ],
    [
      'a run where there is no log',
      { kind: 'proof', run: 3, layout: 'alone', window: 'centred' },
      404,
      'log-entry-unknown',
    ],
    [
      'a layout that is none',
      { kind: 'proof', run: 3, layout: 'upside', window: 'centred' },
      400,
      'order-unreadable',
    ],
    [
      'settings that are no texts',
      { kind: 'measure', clip: 'hall', settings: { focal: 28 } },
      400,
      'order-unreadable',
    ],
    ['a list', [], 400, 'order-unreadable'],
  ])('refuses %s and takes nothing in', async (_, order, status, code) => {
    const recorded = await queueOf();
    const answer = await appOf(recorded).request('/jobs', send(order));
    expect(answer.status).toBe(status);
    expect(await answer.json()).toMatchObject({
      status,
      code,
      detail: expect.stringMatching(/[.]$/) as string,
    });
    expect(recorded.queue.list()).toEqual([]);
    expect(recorded.remembered).toEqual([]);
  });

  it('refuses what is no JSON, and to stop what is not there', async () => {
    const app = appOf(await queueOf());
    const unreadable = await app.request('/jobs', { method: 'POST', body: '{' });
    expect([unreadable.status, await unreadable.json()]).toMatchObject([400, { code: 'order-unreadable' }]);
    const unknown = await app.request('/jobs/none', { method: 'DELETE' });
    expect([unknown.status, await unknown.json()]).toMatchObject([404, { code: 'job-unknown' }]);
  });

  it('refuses a proof of a run that is not in the log, or was kept without its series', async () => {
    const recorded = await queueOf();
    const { run } = madeUpBundle();
    const log = openLog(path.join(recorded.dataDir, 'runs.db'));
    log.add({ run, series: null, reportFolder: null, picture: null, thumbnail: null });
    log.close();
    const app = appOf(recorded);
    const ask = async (id: number): Promise<unknown> =>
      (
        await app.request('/jobs', send({ kind: 'proof', run: id, layout: 'alone', window: 'centred' }))
      ).json();
    expect(await ask(9)).toMatchObject({ status: 404, code: 'log-entry-unknown' });
    expect(await ask(1)).toMatchObject({ status: 422, code: 'run-invalid' });
  });

  it('fails a proof whose clip is not known any more, and says what to do', async () => {
    const recorded = await queueOf();
    const { run, series } = madeUpBundle();
    const log = openLog(path.join(recorded.dataDir, 'runs.db'));
    log.add({ run, series, reportFolder: null, picture: null, thumbnail: null });
    log.close();
    const { id, clipName } = recorded.queue.add({
      kind: 'proof',
      run: 1,
      layout: 'alone',
      window: 'centred',
    });
    expect(clipName).toBe(run.clip.file);
    expect(await recorded.until(id, hasEnded)).toMatchObject({
      state: 'failed',
      run: 1,
      problem: { code: 'clip-missing', detail: expect.stringContaining('show where it is') as string },
    });
  });
});
