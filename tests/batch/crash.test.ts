/** A batch that is killed in the middle, with real measurements: what is in the log stands, the rest is measured, and nothing is there twice. */
import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findTools } from '../../src/footage/index.js';
import { openLog, type LogRow } from '../../src/log/index.js';
import { runWords } from '../support/recorded-io.js';

const ROOT = path.resolve(import.meta.dirname, '../..');
const SAMPLE = path.join(ROOT, 'sample-clips/tiled-corridor.mp4');
/** Three measurements on a busy machine. */
const LONG_MS = 240_000;

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-crash-'));
const at = (name: string): string => path.join(folder, name);
const WORDS = [
  'measure',
  at('cards'),
  '--recursive',
  '--focal',
  '28mm',
  '--sensor',
  'full-frame',
  '--width',
  '320',
];
const PLACES = ['--out-dir', at('reports'), '--data-dir', at('data'), '--jobs', '1'];

let killed: ChildProcess;
afterAll(() => {
  killed.kill('SIGKILL');
  fs.rmSync(folder, { recursive: true, force: true });
});

beforeAll(async () => {
  const { ffmpeg } = await findTools();
  const coding = ['-vf', 'scale=320:-2', '-an', '-c:v', 'libx264', '-preset', 'ultrafast', '-crf', '12'];
  for (const [name, from] of [
    ['day 1/A.mp4', '1'],
    ['day 1/B.mp4', '2'],
  ]) {
    fs.mkdirSync(path.dirname(at(`cards/${name}`)), { recursive: true });
    execFileSync(ffmpeg.path, [
      '-v',
      'error',
      '-ss',
      from,
      '-t',
      '1.4',
      '-i',
      SAMPLE,
      ...coding,
      at(`cards/${name}`),
    ]);
  }
  fs.mkdirSync(at('cards/day 2'));
  fs.copyFileSync(at('cards/day 1/A.mp4'), at('cards/day 2/moved.mp4'));
});

function logged(): LogRow[] {
  if (!fs.existsSync(at('data/runs.db'))) return [];
  const log = openLog(at('data/runs.db'));
  try {
    return log.list();
  } finally {
    log.close();
  }
}

async function until(is: () => boolean): Promise<void> {
  for (const endMs = performance.now() + LONG_MS; !is();) {
    if (performance.now() > endMs) throw new Error('not in time');
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

describe('a batch that is killed in the middle', { timeout: LONG_MS }, () => {
  it('has kept what was done', async () => {
    let said = '';
    killed = spawn(
      process.execPath,
      ['--import', 'tsx', path.join(ROOT, 'src/cli/main.ts'), ...WORDS, ...PLACES],
      {
        cwd: ROOT,
        stdio: ['ignore', 'ignore', 'pipe'],
      },
    );
    killed.stderr?.on('data', (data: Buffer) => (said += data.toString()));
    await until(() => said.includes('A.mp4: '));
    killed.kill('SIGKILL');
    await until(() => killed.signalCode !== null);
    expect(logged().map(({ clipFile }) => clipFile)).toEqual(['A.mp4']);
    expect(fs.existsSync(at('reports/day 1/A/report.html'))).toBe(true);
  });

  it('goes on where it was: nothing is measured twice, half-written folders are gone, the log holds each once', async () => {
    const before = logged();
    const reports = at('reports/day 1');
    // What a writer left that was killed: a process of this machine that is no more.
    const machine = createHash('sha256').update(os.hostname()).digest('hex').slice(0, 6);
    fs.mkdirSync(path.join(reports, `.B-writing-${machine}.${killed.pid}.0a1b2c3d`));
    const { status, out, err } = await runWords(...WORDS, ...PLACES);
    expect([status, err]).toEqual([0, expect.not.stringContaining('trundle:')]);
    expect(out).toMatch(/day 1\/A\.mp4 .* in the log, run 1\n/);
    expect(out).toMatch(/day 1\/B\.mp4 .* measured, run 2\n/);
    expect(out).toMatch(/day 2\/moved\.mp4 .* same bytes as .*A\.mp4\n/);
    expect(out).toMatch(/3 clips: 1 measured, 1 in the log already, 1 the same as another\./);
    expect(logged().map(({ id, clipFile }) => [id, clipFile])).toEqual([
      [2, 'B.mp4'],
      [1, 'A.mp4'],
    ]);
    expect(logged().at(-1)).toEqual(before[0]);
    expect(fs.readdirSync(reports)).toEqual(['A', 'B']);
    expect(fs.readdirSync(at('reports'))).toEqual(['day 1']);
  });

  it('passes all by when it is run once more, and prints their documents where those are asked for', async () => {
    fs.renameSync(at('cards/day 1/A.mp4'), at('cards/renamed.mp4'));
    const { status, out, err } = await runWords(...WORDS, ...PLACES, '--json', '--quiet');
    expect(status).toBe(0);
    const documents = out
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as { clip: { file: string } });
    expect(documents.map(({ clip }) => clip.file)).toEqual(['A.mp4', 'B.mp4']);
    expect(err).toMatch(/3 clips: 2 in the log already, 1 the same as another\./);
  });

  it('refuses what cannot be, and tells a folder without clips', async () => {
    const none = await runWords('measure', at('reports'), ...PLACES);
    expect(none).toMatchObject({ status: 3, out: '' });
    expect(none.err).toMatch(/no clip in the folder.*\[clip-missing\]/);
    const jobs = await runWords('measure', at('cards'), '--jobs', 'many');
    expect(jobs).toMatchObject({ status: 2, out: '' });
    expect(jobs.err).toMatch(/"--jobs many" must be a whole number/);
  });
});
