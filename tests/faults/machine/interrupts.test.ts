/** Interrupts at every stage of every command: status 130, one sentence with its code, nothing half-written, no process left. */
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { probeClip } from '../../../src/footage/index.js';
import { measure } from '../../../src/measure.js';
import { writePdfBeside, writeRun } from '../../../src/report/index.js';
import type { MeasureHooks } from '../../../src/measure-request.js';
import { processesNaming, tools } from '../../footage/made-clips.js';
import { madeUpBundle } from '../../report/support/made-up-bundle.js';
import { madeUpClip } from '../../support/made-up-clip.js';
import { madeUpRunFolder } from '../../support/made-up-runs.js';
import { runWordsWith, type CliResult } from '../../support/recorded-io.js';
import { misbehaving, WRONGS } from './support/misbehaving.js';

// What takes seconds on a quiet machine takes minutes on a busy one.
vi.setConfig({ testTimeout: 240_000 });

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-interrupt-'));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));
const place = (name: string): string => path.join(folder, name);

let clip = '';
beforeAll(async () => {
  const { clipFile, rigFile } = await madeUpClip({
    ...{ name: 'small-lateral', durationS: 3, fps: 25, widthPx: 640, heightPx: 360 },
    ...{ move: 'lateral', speedMps: 0.2, focalLengthMm: 35 },
  });
  // A name of its own, by which its processes are known.
  clip = place('interrupted-pass.mp4');
  fs.copyFileSync(clipFile, clip);
  // The rig is found beside the clip, and the first word of the program is on that.
  fs.copyFileSync(rigFile, place('interrupted-pass.rig.json'));
});

