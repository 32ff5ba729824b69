/** `trundle log` through the command line, on a log of made-up runs. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { viewerOf } from '../../src/cli/show-in-browser.js';
import { openLog } from '../../src/log/index.js';
import { encodePicture, writeRun } from '../../src/report/index.js';
import { runSchema } from '../../src/run/index.js';
import { madeUpEntry } from '../log/support/made-up-entry.js';
import { corridorPicture, madeUpBundle } from '../report/support/made-up-bundle.js';
import { runWords, runWordsWith, type CliResult } from '../support/recorded-io.js';

describe('trundle log', () => {
  let folder = '';
  let data = '';
  let reports = '';
  const log = (...words: string[]): Promise<CliResult> => runWords('log', ...words, '--data-dir', data);

  beforeAll(async () => {
    folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-log-cli-'));
    data = path.join(folder, 'data');
    reports = path.join(folder, 'reports');
    const hall = { floor: 'dairy hall', lane: '2', setup: 'soft tyres' };
    const own = openLog(path.join(data, 'runs.db'));
    own.add(madeUpEntry({ pass: { ...hall, tags: ['night'] }, grade: 'fail', reportFolder: '/gone/one' }));
    own.add(madeUpEntry({ pass: { floor: 'plywood loft', notes: 'bell\u0007 rang' }, grade: 'pass' }));
    // Run 3 has its picture and a report on disk.
    const bundle = madeUpBundle();
    const reportFolder = path.join(reports, 'hall');
    await writeRun(reportFolder, bundle);
    const picture = await encodePicture(corridorPicture());
    own.add({ run: bundle.run, series: bundle.series, reportFolder, picture, thumbnail: null });
    own.add(madeUpEntry({ series: null }));
    own.close();
  });
  afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

  it('lists the runs, newest first, with units in the heads', async () => {
    const { status, out, err } = await log();
    expect([status, err]).toEqual([0, '']);
    const [head, ...lines] = out.trimEnd().split('\n');
    expect(head).toMatch(/^run +measured +floor +lane +setup +m\/s +mm +crop % +left px +verdict +tags$/);
    expect(lines.map((line) => Number(line.trim().split(/\s/)[0]))).toEqual([4, 3, 2, 1]);
    expect(lines[3]).toMatch(/1 {2}2031-03-14 .* dairy hall .* 2 .* soft tyres .* 0\.25 +35 .* fail +night$/);
  });

  it('filters by the options and asks for nothing else', async () => {
    expect((await log('--floor', 'DAIRY hall')).out.trim().split('\n')).toHaveLength(2);
    expect((await log('--tag', 'night', '--grade', 'pass')).out).toBe('No run in the log fits.\n');
    expect((await log('--limit', '1')).out.trim().split('\n')).toHaveLength(2);
  });

  it('writes JSON and CSV to standard output, or to a file', async () => {
    const rows = JSON.parse((await log('--json', '--floor', 'plywood loft')).out) as unknown[];
    expect(rows).toMatchObject([{ id: 2, grade: 'pass', pass: { floor: 'plywood loft' } }]);
    expect((await log('--csv')).out.split('\r\n')).toHaveLength(6);
    const file = path.join(folder, 'runs.csv');
    const { out, err } = await log('--out', file);
    expect([out, err]).toEqual(['', `Written: ${file} (4 runs)\n`]);
    expect(fs.readFileSync(file, 'utf8')).toBe((await log('--csv')).out);
  });

  it('shows the summary of a run again, with its sheet, and says where its report is', async () => {
    const { out } = await log('show', '2');
    expect(out).toMatch(/^Run 2, measured 2031-03-14 \d\d:\d\d, plywood loft\nNotes: bell\? rang\n/);
    expect(out).toMatch(/Report: not there; trundle log open 2 writes it anew\n$/);
    expect((await log('show', '3')).out).toContain(`Report: ${path.join(reports, 'hall', 'report.html')}\n`);
    expect(runSchema.parse(JSON.parse((await log('show', '2', '--json')).out)).pass.floor).toBe(
      'plywood loft',
    );
  });

  it('shows runs by their numbers alone, and lists with the word or without', async () => {
    expect(await log('2')).toEqual(await log('show', '2'));
    const { status, out } = await log('1,2');
    expect(status).toBe(0);
    expect(out).toMatch(/^Run 1, [^]*\nRun 2, /);
    expect(await log('list', '--floor', 'dairy hall')).toEqual(await log('--floor', 'dairy hall'));
  });

  it('opens the report that is there', async () => {
    const { status, out, err } = await log('open', '3');
    expect([status, out, err]).toEqual([0, `${path.join(reports, 'hall', 'report.html')}\n`, '']);
  });

  it('writes a report anew that is the old one, file by file', async () => {
    const { status, out, err } = await log('open', '3', '--out-dir', path.join(folder, 'anew'));
    expect([status, err]).toEqual([0, 'The report of run 3 was written anew from the log.\n']);
    const anew = path.dirname(out.trim());
    const before = path.join(reports, 'hall');
    expect(fs.readdirSync(anew).sort()).toEqual(fs.readdirSync(before).sort());
    for (const file of ['run.json', 'series.json', 'motion.csv', 'spectrum.csv', 'frame.jpg'])
      expect(fs.readFileSync(path.join(anew, file)).equals(fs.readFileSync(path.join(before, file)))).toBe(
        true,
      );
    // From now on, this is where its report is.
    expect((await log('open', '3')).out).toBe(out);
  });

  it('writes a report anew where none is left, and refuses a run that was kept without its series', async () => {
    const words = ['--out-dir', path.join(folder, 'anew')];
    expect((await log('open', '1', ...words)).out).toMatch(/-run-1\/report\.html\n$/);
    const { status, err } = await log('open', '4', ...words);
    expect(status).toBe(2);
    expect(err).toMatch(/Run 4 .* without its series.*measure .* again.*\[log-entry-unreadable\]/);
  });

  it('tags and describes runs, several at once', async () => {
    expect((await log('tag', '1', '2', '--add', 'rail, wet', '--remove', 'night')).out).toMatch(
      /rail, wet\n.*rail, wet\n$/,
    );
    const words = ['--setup', 'hard tyres', '--pass-number', '2', '--clear', 'lane,notes'];
    expect((await log('set', '1,2', ...words)).status).toBe(0);
    expect((await log('set', '1', '--operator', 'Mara')).err).toBe(
      'The report folder keeps the old sheet; compare log:1 uses the new one.\n',
    );
    expect((await log('set', '1', '--clear', 'operator')).status).toBe(0);
    const rows = JSON.parse((await log('--json', '--setup', 'hard tyres')).out) as { pass: object }[];
    expect(rows.map(({ pass }) => pass)).toEqual([
      { floor: 'plywood loft', setup: 'hard tyres', passNumber: 2, tags: ['rail', 'wet'] },
      { floor: 'dairy hall', setup: 'hard tyres', passNumber: 2, tags: ['rail', 'wet'] },
    ]);
  });

  it('changes no run when one of them is not there', async () => {
    const { status, err } = await log('set', '1', '99', '--operator', 'Ives');
    expect(status).toBe(2);
    expect(err).toMatch(/no run 99 in the log; the newest is 4/);
    expect((await log('--operator', 'Ives')).out).toBe('No run in the log fits.\n');
  });

  it('removes runs only when it is told to, and leaves report folders', async () => {
    const refused = await log('remove', '4');
    expect(refused.status).toBe(2);
    expect(refused.err).toMatch(/Nothing was removed.*--yes.*\[argument-invalid\]/);
    expect(
      (await runWordsWith({ interactive: true }, 'log', 'remove', '3', '4', '--data-dir', data)).status,
    ).toBe(2);
    const one = await runWordsWith({ interactive: true }, 'log', 'remove', '4', '--data-dir', data);
    expect(one.out).toMatch(/^Removed from the log:\n/);
    const { out } = await log('remove', '3', '--yes');
    expect(out).toMatch(/The report folder stays: .*run-3\n$/);
    expect((await log()).out.trim().split('\n')).toHaveLength(3);
  });

  it('says where the log is, there or not', async () => {
    expect(await log('where')).toEqual({ status: 0, out: `${path.join(data, 'runs.db')}\n`, err: '' });
    const nowhere = path.join(folder, 'nowhere');
    const { out, err } = await runWords('log', 'where', '--data-dir', nowhere);
    expect(out).toBe(`${path.join(nowhere, 'runs.db')}\n`);
    expect(err).toMatch(/Nothing is there yet/);
  });

  it('refuses a file where the folder should be', async () => {
    const file = path.join(folder, 'a-file');
    fs.writeFileSync(file, 'mine');
    for (const words of [['log'], ['log', 'where'], ['log', 'show', '1'], ['deliveries', '--write']]) {
      const { status, out, err } = await runWords(...words, '--data-dir', file);
      expect([status, out]).toEqual([2, '']);
      expect(err).toBe(
        `trundle: The data folder "${file}" is a file or lies below one; choose a folder with --data-dir or TRUNDLE_DATA. [argument-invalid]\n`,
      );
    }
  });

  it('does not make a log by asking for one', async () => {
    const nowhere = path.join(folder, 'nowhere');
    const sentence = `There is no log at "${path.join(nowhere, 'runs.db')}" yet; it begins with the first clip that is measured.\n`;
    expect(await runWords('log', '--data-dir', nowhere)).toEqual({ status: 0, out: sentence, err: '' });
    expect(await runWords('log', '--json', '--data-dir', nowhere)).toEqual({
      ...{ status: 0, out: '[]\n', err: sentence },
    });
    expect((await runWords('log', 'show', '1', '--data-dir', nowhere)).err).toMatch(/no log at .* yet/);
    expect(fs.existsSync(nowhere)).toBe(false);
  });

  it.each([
    [['shwo', '1'], /no command "log shwo"; the nearest is "log show"/],
    [['12'], /no run 12 in the log/],
    [['--flor', 'hall'], /no option "--flor"; the nearest is "--floor"/],
    [['show', 'one'], /"one" is not the number of a run/],
    [['open', '1', '2'], /number of one run/],
    [['show'], /"trundle log show" needs the number of the run, as in "trundle log show 4"/],
    [['--tag', ',,'], /"--tag ,," holds no word/],
    [['tag', '1', '--add', ','], /"--add ," holds no word/],
    [['show', '1', '--yes'], /no option "--yes"/],
    [['--csv', '--json'], /Either --csv or --json/],
    [['--grade', 'good'], /pass, marginal, fail, unmeasurable/],
    [['--since', 'monday'], /a day like 2031-03-14/],
    [['tag', '1'], /--add or --remove/],
    [['set', '1'], /Give what to write/],
    [['set', '1', '--direction', 'sideways'], /out or back/],
    [['set', '1', '--clear', 'flor'], /no entry "flor"; the nearest is "floor"/],
  ])('refuses %j with one sentence and status 2', async (words, sentence) => {
    const { status, out, err } = await log(...words);
    expect([status, out]).toEqual([2, '']);
    expect(err).toMatch(sentence);
    expect(err.trim().split('\n')).toHaveLength(1);
  });

  it('has help of its own for each command', async () => {
    expect((await log('--help')).out).toMatch(/remove/);
    expect((await log('set', '--help')).out).toMatch(/--setup/);
  });
});

describe('the page of a report', () => {
  it.each([
    ['linux', 'xdg-open'],
    ['darwin', 'open'],
    ['win32', 'explorer.exe'],
  ] as const)('is shown on %s by %s, with its path as one word', (platform, program) => {
    expect(viewerOf(platform, '/a b/report.html')).toEqual([program, ['/a b/report.html']]);
  });
});
