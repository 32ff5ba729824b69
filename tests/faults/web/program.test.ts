/** The built program and its page: asked to end or ended in the middle of a measurement, started twice, started where it cannot be. */
import { spawn, type ChildProcess } from 'node:child_process';
import fs from 'node:fs';
import net, { type AddressInfo } from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { ClipEntry, Job } from '../../../src/web/api.js';

const ROOT = path.resolve(import.meta.dirname, '../../..');
const PROGRAM = path.join(ROOT, 'dist/cli/main.js');
/** Starting, on a busy machine. */
const LONG_MS = 60_000;

let folder: string;
const started: ChildProcess[] = [];
beforeAll(() => void (folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-program-'))));
afterEach(async () => {
  for (const child of started.splice(0)) {
    if (child.exitCode !== null || child.signalCode !== null) continue;
    const gone = new Promise((resolve) => child.once('close', resolve));
    child.kill('SIGKILL');
    await gone;
  }
});
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

interface Ending {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

interface Program {
  /** Its address once it serves, null where it ended before. */
  readonly address: Promise<string | null>;
  readonly ended: Promise<Ending>;
  readonly kill: (signal: NodeJS.Signals) => void;
}

function start(dataDir: string, port = '0'): Program {
  const places = ['--data-dir', dataDir, '--out-dir', path.join(folder, 'reports')];
  const clips = ['--folder', path.join(ROOT, 'sample-clips'), '--at-once', '1'];
  const child = spawn(process.execPath, [PROGRAM, 'serve', ...places, ...clips, '--port', port], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  started.push(child);
  let [out, err] = ['', ''];
  child.stderr.on('data', (piece: Buffer) => (err += piece.toString()));
  const ended = new Promise<Ending>((resolve) =>
    child.once('close', (status) => resolve({ status, out, err })),
  );
  const address = new Promise<string | null>((resolve) => {
    child.stdout.on('data', (piece: Buffer) => {
      out += piece.toString();
      if (out.includes('\n')) resolve(out.slice(0, out.indexOf('\n')));
    });
    void ended.then(() => resolve(null));
  });
  return { address, ended, kill: (signal) => void child.kill(signal) };
}

async function ask<T>(program: Program, place: string, order?: unknown): Promise<T> {
  const address = await program.address;
  if (address === null) throw new Error(`it does not serve: ${(await program.ended).err}`);
  const { origin, searchParams } = new URL(address);
  const headers = {
    Authorization: `Bearer ${searchParams.get('token')}`,
    'Content-Type': 'application/json',
  };
  const answer = await fetch(new URL(place, origin), {
    headers,
    ...(order !== undefined && { method: 'POST', body: JSON.stringify(order) }),
  });
  const text = await answer.text();
  if (!answer.ok) throw new Error(`${place} answered ${answer.status}: ${text}`);
  return JSON.parse(text) as T;
}

/** Clips, lenses and states of the jobs, and whether they begin anew. */
async function jobsOf(program: Program): Promise<unknown> {
  const jobs = await ask<readonly Job[]>(program, '/api/jobs');
  return jobs.map(({ clipName, settings, state, isAnew }) => [clipName, settings['focal'], state, isAnew]);
}

describe('the program ends while one clip is measured and another waits', () => {
  it(
    'at once, at Ctrl-C and when the system ends it: both go on at the next start, and the terminal says so',
    { timeout: 3 * LONG_MS },
    async () => {
      const dataDir = path.join(folder, 'data');
      let program = start(dataDir);
      const order = { folder: '1', path: 'tiled-corridor.mp4' };
      const { id: clip } = await ask<ClipEntry>(program, '/api/clips/from-folder', order);
      for (const focal of ['28mm', '35mm'])
        await ask(program, '/api/jobs', { kind: 'measure', clip, settings: { focal, width: '320' } });
      const ends = ['SIGKILL', 'SIGINT', 'SIGTERM'] as const;
      for (const [i, signal] of ends.entries()) {
        expect(await jobsOf(program)).toEqual([
          ['tiled-corridor.mp4', '28mm', 'running', i > 0],
          ['tiled-corridor.mp4', '35mm', 'queued', false],
        ]);
        program.kill(signal);
        const { status, err } = await program.ended;
        expect(err).not.toMatch(/\n\s+at |fault/);
        if (signal !== 'SIGKILL') {
          expect(status).toBe(0);
          expect(err).toContain('2 measurements are kept: started again with this data folder');
          expect(err).toContain('2 measurements are left from before; the program goes on with them.');
        }
        program = start(dataDir);
        await program.address;
      }
      expect(await jobsOf(program)).toMatchObject([{ 2: 'running' }, { 2: 'queued' }]);
      // What was begun and not ended left nothing half.
      const reports = path.join(folder, 'reports');
      await expect
        .poll(() => fs.readdirSync(reports).flatMap((name) => fs.readdirSync(path.join(reports, name))), {
          timeout: 5000,
        })
        .toEqual([]);
    },
  );
});

describe('it cannot start: one sentence with its code, exit status 2', () => {
  it.each<[string, string, () => Promise<readonly [dataDir: string, port?: string]>]>([
    [
      'the data folder is served already',
      'data-in-use',
      async () => {
        const dataDir = path.join(folder, 'served');
        await start(dataDir).address;
        return [dataDir];
      },
    ],
    [
      'the port is taken',
      'port-taken',
      async () => {
        const taken = net.createServer().listen(0, '127.0.0.1').unref();
        await new Promise((resolve) => taken.once('listening', resolve));
        return [path.join(folder, 'other'), String((taken.address() as AddressInfo).port)];
      },
    ],
    [
      'a file is where the data folder should be',
      'argument-invalid',
      () => {
        fs.writeFileSync(path.join(folder, 'a file'), '');
        return Promise.resolve([path.join(folder, 'a file', 'data')]);
      },
    ],
  ])('%s', { timeout: LONG_MS }, async (_, code, words) => {
    const { status, out, err } = await start(...(await words())).ended;
    expect([status, out]).toEqual([2, '']);
    expect(err.trim()).toMatch(new RegExp(`^[^\\n]+\\[${code}\\]$`));
  });
});
