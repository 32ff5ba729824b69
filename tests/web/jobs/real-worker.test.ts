/** The real worker on a sample clip: killed in the middle, measured to the end, rendered as a proof. */
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findTools, probeClip, sha256OfFile, type Tools } from '../../../src/footage/index.js';
import { openLog } from '../../../src/log/index.js';
import { readMeasured } from '../../../src/read-measured.js';
import type { Job, Look, Trace } from '../../../src/web/api.js';
import { processesWith } from './support/processes.js';
import { recordedQueue, type RecordedQueue } from './support/recorded-queue.js';

const SAMPLE = path.resolve(import.meta.dirname, '../../../sample-clips/tiled-corridor.mp4');
/** As it was built: a worker that has to load the sources through a compiler first takes seconds to start. */
const BUILT_WORKER = new URL('../../../dist/web/jobs/worker.js', import.meta.url);
/** As it lies on the disk. */
const CLIP = 'tiled-corridor.mp4';
const SETTINGS = {
  ...{ focal: '28mm', sensor: '36mm', for: 'web HD' },
  ...{ in: '0.2s', out: '2.2s', width: '320', setup: 'hard wheels' },
};
/** Loading the sources and measuring, on a busy machine. */
const LONG_MS = 90_000;

/** Two and a half seconds of the clip, smaller: enough for a verdict, no more than needed for the way there. */
function makeSmall({ ffmpeg }: Tools, from: string, to: string): void {
  const coding = ['-vf', 'scale=480:-2', '-an', '-c:v', 'libx264', '-preset', 'ultrafast', '-crf', '12'];
  execFileSync(ffmpeg.path, ['-v', 'error', '-ss', '1', '-t', '2.5', '-i', from, ...coding, to]);
}

const hasEnded = ({ state }: Job): boolean => ['done', 'failed', 'cancelled'].includes(state);

describe('a measurement in a process of its own', () => {
  let tools: Tools;
  let recorded: RecordedQueue;
  let done: Job;
  beforeAll(async () => {
    tools = await findTools();
    recorded = await recordedQueue(() => ({ url: BUILT_WORKER }), { tools, threads: 1 });
    const clip = path.join(recorded.folder, CLIP);
    makeSmall(tools, SAMPLE, clip);
    recorded.clips.set('corridor', {
      id: 'corridor',
      name: 'Flur / 2 : früh.mp4',
      path: clip,
      origin: 'upload',
    });
  });
  afterAll(() => recorded.close());

  it(
    'fails alone when its process is killed, leaves neither FFmpeg nor files behind, and the next one is measured',
    { timeout: LONG_MS },
    async () => {
      const [killed, next] = [1, 2].map(() =>
        recorded.queue.add({ kind: 'measure', clip: 'corridor', settings: SETTINGS }),
      );
      // Its FFmpeg reads the clip; where processes cannot be looked at, its first frames say so.
      const reads = (): boolean => processesWith(path.join(recorded.folder, CLIP)).length > 0;
      await recorded.until(
        killed.id,
        ({ stage }) => stage === 'track' || (stage !== null && reads()),
        LONG_MS,
      );
      const workers = processesWith('jobs/worker.js').filter(({ parent }) => parent === process.pid);
      if (process.platform === 'linux') expect(workers).toHaveLength(1);
      for (const { pid } of workers) process.kill(pid, 'SIGKILL');
      if (workers.length === 0) recorded.queue.stop(killed.id);
      const lost = await recorded.until(killed.id, hasEnded, LONG_MS);
      if (workers.length > 0)
        expect(lost).toMatchObject({ state: 'failed', problem: { code: 'worker-died' } });
      expect(processesWith(recorded.folder)).toEqual([]);
      expect(fs.readdirSync(recorded.outDir)).toEqual([]);

      done = await recorded.until(next.id, hasEnded, LONG_MS);
      expect(done).toMatchObject({ state: 'done', run: 1, problem: null });
      expect(done.sentence).toMatch(/\.$/);
    },
  );

  it('has written a report folder named after the clip and kept the run in the log, with the settings that were typed', async () => {
    const [folder] = fs.readdirSync(recorded.outDir);
    expect(folder).toBe('Flur - 2 - früh');
    const report = path.join(recorded.outDir, folder);
    expect(fs.readdirSync(report)).toEqual(
      expect.arrayContaining(['report.html', 'run.json', 'series.json']),
    );
    const log = openLog(path.join(recorded.dataDir, 'runs.db'));
    const { row, run } = log.get(1);
    log.close();
    expect(row).toMatchObject({
      reportFolder: report,
      grade: done.grade,
      focalLengthMm: 28,
      hasSeries: true,
    });
    expect(row.pass.setup).toBe('hard wheels');
    expect(run).toEqual((await readMeasured(report)).run);
    expect(recorded.noted.get('corridor')).toBe(
      await sha256OfFile(recorded.clips.get('corridor')?.path ?? ''),
    );
  });

  it('has told its stages in order, frames a second and the time left', () => {
    const jobs = recorded.told.filter(({ name }) => name === 'job').map(({ data }) => data as Job);
    const stages = jobs.filter(({ id }) => id === done.id).map(({ stage }) => stage);
    const order = ['probe', 'track', 'split', 'judge', 'write'];
    const seen = [...new Set(stages)].filter((stage) => stage !== null);
    expect(seen).toEqual(order.filter((stage) => seen.includes(stage as never)));
    expect(seen).toEqual(expect.arrayContaining(['track', 'split']));
    const left = jobs.filter(({ id, leftS }) => id === done.id && leftS !== null);
    expect(left.length).toBeGreaterThan(0);
  });

  it('has shown frames with their points, and rough angles of every frame from zero on', () => {
    const told = <T>(name: string): T[] =>
      recorded.told
        .filter((event) => event.name === name && (event.data as { job: string }).job === done.id)
        .map(({ data }) => data as T);
    const look = told<Look>('look').at(-1);
    expect(look).toMatchObject({ widthPx: 320, heightPx: 180 });
    expect(look?.picture).toMatch(/^data:image\/jpeg;base64,\/9j\//);
    expect(look?.points.length).toBeGreaterThan(100);
    const traces = told<Trace>('trace');
    expect(traces[0].from).toBe(0);
    const all = traces.flatMap(({ timeS }) => timeS);
    // 25 frames a second, stamped from 0.20 to 2.16 s.
    expect(all).toHaveLength(50);
    traces.slice(1).forEach(({ from }, i) => expect(from).toBe(traces[i].from + traces[i].timeS.length));
    expect([traces[0].panDeg[0], traces[0].tiltDeg[0], traces[0].rollDeg[0]]).toEqual([0, 0, 0]);
    const tilt = traces.flatMap(({ tiltDeg }) => tiltDeg);
    expect(Math.max(...tilt) - Math.min(...tilt)).toBeGreaterThan(0.01);
  });

  it(
    'renders the run stabilised into its report folder without measuring again',
    { timeout: LONG_MS },
    async () => {
      const order = { kind: 'proof', run: 1, layout: 'alone', window: 'centred' } as const;
      const job = await recorded.until(recorded.queue.add(order).id, hasEnded, LONG_MS);
      const file = path.join(recorded.outDir, 'Flur - 2 - früh', 'proof.mp4');
      expect(job).toMatchObject({ state: 'done', run: 1, sentence: `The stabilised clip is "${file}".` });
      expect(await probeClip(file, tools)).toMatchObject({ frameCount: 50, fps: 25 });
    },
  );
});
