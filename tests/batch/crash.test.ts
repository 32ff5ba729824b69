/**
 * A batch that is killed in the middle, with real measurements: what is in the log stands, the rest is measured, and nothing is there
 * twice. Then the same folder measured again, watched, and stopped at once.
 */
import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findTools } from '../../src/footage/index.js';
import { openLog, type LogRow } from '../../src/log/index.js';
import { runWords, runWordsWith } from '../support/recorded-io.js';

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

const begun: ChildProcess[] = [];
/** Starts the program as a process of its own. */
function program(...words: string[]): ChildProcess {
  const child = spawn(process.execPath, [path.join(ROOT, 'dist/cli/main.js'), ...words], {
    cwd: ROOT,
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  begun.push(child);
  return child;
}

afterAll(() => {
  for (const child of begun) child.kill('SIGKILL');
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
    const killed = program(...WORDS, ...PLACES);
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
    fs.mkdirSync(path.join(reports, `.B-writing-${machine}.${begun[0].pid}.0a1b2c3d`));
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
    const sheet = ['--lane', '2', '--units', 'imperial'];
    const { status, out, err } = await runWords(...WORDS, ...PLACES, '--json', '--quiet', ...sheet);
    expect(status).toBe(0);
    expect(err).toMatch(/--lane, --out-dir, --units did nothing for the 2 clips that the log has already\. /);
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

describe('a folder whose clips the log has', { timeout: LONG_MS }, () => {
  const settings = WORDS.slice(3);

  it('is measured all the same where that is asked for', async () => {
    const { status, out } = await runWords('measure', at('cards/day 2'), '--again', ...settings, ...PLACES);
    expect(status).toBe(0);
    expect(out).toMatch(/moved\.mp4 .* measured, run 3\n/);
    expect(logged().map(({ id }) => id)).toEqual([3, 2, 1]);
  });

  it('is watched until an interrupt: what comes is taken, and what failed is told at the end', async () => {
    const stop = new AbortController();
    let said = '';
    const { status, out, err } = await runWordsWith(
      {
        signal: stop.signal,
        onErr(text) {
          // After the first look at the folder.
          if (said === '') setTimeout(() => fs.writeFileSync(at('cards/day 2/noise.mp4'), 'no clip'), 2500);
          said += text;
          if (/noise\.mp4.*\[clip-/.test(said)) stop.abort();
        },
      },
      ...['measure', at('cards/day 2'), '--watch', ...settings, ...PLACES],
    );
    expect(err).toMatch(/^Watching ".*day 2" for clips; Ctrl-C ends it\.\n/);
    expect(out).toMatch(/2 clips: 1 in the log already, 1 failed\.\n/);
    // Once where it happens, once at the end.
    expect(out + err).toSatisfy((all: string) => all.match(/noise\.mp4/g)?.length === 2);
    expect(err).toMatch(/trundle: [^\n]*noise\.mp4[^\n]* \[clip-[a-z-]+\]\n$/);
    expect(status).toBe(3);
    expect(logged()).toHaveLength(3);
  });

  it('is left at once at the second interrupt: one sentence, nothing half-written, nothing in the log', async () => {
    const child = program('measure', at('cards/day 1'), '--again', ...settings, ...PLACES);
    let said = '';
    const told = ['One clip at a time', 'interrupt again'];
    child.stderr?.on('data', (data: Buffer) => {
      said += data.toString();
      if (told.length > 0 && said.includes(told[0])) {
        told.shift();
        child.kill('SIGINT');
      }
    });
    const status = await new Promise((resolve) => child.once('close', resolve));
    expect(said).toMatch(/\ntrundle: [^\n]+ \[interrupted\]\n$/);
    expect([status, told]).toEqual([130, []]);
    expect(logged()).toHaveLength(3);
    expect(fs.readdirSync(at('reports/day 1'))).toEqual(['A', 'B']);
  });
});
