/** What `trundle measure` does with a run once its report is written. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { keepRun } from '../../src/cli/keep-run.js';
import { openLog } from '../../src/log/index.js';
import { madeUpBundle } from '../report/support/made-up-bundle.js';

const BUNDLE = madeUpBundle();
const SETTINGS_KEY = 'ab'.repeat(32);
const place = (dataDir: string) => ({ folder: 'reports/hall', dataDir, settingsKey: SETTINGS_KEY });

describe('keeping a measured run', () => {
  let folder = '';
  const messages: string[] = [];
  const io = {
    out: () => {},
    err: (text: string) => messages.push(text),
    interactive: false,
    colour: false,
    signal: new AbortController().signal,
  };
  beforeAll(() => (folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-keep-'))));
  afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

  it('puts document, series and both pictures into the log and tells the number', async () => {
    const data = path.join(folder, 'data');
    expect(await keepRun(BUNDLE, place(data), io)).toBe('Log: run 1');
    expect(await keepRun(BUNDLE, place(data), io)).toBe(
      'Log: run 2; its report took the place of that of run 1',
    );
    const log = openLog(path.join(data, 'runs.db'));
    const { row, run, series, picture, thumbnail } = log.get(2);
    expect(log.runOf(run.clip.sha256, SETTINGS_KEY)).toBe(2);
    log.close();
    expect(row.reportFolder).toBe(path.resolve('reports/hall'));
    expect(run).toEqual(BUNDLE.run);
    expect(series).toEqual(BUNDLE.series);
    expect(await sharp(picture ?? undefined).metadata()).toMatchObject({
      format: 'jpeg',
      width: 960,
      height: 540,
    });
    expect(await sharp(thumbnail ?? undefined).metadata()).toMatchObject({
      format: 'jpeg',
      width: 320,
      height: 180,
    });
  });

  it('costs a line of warning, no more, where the log cannot be written', async () => {
    const inTheWay = path.join(folder, 'a-file');
    fs.writeFileSync(inTheWay, '');
    expect(await keepRun(BUNDLE, place(inTheWay), io)).toMatch(
      /^Not kept in the log: .*--data-dir\. \[log-unwritable\]$/,
    );
  });

  it('goes on in a new log where the old one is damaged, and says so', async () => {
    const data = path.join(folder, 'damaged');
    fs.mkdirSync(data);
    fs.writeFileSync(path.join(data, 'runs.db'), 'no database '.repeat(100));
    messages.length = 0;
    expect(await keepRun(BUNDLE, place(data), io)).toBe('Log: run 1');
    expect(messages).toEqual([expect.stringMatching(/set aside as .*\[log-damaged\]\n$/)]);
  });
});
