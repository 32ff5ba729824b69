/** A clock that jumps by hours and years while the program is at work: nothing waits for it, no length of time is read off it. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, afterEach, describe, expect, it, vi } from 'vitest';
import { Progress } from '../../../src/cli/io.js';
import { clearLeft, holdPlace, unfinishedFolder } from '../../../src/files/index.js';
import { openLog } from '../../../src/log/index.js';
import { makeClip } from '../../footage/made-clips.js';
import { madeUpEntry } from '../../log/support/made-up-entry.js';
import { runWordsWith } from '../../support/recorded-io.js';

// What takes seconds on a quiet machine takes minutes on a busy one.
vi.setConfig({ testTimeout: 240_000 });

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-clock-'));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));
afterEach(() => vi.useRealTimers());

const HOUR_MS = 3600_000;
const YEAR_MS = 365 * 24 * HOUR_MS;

describe('a clock that is set', () => {
  it('back by hours and ahead by years, again and again during a measurement: the run is whole and its time is one', async () => {
    const name = 'pass';
    const grey = [
      '-f',
      'lavfi',
      '-i',
      'color=0x808080:size=160x90:rate=25:duration=1',
      '-pix_fmt',
      'yuv420p',
    ];
    const clip = await makeClip(path.join(folder, `${name}.mp4`), ...grey);
    vi.useFakeTimers({ toFake: ['Date'], now: Date.UTC(2031, 2, 14, 9) });
    let jumps = 0;
    let drawn = '';
    const words = ['--out-dir', path.join(folder, 'reports'), '--data-dir', path.join(folder, 'data'), clip];
    const { status } = await runWordsWith(
      {
        interactive: true,
        onErr(text) {
          drawn += text;
          vi.setSystemTime(Date.now() + (++jumps % 2 === 0 ? -21 * YEAR_MS : 20 * YEAR_MS + 5 * HOUR_MS));
        },
      },
      ...['measure', ...words],
    );
    expect(status).toBe(4);
    expect(jumps).toBeGreaterThan(1);
    expect(drawn).not.toMatch(/-\d+ s left/);
    const run = JSON.parse(fs.readFileSync(path.join(folder, 'reports', name, 'run.json'), 'utf8')) as {
      createdAt: string;
    };
    expect(new Date(run.createdAt).toISOString()).toBe(run.createdAt);
    expect(fs.readdirSync(path.join(folder, 'reports')).filter((entry) => entry.startsWith('.'))).toEqual([]);
  });

  it('during progress: the time left is never negative, and is drawn on', () => {
    vi.useFakeTimers({ toFake: ['Date', 'performance'], now: 1_000_000_000 });
    const drawn: string[] = [];
    const io = { out: () => {}, err: (text: string) => drawn.push(text), interactive: true, colour: false };
    const progress = new Progress({ ...io, signal: new AbortController().signal }, false);
    for (let frame = 1; frame <= 5; frame++) {
      vi.advanceTimersByTime(1000);
      vi.setSystemTime(1_000_000_000 - frame * YEAR_MS);
      progress.show('Tracking, frame', frame, 10);
    }
    expect(drawn).toHaveLength(5);
    expect(drawn.at(-1)).toMatch(/5 of 10, about 5 s left/);
  });

  it('between two runs: both are in the log, listed by the times that they carry, numbered as they came', () => {
    const log = openLog(path.join(folder, 'order', 'runs.db'));
    for (const createdAt of [
      '2031-03-14T09:00:00.000Z',
      '2011-03-14T09:00:00.000Z',
      '2031-03-14T09:00:00.000Z',
    ])
      log.add(madeUpEntry({ createdAt }));
    expect(log.list().map(({ id }) => id)).toEqual([3, 1, 2]);
    log.close();
  });

  it('while somebody else writes: what is being written is not taken for left, nor is a hold', async () => {
    const place = path.join(folder, 'writing');
    fs.mkdirSync(place);
    const mine = unfinishedFolder(path.join(place, 'hall'));
    fs.mkdirSync(mine.path);
    const hold = await holdPlace(path.join(place, '.hall-writing.lock'), 100);
    for (const jumpMs of [-YEAR_MS, YEAR_MS]) {
      vi.useFakeTimers({ toFake: ['Date'], now: Date.now() + jumpMs });
      await clearLeft(place);
      expect(fs.existsSync(mine.path)).toBe(true);
      expect(await holdPlace(path.join(place, '.hall-writing.lock'), 50)).toBeNull();
      vi.useRealTimers();
    }
    hold?.release();
    mine.done();
    expect(await holdPlace(path.join(place, '.hall-writing.lock'), 50)).not.toBeNull();
  });
});