/** One sentence with its code, and where it is data that was asked for, none of it. */
function expectInterrupted({ status, err }: Pick<CliResult, 'status' | 'err'>): void {
  // Progress is drawn in place, each time over the last.
  const lines = err.split(/\r\u001b\[2K|\n/).filter((line) => line !== '');
  expect(lines.at(-1)).toMatch(/^trundle: Stopped [^\n]*\. \[interrupted\]$/);
  expect(err).not.toMatch(/\n\s+at /);
  expect(status).toBe(130);
}

describe('measure, stopped within the program', () => {
  type Stage = Parameters<NonNullable<MeasureHooks['onProgress']>>[0];

  it.each(['probe', 'track', 'split', 'judge'] as const)(
    'while it is at "%s": nothing measured, no process left',
    async (at: Stage) => {
      const stop = new AbortController();
      let stage: Stage | null = null;
      const measuring = measure(
        { clip, outPoint: '0.6s' },
        {
          ...{ tools, threads: 1, signal: stop.signal },
          onProgress(now, done) {
            stage = now;
            if (now === at && (now !== 'track' || done > 3)) stop.abort();
          },
        },
      );
      await expect(measuring).rejects.toMatchObject({ code: 'interrupted', exitStatus: 130 });
      expect(stage).toBe(at);
      expect(await processesNaming(clip)).toEqual([]);
    },
  );

  it('while its report is being written: the folder is as it was', async () => {
    const hall = place('reports/hall');
    await writeRun(hall, madeUpBundle());
    const before = fs.statSync(path.join(hall, 'run.json')).mtimeMs;
    const writing = writeRun(hall, madeUpBundle(), { signal: AbortSignal.abort() });
    await expect(writing).rejects.toMatchObject({ code: 'interrupted' });
    expect(fs.statSync(path.join(hall, 'run.json')).mtimeMs).toBe(before);
    expect(fs.readdirSync(place('reports'))).toEqual(['hall']);
  });

  it('before its PDF is printed: the report stands, no PDF, no browser left', async () => {
    const page = place('reports/hall/report.html');
    const stop = new AbortController();
    setTimeout(() => stop.abort(), 30);
    await expect(writePdfBeside(page, { paper: 'a4', signal: stop.signal })).rejects.toMatchObject({
      code: expect.stringMatching(/^(interrupted|no-browser)$/) as string,
    });
    expect(fs.readdirSync(place('reports/hall')).filter((name) => /pdf|part/.test(name))).toEqual([]);
  });
});

describe('commands that are stopped when their work is done or before it begins', () => {
  const stopped = { signal: AbortSignal.abort() };
  let run = '';
  beforeAll(async () => {
    run = await madeUpRunFolder(place('passes'), 'one', { durationS: 8, floor: 'hall', setup: 'hard' });
    await madeUpRunFolder(place('passes'), 'two', {
      durationS: 8,
      floor: 'hall',
      setup: 'soft',
      passSeed: 2,
    });
  });

  it.each([
    ['whatif', () => ['whatif', '--focal', '50mm', '--out-dir', place('answers'), run]],
    ['compare', () => ['compare', '--out-dir', place('compared'), place('passes/one'), place('passes/two')]],
    ['report', () => ['report', run]],
    ['log', () => ['log', '--data-dir', place('nothing')]],
  ] as const)('%s: says what stands, and ends with 130', async (_, words) => {
    expectInterrupted(await runWordsWith(stopped, ...words()));
    const all = fs.readdirSync(folder, { recursive: true, encoding: 'utf8' });
    expect(all.filter((name) => /(^|\/)\.[^/]*(part|writing)/.test(name))).toEqual([]);
  });

  it.each([
    ['measure', () => ['measure', '--out-dir', place('never'), clip]],
    ['lens', () => ['lens', '--out', place('never/lens.json'), clip]],
    ['proof', () => ['proof', '--out-dir', place('never'), clip]],
    ['synth', () => ['synth', '--duration', '0.2s', '--size', '160x90', '--out-dir', place('synth-never')]],
  ] as const)('%s: nothing is begun', async (_, words) => {
    fs.mkdirSync(place('never'), { recursive: true });
    expectInterrupted(await runWordsWith(stopped, ...words()));
    expect(fs.readdirSync(place('never'))).toEqual([]);
    expect(await processesNaming(clip)).toEqual([]);
  });

  it('serve: that is its proper end', async () => {
    const words = ['serve', '--port', '0', '--data-dir', place('served'), '--out-dir', place('never')];
    const { status } = await runWordsWith(stopped, ...words);
    expect(status).toBe(0);
  });
});

describe('long work, stopped half-way', () => {
  it('synth, while it films: no clip, no process', async () => {
    const stop = new AbortController();
    const onErr = (text: string): void => {
      if (/Filming, frame: [1-9]/.test(text)) stop.abort();
    };
    const words = ['synth', '--duration', '8s', '--size', '160x90', '--out-dir', place('filmed')];
    expectInterrupted(await runWordsWith({ interactive: true, signal: stop.signal, onErr }, ...words));
    expect(fs.readdirSync(place('filmed'))).toEqual([]);
    expect(await processesNaming(place('filmed'))).toEqual([]);
  });
});

/** The program as a process, with a signal once it has said its first word. */
interface Ended {
  readonly status: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly err: string;
  readonly tookMs: number;
}

/** @param onErr told of everything said so far; sends signals */
function started(
  words: readonly string[],
  env: Record<string, string>,
  onErr: (child: ReturnType<typeof spawn>, err: string) => void,
): Promise<Ended> {
  const child = spawn(process.execPath, words, {
    stdio: ['ignore', 'ignore', 'pipe'],
    env: { ...process.env, ...env },
  });
  let err = '';
  let toldMs = performance.now();
  child.stderr.on('data', (chunk: Buffer) => {
    err += chunk.toString();
    toldMs = performance.now();
    onErr(child, err);
  });
  return new Promise((resolve) =>
    child.once('close', (status, signal) =>
      resolve({ status, signal, err, tookMs: performance.now() - toldMs }),
    ),
  );
}

describe('the program as a process', () => {
  it.each([
    ['SIGINT', 0],
    ['SIGTERM', 700],
    ['SIGHUP', 1500],
  ] as const)(
    '%s, %i ms after its first word: 130, one sentence, nothing written, no process left',
    async (signal, afterMs) => {
      const outDir = place(`out-${signal}`);
      const words = ['dist/cli/main.js', 'measure', '--unlogged', '--out-dir', outDir, clip];
      let isSent = false;
      const ended = await started(words, {}, (child) => {
        if (!isSent) setTimeout(() => child.kill(signal), afterMs);
        isSent = true;
      });
      expectInterrupted({ status: ended.status ?? -1, err: ended.err });
      expect(fs.existsSync(outDir)).toBe(false);
      expect(await processesNaming(clip)).toEqual([]);
    },
  );

  it('Ctrl-C in the middle of a calculation that does not look up: ends at once', async () => {
    const program = `
      import { breakable } from './dist/breakable.js';
      import { tell } from './dist/cli/io.js';
      process.once('SIGINT', () => {});
      const io = { err: (text) => process.stderr.write(text) };
      try {
        await breakable('pass.mp4', undefined, () => {
          process.stderr.write('at work\\n');
          for (const end = Date.now() + 30_000; Date.now() < end; );
        });
      } catch (error) {
        process.exitCode = tell(error, io);
      }`;
    const ended = await started(['--input-type=module', '-e', program], {}, (child, err) => {
      if (err === 'at work\n') setTimeout(() => child.kill('SIGINT'), 100);
    });
    expectInterrupted({ status: ended.status ?? -1, err: ended.err });
    expect(ended.tookMs).toBeLessThan(15_000);
  });

  it('a second Ctrl-C while the first is being answered: ends at once', async () => {
    // ffmpeg that does not answer is waited for, so that the first one has something to wait for.
    const mute = place('mute');
    fs.writeFileSync(mute, '#!/bin/sh\nexec sleep 19\n', { mode: 0o755 });
    const words = ['dist/cli/main.js', 'measure', '--unlogged', '--out-dir', place('out-twice'), clip];
    const ended = await started(words, { TRUNDLE_FFMPEG: mute }, (child) => {
      child.kill('SIGINT');
      // On a busy machine two that come together are one to it.
      const again = setInterval(() => child.kill('SIGINT'), 300);
      child.once('exit', () => clearInterval(again));
    });
    expect(ended.signal).toBe('SIGINT');
    expect(ended.tookMs).toBeLessThan(10_000);
    expect(fs.existsSync(place('out-twice'))).toBe(false);
  });

  it('FFmpeg that is silent at the time: ended with the program', async () => {
    const ffmpeg = misbehaving(folder, tools.ffmpeg.path, WRONGS['silent half-way']);
    const words = ['dist/cli/main.js', 'measure', '--unlogged', '--out-dir', place('out-silent'), clip];
    const ended = await started(words, { TRUNDLE_FFMPEG: ffmpeg }, (child) => {
      setTimeout(() => child.kill('SIGTERM'), 1500);
    });
    expectInterrupted({ status: ended.status ?? -1, err: ended.err });
    expect(await processesNaming(path.basename(ffmpeg))).toEqual([]);
    expect((await probeClip(clip, tools)).frameCount).toBe(75);
  });
});
