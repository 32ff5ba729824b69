/** The commands of the queue on a real clip and a real Redis: added, measured, collected, and known from then on. */
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { madeUpClip } from '../support/made-up-clip.js';
import { runWords, runWordsWith } from '../support/recorded-io.js';
import { RedisServer, WITHOUT_REDIS, freePort, titled } from './support/redis-server.js';
import type { RunDocument } from '../../src/run/index.js';
import { Studio } from './support/studio.js';

// What takes seconds on a quiet machine takes minutes on a busy one.
vi.setConfig({ testTimeout: 240_000 });

describe.skipIf(WITHOUT_REDIS !== null)(titled('trundle queue'), () => {
  const folder = fs.realpathSync(fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-queue-')));
  const clips = path.join(folder, 'clips');
  let redis: RedisServer;

  beforeAll(async () => {
    redis = await RedisServer.start({ password: 'open-sesame' });
    const { clipFile, rigFile } = await madeUpClip({
      ...{ name: 'small-lateral', durationS: 3, fps: 25, widthPx: 640, heightPx: 360 },
      ...{ move: 'lateral', speedMps: 0.2, focalLengthMm: 35 },
    });
    fs.mkdirSync(clips);
    fs.copyFileSync(clipFile, path.join(clips, 'hall.mp4'));
    fs.copyFileSync(rigFile, path.join(clips, 'hall.rig.json'));
    fs.writeFileSync(path.join(clips, 'notes.mov'), 'not a clip');
  });
  afterAll(async () => {
    await redis.end();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  const queue = (command: string, ...words: string[]) =>
    runWords('queue', command, '--redis', redis.url, ...words);
  const data = ['--data-dir', path.join(folder, 'data')];
  const places = [...data, '--out-dir', path.join(folder, 'reports')];

  it('brings a folder of clips through a worker into the log, and tells what failed', async () => {
    const added = await queue('add', clips, '--out', '1.2s', '--floor', 'hall', '--back-off', '1s', ...data);
    expect(added).toMatchObject({ status: 0, out: 'hall.mp4: added\nnotes.mov: added\n' });
    expect((await queue('status')).out).toMatch(/^Queue clips at 127\.0\.0\.1:\d+\n2 waiting, 0 running/);

    const worked = await queue('work', '--folder', clips, '--until-empty', '--jobs', '1', '--name', 'cart-2');
    expect(worked.err).toMatch(/^hall\.mp4: (pass|marginal|fail|unmeasurable)(, in doubt)?, in \d+\.\d s$/m);
    expect(worked).toMatchObject({
      status: 0,
      err: expect.stringMatching(/1 clip measured, 1 failed, 0 given back\.\n$/) as unknown,
    });

    const status = await queue('status');
    expect(status.out).toMatch(/1 failed, 1 to collect; 0 workers$/m);
    expect(status.out).toMatch(/^failed +\/.*\/clips\/notes\.mov {2}[^/]*notes\.mov[^/]* \[clip-[a-z-]+\]$/m);

    const collected = await queue('collect', '--wait', ...places);
    expect(collected.out).toMatch(
      /^hall\.mp4: [a-z, ]+; run 1, .*\/reports\/hall\/report\.html \(by cart-2\)\n$/,
    );
    // The worker and the machine with the log say the same.
    const [, verdict] = /^hall\.mp4: (.*); run/.exec(collected.out) ?? [];
    expect(worked.err).toContain(`hall.mp4: ${verdict}, in `);
    // A clip was given up.
    expect(collected).toMatchObject({
      status: 3,
      err: expect.stringMatching(/^trundle: \/.*\/clips\/notes\.mov: .*\[clip-/m) as unknown,
    });
    const listed = await runWords('log', '--json', '--data-dir', path.join(folder, 'data'));
    expect(JSON.parse(listed.out)).toMatchObject([{ id: 1, clipFile: 'hall.mp4', pass: { floor: 'hall' } }]);

    const again = await queue('add', path.join(clips, 'hall.mp4'), '--out', '1.2s', ...data);
    expect(again.out).toBe('hall.mp4: measured already with these settings; run 1 of the log\n');
    expect(again.err).not.toContain('did nothing');
    const words = ['--out', '1.2s', '--operator', 'Kim', '--units', 'both', ...data];
    expect((await queue('add', path.join(clips, 'hall.mp4'), ...words)).err).toMatch(
      /^--operator, --units did nothing for 1 clip that is being measured or was: "trundle log set"[^\n]+\n0 clips/m,
    );
    expect((await queue('status', '--forget-failed')).err).toBe('1 clip taken off.\n');
    for (const { out, err } of [added, worked, status, collected, again])
      expect(out + err).not.toContain('open-sesame');
  });

  it('ends gracefully when it is interrupted while it waits for clips', async () => {
    const stop = new AbortController();
    const worked = await runWordsWith(
      { signal: stop.signal, onErr: (text) => text.startsWith('Waiting') && stop.abort() },
      ...['queue', 'work', '--redis', redis.url, '--folder', clips],
    );
    expect(worked).toMatchObject({
      status: 0,
      err: expect.stringMatching(/0 clips measured, 0 failed, 0 given back\.\n$/) as unknown,
    });
  });

  it('finishes what is under way when its process is asked to end, begins nothing more, and ends well', async () => {
    for (const focal of ['40mm', '45mm'])
      await queue(
        'add',
        path.join(clips, 'hall.mp4'),
        '--out',
        '1s',
        '--width',
        '320',
        '--focal',
        focal,
        ...data,
      );
    const main = path.resolve(import.meta.dirname, '../../dist/cli/main.js');
    const words = ['queue', 'work', '--redis', redis.url, '--folder', clips, '--jobs', '1'];
    const child = spawn(process.execPath, [main, ...words], { stdio: ['ignore', 'ignore', 'pipe'] });
    let said = '';
    let isAsked = false;
    child.stderr.on('data', (data: Buffer) => {
      said += data.toString();
      if (!isAsked && said.includes('begun')) isAsked = child.kill('SIGTERM');
    });
    const end = await new Promise((resolve) => child.once('close', (...ended) => resolve(ended)));
    expect(end).toEqual([0, null]);
    expect(said.match(/: begun$/gm)).toHaveLength(1);
    expect(said).toMatch(
      /No new clip is begun\..*\nhall\.mp4: [a-z]+, in [^\n]+\n1 clip measured, 0 failed, 0 given back\.\n$/,
    );
    expect((await queue('status')).out).toMatch(/1 waiting, 0 running, .*, 1 to collect; 0 workers$/m);
  });

  it('tells clips of one name apart by their folders, puts reports as the clips lie, and tells doubts beside verdicts', async () => {
    const studio = new Studio(redis.address, 'cards');
    const made = path.join(studio.folder, 'measured.json');
    const measured = JSON.parse(fs.readFileSync(made, 'utf8')) as { run: RunDocument };
    measured.run.warnings = [{ code: 'exposure-change', text: 'The exposure changed.', atS: null }];
    fs.writeFileSync(made, JSON.stringify(measured));
    for (const card of ['A', 'B #1 100%'])
      studio.clip(`${card}/C0001.MP4`, card === 'A' ? 'fail clip-no-video' : '');
    const reports = ['--out-dir', studio.outDir, '--data-dir', path.dirname(studio.logFile)];
    const added = await queue('add', studio.clips, '--recursive', '--queue', 'cards', ...reports.slice(2));
    expect(added.out).toBe('A/C0001.MP4: added\nB #1 100%/C0001.MP4: added\n');
    await studio.work();
    expect((await queue('status', '--queue', 'cards')).out).toMatch(/^failed +A\/C0001\.MP4 {2}It is/m);
    const collected = await queue('collect', '--wait', '--queue', 'cards', ...reports);
    const { grade } = measured.run.verdict;
    const place = path.join(studio.outDir, 'B #1 100%', 'C0001', 'report.html');
    expect(collected.out).toBe(`B #1 100%/C0001.MP4: ${grade}, in doubt; run 1, ${place} (by here)\n`);
    expect(collected.err).toContain('trundle: A/C0001.MP4: It is');
    expect(fs.existsSync(place)).toBe(true);
    studio.end();
  });

  it('is held back while too many wait, takes no results by the way, and says how many were added when it is stopped', async () => {
    const many = path.join(folder, 'many');
    fs.mkdirSync(many);
    for (const name of ['a.mov', 'b.mov', 'c.mov']) fs.writeFileSync(path.join(many, name), name);
    const stop = new AbortController();
    const added = await runWordsWith(
      { signal: stop.signal, onErr: (text) => text.includes('is added when') && stop.abort() },
      ...['queue', 'add', many, '--redis', redis.url, '--queue', 'held', '--most-waiting', '1', ...data],
    );
    expect(added).toEqual({
      status: 130,
      out: 'a.mov: added\n',
      err:
        '1 clip waits; the next is added when there is room.\n' +
        'trundle: Stopped on request; 1 of 3 clips was added. The same command adds the rest. [interrupted]\n',
    });

    // Measured for whoever collects: adding takes nothing of it.
    const studio = new Studio(redis.address, 'full');
    const coordinator = await studio.coordinator();
    await studio.put(coordinator, studio.clip('hall.mov'));
    await coordinator.close();
    await studio.work();
    studio.end();
    const stopAgain = new AbortController();
    const full = await runWordsWith(
      { signal: stopAgain.signal, onErr: (text) => text.includes('to be collected') && stopAgain.abort() },
      ...['queue', 'add', many, '--redis', redis.url, '--queue', 'full', '--most-waiting', '1', ...data],
    );
    expect(full).toMatchObject({ status: 130, out: '' });
    expect(full.err).toMatch(
      /^1 measured clip is to be collected before more is added; trundle queue collect does that\.\ntrundle: Stopped on request; 0 of 3 clips were added\./,
    );
    expect((await queue('status', '--queue', 'full')).out).toContain('1 to collect');
  });

  it.each([
    ['nothing to do', ['queue'], 'argument-invalid'],
    ['a worker that may read nothing', ['queue', 'work'], 'argument-invalid'],
    ['an address that is none', ['queue', 'status', '--redis', 'cart.local'], 'argument-invalid'],
    ['no clip', ['queue', 'add'], 'argument-invalid'],
    ['files of one clip', ['queue', 'add', 'a.mov', '--motion-log', 'x.csv'], 'argument-unknown'],
    ['a setting that will not do', ['queue', 'add', 'a.mov', '--focal', 'long'], 'argument-invalid'],
    [
      'a place of reports where none are written',
      ['queue', 'add', 'a.mov', '--out-dir', 'x'],
      'argument-invalid',
    ],
    ['a form of results where none come', ['queue', 'add', 'a.mov', '--json'], 'argument-invalid'],
    [
      'a folder for fetched clips that is not there',
      ['queue', 'work', '--folder', '.', '--temp-dir', '/nope/nowhere'],
      'argument-invalid',
    ],
    ['too short a lock', ['queue', 'work', '--folder', '.', '--lock', '0.1s'], 'argument-invalid'],
  ])('refuses %s in one sentence', async (_, words, code) => {
    const { status, err } = await runWords(...words);
    expect(err).toMatch(new RegExp(`^trundle: [^\\n]+ \\[${code}\\]\\n$`));
    expect(status).toBe(2);
  });

  it('says where nobody answers, and where the password is missing', async () => {
    const nobody = `redis://127.0.0.1:${await freePort()}`;
    for (const address of [nobody, `redis://127.0.0.1:${redis.address.port}`]) {
      const { status, err } = await runWords('queue', 'status', '--redis', address);
      expect(err).toMatch(/^trundle: Redis at 127\.0\.0\.1:\d+ [^\n]+ \[queue-unreachable\]\n$/);
      expect(status).toBe(2);
    }
  });
});
