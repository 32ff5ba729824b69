/** `trundle report`: page and pictures of a measured run anew from its files, in other units, elsewhere, or from the log. */
import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { openLog } from '../../src/log/index.js';
import { encodePicture, RUN_FILES, writeRun } from '../../src/report/index.js';
import { parseRun } from '../../src/run/index.js';
import { corridorPicture, madeUpBundle } from '../report/support/made-up-bundle.js';
import { runWords } from '../support/recorded-io.js';

describe('trundle report', () => {
  let parent = '';
  let folder = '';
  let data = '';
  const bundle = { ...madeUpBundle(), picture: corridorPicture(160, 90) };

  beforeAll(async () => {
    parent = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-report-cli-'));
    folder = path.join(parent, 'hall');
    data = path.join(parent, 'data');
    await writeRun(folder, bundle);
    const log = openLog(path.join(data, 'runs.db'));
    const kept = { run: bundle.run, series: bundle.series, thumbnail: null };
    log.add({
      ...kept,
      picture: await encodePicture(bundle.picture),
      reportFolder: path.join(parent, 'gone'),
    });
    log.close();
  });
  afterAll(() => fs.rm(parent, { recursive: true, force: true }));
  afterEach(() => vi.unstubAllEnvs());

  const runOf = async (place: string) =>
    parseRun(JSON.parse(await fs.readFile(path.join(place, 'run.json'), 'utf8')));

  it('writes the same files into the same folder, byte for byte', async () => {
    const read = () => Promise.all(RUN_FILES.map((file) => fs.readFile(path.join(folder, file))));
    // The made-up run has warps of its own; from the first time on they follow from its series.
    await runWords('report', folder);
    const before = await read();
    const { status, out, err } = await runWords('report', folder);
    expect([status, err]).toEqual([0, '']);
    expect(out).toBe(`Report: ${path.join(folder, 'report.html')}\n`);
    (await read()).forEach((file, i) => expect(file.equals(before[i]), RUN_FILES[i]).toBe(true));
  });

  it('changes the units of what is shown, and no figure', async () => {
    const out = path.join(parent, 'feet');
    const words = ['report', path.join(folder, 'run.json'), folder, '--units', 'imperial', '--out-dir', out];
    expect((await runWords(...words)).status).toBe(0);
    expect((await fs.readdir(out)).sort()).toEqual(['hall', 'hall-2']);
    const [then, now] = [await runOf(folder), await runOf(path.join(out, 'hall'))];
    expect(now).toEqual({ ...then, units: 'imperial' });
    const page = await fs.readFile(path.join(out, 'hall', 'report.html'), 'utf8');
    expect(page).toContain('0.82 ft/s');
  });

  it('takes runs of the log by their numbers, whose files may be gone', async () => {
    const out = path.join(parent, 'logged');
    const { status, out: said } = await runWords('report', 'log:1', '--out-dir', out, '--data-dir', data);
    expect(status).toBe(0);
    expect(said).toMatch(/^Report: .*-run-1\/report\.html\n$/);
    expect(await fs.readdir(path.dirname(said.slice('Report: '.length).trim()))).toContain('contact.png');
  });

  it('is complete without its PDF where no browser starts; the exit status says so', async () => {
    vi.stubEnv('TRUNDLE_CHROMIUM', path.join(parent, 'no-such-browser'));
    const { status, out, err } = await runWords('report', folder, '--pdf', '--paper', 'letter');
    expect(status).toBe(2);
    expect(out).toBe(`Report: ${path.join(folder, 'report.html')}\n`);
    expect(err).toMatch(/^trundle: No PDF was written, since no browser starts here .* \[no-browser\]\n$/);
    expect((await fs.readdir(folder)).sort()).toEqual([...RUN_FILES].sort());
  });

  it.each([
    [['--paper', 'a3', '--pdf'], /"--paper a3" must be a4 or letter/],
    [['--paper', 'letter'], /"--paper letter" is for the PDF; add --pdf/],
    [['--units', 'cubits'], /"--units cubits" must be one of metric, imperial, both/],
  ])('refuses %j in one sentence', async (words, sentence) => {
    const { status, err } = await runWords('report', folder, ...words);
    expect(status).toBe(2);
    expect(err).toMatch(sentence);
  });

  it('tells what is no run and goes on with the others', async () => {
    const { status, out, err } = await runWords('report', path.join(parent, 'nothing'), 'clip.mp4', folder);
    expect(status).toBe(2);
    expect(err).toMatch(
      /\[run-unreadable\]\n.*is a clip, and report takes measured runs.*\[run-invalid\]\n$/s,
    );
    expect(out).toContain('Report: ');
  });
});
