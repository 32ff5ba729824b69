/** What a worker may read, what settings of a queue may be, and that no password is told. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { clipHere } from '../../src/queue/clip-here.js';
import { pathHere } from '../../src/queue/clip-rules.js';
import { connect } from '../../src/queue/connect.js';
import { loadEngine } from '../../src/queue/engine.js';
import { isFinal, readFailure, writeFailure } from '../../src/queue/failures.js';
import {
  clipRulesOf,
  orderOf,
  originOf,
  queueNameOf,
  redisAddressOf,
  shownAddress,
  shownClip,
  verdictWord,
} from '../../src/queue/index.js';
import { MOST_FRAMES, packMeasured, requireFitting, unpackMeasured } from '../../src/queue/results.js';
import { reportPlace } from '../../src/queue/report-place.js';
import { isInside } from '../../src/files/index.js';
import { TrundleError, type RunDocument } from '../../src/run/index.js';
import { madeUpBundle } from '../report/support/made-up-bundle.js';
import { freePort } from './support/redis-server.js';

const folder = fs.realpathSync(fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-places-')));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));
const never = new AbortController().signal;

describe('what a worker may read', () => {
  const share = path.join(folder, 'share');
  fs.mkdirSync(path.join(share, 'day 1'), { recursive: true });
  fs.writeFileSync(path.join(share, 'day 1', 'hall.mov'), 'a clip');
  fs.writeFileSync(path.join(folder, 'secret.mov'), 'a clip');
  fs.symlinkSync(path.join(folder, 'secret.mov'), path.join(share, 'out.mov'));
  fs.symlinkSync(share, path.join(folder, 'link'));
  const place = { tempFolder: path.join(folder, 'temp'), signal: never, onProgress: () => undefined };

  async function at(
    given: string,
    rules = clipRulesOf({ maps: [`/footage=${share}`], folders: [], origins: [] }),
  ) {
    const order = await orderOf({ clip: path.join(folder, 'secret.mov'), request: {} }, [], never);
    return (await clipHere({ ...order, place: { path: given } }, rules, place)).file;
  }

  it('is what lies in its folders, called as the machine with the log calls it', async () => {
    expect(await at('/footage/day 1/hall.mov')).toBe(path.join(share, 'day 1', 'hall.mov'));
    const linked = clipRulesOf({ maps: [], folders: [path.join(folder, 'link')], origins: [] });
    expect(await at(path.join(folder, 'link/day 1/hall.mov'), linked)).toBe(
      path.join(share, 'day 1', 'hall.mov'),
    );
  });

  it.each([
    ['a path beside them', path.join(folder, 'secret.mov')],
    ['a path that climbs', '/footage/../secret.mov'],
    ['a link that leads out', '/footage/out.mov'],
    ['a folder', '/footage/day 1'],
    ['a path that is not from the root', 'day 1/hall.mov'],
    ['a system file', '/etc/passwd'],
    ['what is not there, outside', '/etc/no-such-file'],
    ['a path with NUL', '/footage/day 1/hall.mov\0.txt'],
  ])('is not %s', async (_, given) => {
    await expect(at(given)).rejects.toMatchObject({ code: 'place-not-allowed' });
  });

  it('may be there later, and may have become another', async () => {
    await expect(at('/footage/day 2/hall.mov')).rejects.toMatchObject({ code: 'clip-missing' });
    fs.writeFileSync(path.join(share, 'longer.mov'), 'a longer clip');
    await expect(at('/footage/longer.mov')).rejects.toMatchObject({ code: 'clip-changed' });
  });

  it('goes by the longest folder that fits, and knows the strokes of Windows', () => {
    const maps = [
      { from: '/footage', to: '/mnt/all' },
      { from: '/footage/day', to: '/mnt/day' },
      { from: 'Z:/cards', to: '/mnt/cards' },
    ];
    expect(pathHere('/footage/day/a.mov', maps)).toBe('/mnt/day/a.mov');
    expect(pathHere('/footage/days/a.mov', maps)).toBe('/mnt/all/days/a.mov');
    expect(pathHere('Z:\\cards\\b\\a.mov', maps)).toBe('/mnt/cards/b/a.mov');
    expect(pathHere('/else/a.mov', maps)).toBe('/else/a.mov');
  });

  it.each([
    () => clipRulesOf({ maps: [], folders: [], origins: [] }),
    () => clipRulesOf({ maps: ['/footage'], folders: [], origins: [] }),
    () => clipRulesOf({ maps: [`footage=${folder}`], folders: [], origins: [] }),
    () => clipRulesOf({ maps: [], folders: [path.join(folder, 'none')], origins: [] }),
    () => originOf('https://media.example/clips'),
    () => originOf('media.example'),
    () => originOf('file:///clips'),
    () => queueNameOf('a:b'),
  ])('is refused where it is told wrongly (%#)', (wrong) => {
    expect(wrong).toThrow(expect.objectContaining({ code: 'argument-invalid' }) as Error);
  });
});

describe('the report of a collected clip', () => {
  const { run } = madeUpBundle();
  const other = { ...run, createdAt: '2026-01-01T00:00:00.000Z' };
  let outDir = '';
  beforeEach(() => (outDir = fs.mkdtempSync(path.join(folder, 'reports-'))));

  async function written(name: string, of = run): Promise<string> {
    const place = await reportPlace(outDir, name, of);
    fs.mkdirSync(place, { recursive: true });
    fs.writeFileSync(path.join(place, 'run.json'), JSON.stringify(of));
    return path.relative(outDir, place);
  }

  it('lies as the clip lies, by its own name', async () => {
    expect(await written('sub/Ü#%.mov')).toBe('sub/Ü#%');
    expect(await written('Böden #1 100%.mov')).toBe('Böden #1 100%');
  });

  it('is found again by the same run, and never takes the place of another or a place within its report', async () => {
    expect(await written('a.mov')).toBe('a');
    expect(await written('a.mov')).toBe('a');
    expect(await written('a.mov', other)).toBe('a-2');
    expect(await written('a/b.mov')).toBe('a-3/b');
    expect(await written('a-3.mov', other)).toBe('a-3-2');
  });

  it.each([
    '../../x.mov',
    '/etc/x.mov',
    'a/../../x.mov',
    '..\\..\\x.mov',
    '..',
    '/',
    '.../x.mov',
    'C:/x.mov',
  ])('stays in its folder whatever the queue calls the clip (%s)', async (name) => {
    expect(isInside(await reportPlace(outDir, name, run), outDir)).toBe(true);
    expect(await written(name)).not.toBe('');
  });
});

describe('the verdict on a run', () => {
  it('tells a doubt as the log does, save where nothing was measured', () => {
    const { run } = madeUpBundle();
    const doubt = { code: 'exposure-change', text: 'The exposure changed.', atS: null } as const;
    const word = (grade: 'pass' | 'unmeasurable', warnings: RunDocument['warnings']): string =>
      verdictWord({ verdict: { ...run.verdict, grade }, warnings });
    expect(word('pass', [])).toBe('pass');
    expect(word('pass', [doubt])).toBe('pass, in doubt');
    expect(word('unmeasurable', [doubt])).toBe('unmeasurable');
  });
});

describe('a clip of a list', () => {
  it('goes by its path below what was added, or by its whole place', () => {
    expect(shownClip({ name: 'A/C0001.MP4', place: '/cards/A/C0001.MP4' })).toBe('A/C0001.MP4');
    expect(shownClip({ name: 'C0001.MP4, stretch 2 of 3', place: '/cards/A/C0001.MP4' })).toBe(
      '/cards/A/C0001.MP4, stretch 2 of 3',
    );
    expect(shownClip({ name: 'a b.mov', place: 'http://media.example/a%20b.mov' })).toBe(
      'a b.mov (http://media.example/a%20b.mov)',
    );
  });
});

describe('what is told of wrong options', () => {
  it('names both sides of --map without words of ours', () => {
    expect(() => clipRulesOf({ maps: ['foo'], folders: [], origins: [] })).toThrow(
      '"--map foo" must name a folder as the machine that adds clips calls it',
    );
  });
});

describe('the address of Redis', () => {
  it('comes from the option, the environment, or is the usual one', () => {
    const environment = { TRUNDLE_REDIS: 'rediss://crew:pass%20word@[::1]:6380/2' };
    expect(redisAddressOf(undefined, {})).toEqual({ host: '127.0.0.1', port: 6379, db: 0, tls: false });
    const address = redisAddressOf(undefined, environment);
    expect(address).toEqual({
      host: '::1',
      port: 6380,
      db: 2,
      tls: true,
      username: 'crew',
      password: 'pass word',
    });
    expect(shownAddress(address)).toBe('[::1]:6380/2');
    expect(redisAddressOf('redis://cart.local', environment)).toMatchObject({
      host: 'cart.local',
      port: 6379,
    });
  });

  it.each([
    'http://:secret@host',
    'secret',
    'redis://:secret@',
    'redis://:secret@host/a',
    'redis://:secret@host:99999',
  ])('is refused without a word of it where it is none (%#)', (wrong) => {
    const refused = (): unknown => redisAddressOf(wrong, {});
    expect(refused).toThrow(expect.objectContaining({ code: 'argument-invalid' }) as Error);
    expect(refused).not.toThrow(/secret/);
  });

  it('that nobody answers at is told in a bounded time, without the password', async () => {
    const engine = await loadEngine();
    const address = { ...redisAddressOf('redis://:secret@127.0.0.1', {}), port: await freePort() };
    const failure: unknown = await connect(engine, address, { patienceMs: null }).catch(
      (error: unknown) => error,
    );
    expect(failure).toMatchObject({ code: 'queue-unreachable', exitStatus: 2 });
    expect(String(failure)).toMatch(/127\.0\.0\.1:\d+ cannot be reached \(ECONNREFUSED\)/);
    expect(String(failure)).not.toContain('secret');
  });

  it('needs the engine, and says so where it is not installed', async () => {
    const missing = Object.assign(new Error("Cannot find package 'bullmq'"), {
      code: 'ERR_MODULE_NOT_FOUND',
    });
    await expect(loadEngine(() => Promise.reject(missing))).rejects.toMatchObject({
      code: 'queue-engine-missing',
      message: /npm install bullmq ioredis/,
    });
  });
});

describe('what is handed over', () => {
  it('comes out as it went in, and damaged or foreign bytes are nothing', () => {
    const { run, series } = madeUpBundle();
    const measured = {
      name: 'hall.mov',
      settingsKey: 'a'.repeat(64),
      worker: 'cart-2',
      run,
      series,
      jpeg: null,
    };
    const packed = packMeasured(measured);
    expect(unpackMeasured(packed)).toEqual({
      schema: 'trundle-measured-clip/1',
      ...JSON.parse(JSON.stringify(measured)),
    });
    expect(unpackMeasured(packed.slice(0, -100))).toBeNull();
    expect(unpackMeasured(Buffer.from('{}'))).toBeNull();
  });

  it('is refused before it is measured where it would be longer than any text may be', () => {
    requireFitting(0, 'hall.mov');
    requireFitting(MOST_FRAMES, 'hall.mov');
    expect(() => requireFitting(MOST_FRAMES + 1, 'hall.mov')).toThrow(
      expect.objectContaining({
        code: 'result-too-large',
        message: expect.stringMatching(/^"hall\.mov" has \d+ frames .* with --in and --out\.$/) as unknown,
      }) as Error,
    );
    // Seven hours at 25 frames/s are let in.
    expect(MOST_FRAMES).toBeGreaterThan(7 * 3600 * 25);
    expect(isFinal(new TrundleError('result-too-large', 'It stays so.'))).toBe(true);
  });

  it('tells failures with their code, and which of them may pass', () => {
    const final = new TrundleError('clip-no-video', 'There is no picture in it.');
    expect(readFailure(writeFailure(final))).toEqual({ sentence: final.message, code: final.code });
    expect(readFailure(writeFailure(new Error('x is undefined\nat y'))).code).toBe('fault');
    expect(readFailure('job stalled more than allowable limit').code).toBe('worker-ended');
    expect(isFinal(final)).toBe(true);
    for (const code of ['clip-not-fetched', 'output-unwritable', 'worker-ended', 'memory-short'] as const)
      expect(isFinal(new TrundleError(code, 'It may pass.'))).toBe(false);
    expect(isFinal(new Error('a fault'))).toBe(false);
  });
});
