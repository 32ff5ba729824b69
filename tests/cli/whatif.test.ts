/** `trundle whatif` answers from the files of a run alone, tells wrong input in one sentence, and never looks for a clip or a decoder. */
import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { askWhatIf } from '../../src/what-if.js';
import { openLog } from '../../src/log/index.js';
import { parseWhatIf } from '../../src/run/index.js';
import { rolledPass } from '../judge/advice/support/rolled-pass.js';
import { filesOf, writeRolledRun } from '../judge/what-if/support/rolled-run.js';
import { runWords } from '../support/recorded-io.js';

/** A file and all that it imports, types left out. */
async function reachedFrom(file: string, seen = new Set<string>()): Promise<Set<string>> {
  if (seen.has(file)) return seen;
  seen.add(file);
  const source = await fs.readFile(file, 'utf8');
  const imported = /(?:^(?:import|export)(?! type)[^;']*from|import\()\s*'(\.[^']*)\.js'/gm;
  for (const [, place] of source.matchAll(imported))
    await reachedFrom(`${path.resolve(path.dirname(file), place)}.ts`, seen);
  return seen;
}

describe('trundle whatif', () => {
  const pass = rolledPass({ seed: 3, speedMps: 0.2, durationS: 6 });
  let parent = '';
  let folder = '';

  beforeAll(async () => {
    parent = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-whatif-'));
    folder = await writeRolledRun(parent, 'hall', pass);
  });
  afterAll(() => fs.rm(parent, { recursive: true, force: true }));

  it('prints the verdict first and writes its page beside the run', async () => {
    const { status, out, err } = await runWords('whatif', folder, '--focal', '50', '--speed', '0.16m/s');
    expect(status).toBe(0);
    expect(err).toBe('');
    expect(out).toMatch(/^(PASS|MARGINAL|FAIL) {2}.* with a 50 mm lens at 0.16 m\/s/);
    expect(out).toContain(`Page: ${path.join(folder, 'whatif.html')}`);
    expect(await fs.readFile(path.join(folder, 'whatif.html'), 'utf8')).toContain('Trundle what if');
  });

  it('says that its page took the place of an earlier answer, but not when it is to be quiet', async () => {
    const outDir = path.join(parent, 'twice');
    const ask = (...more: string[]) => runWords('whatif', folder, '--out-dir', outDir, ...more);
    expect((await ask()).err).toBe('');
    expect((await ask('--focal', '50', '--quiet')).err).toBe('');
    expect((await ask('--focal', '24')).err).toBe(
      `Replaced the page of an earlier answer: ${path.join(outDir, 'whatif.html')}\n`,
    );
  });

  it('has nothing to do with decoding: no file of it can reach footage, tracking or vision', async () => {
    const files = await reachedFrom(path.resolve('src/cli/whatif-command.ts'));
    const rooms = new Set(
      [...files].map((file) => path.relative(path.resolve('src'), file).split(path.sep)[0]),
    );
    expect(rooms).toContain('stabilise');
    for (const room of ['footage', 'tracking', 'vision', 'proof']) expect(rooms).not.toContain(room);
  });

  it('prints JSON and nothing else, and the same run by its run.json', async () => {
    const file = path.join(folder, 'run.json');
    const { status, out, err } = await runWords(
      ...['whatif', file, '--json', '--quiet', '--out-dir', path.join(parent, 'elsewhere')],
    );
    expect(status).toBe(0);
    expect(err).toBe('');
    const answer = parseWhatIf(JSON.parse(out));
    expect(answer.measured.cropPercent.value).toBe(pass.sections.stabilise.cropPercent);
    expect(answer.then).toBeNull();
    expect(await fs.readdir(path.join(parent, 'elsewhere'))).toEqual(['whatif.html']);
  });

  it('turns the verdict on what was asked into an exit status', async () => {
    const strict = [
      'whatif',
      folder,
      '--max-crop',
      '0.001%',
      '--max-residual',
      '0.0001px',
      '--json',
      '--quiet',
    ];
    expect((await runWords(...strict, '--fail-on', 'fail')).status).toBe(1);
    expect((await runWords(...strict)).status).toBe(0);
  });

  it('answers a question that cannot be foretold with the reason and status 4', async () => {
    const { status, out } = await runWords('whatif', folder, '--speed', '2m/s');
    expect(status).toBe(4);
    expect(out).toMatch(/^NOT FORETOLD {2}At this speed the stretch would pass too/);
  });

  it('still answers when the page cannot be written', async () => {
    const inTheWay = path.join(parent, 'a-file');
    await fs.writeFile(inTheWay, '');
    const { status, out, err } = await runWords('whatif', folder, '--out-dir', path.join(inTheWay, 'x'));
    expect(status).toBe(0);
    expect(out).toMatch(/^(PASS|MARGINAL|FAIL) /);
    expect(err).toMatch(/^No page was written.*--out-dir\.\n$/);
  });

  it('tells of a broken file of deliveries and goes on, but not where a delivery is named', async () => {
    const data = path.join(parent, 'broken');
    await fs.mkdir(data);
    await fs.writeFile(path.join(data, 'deliveries.json'), '{ "web HD": ');
    const asked = await runWords('whatif', folder, '--data-dir', data);
    expect(asked.status).toBe(0);
    expect(asked.err).toContain('The built-in deliveries were used.');
    expect(asked.out).toContain('Other deliveries');
    const named = await runWords('whatif', folder, '--data-dir', data, '--for', 'web HD');
    expect(named.status).toBe(2);
    expect(named.err).toContain('[delivery-invalid]');
  });

  it('asks a run that the log has kept', async () => {
    const data = path.join(parent, 'data');
    const log = openLog(path.join(data, 'runs.db'));
    const { id } = log.add({ ...filesOf(pass), reportFolder: folder, picture: null, thumbnail: null });
    log.close();
    const { status, out } = await runWords('whatif', `log:${id}`, '--data-dir', data, '--json', '--quiet');
    expect(status).toBe(0);
    expect(parseWhatIf(JSON.parse(out)).run.place).toBe(`log:${id}`);
    expect((await runWords('whatif', 'log:99', '--data-dir', data)).err).toMatch(/99.*\[log-entry-unknown\]/);
    const nowhere = await runWords('whatif', 'log:1', '--data-dir', path.join(parent, 'none'));
    expect(nowhere.err).toMatch(/no log with a run 1.*\[run-unreadable\]/);
    expect(await fs.readdir(parent)).not.toContain('none');
  });

  it.each([
    [['whatif'], /RUN.*\[argument-invalid\]/i],
    [['whatif', 'a', 'b'], /"b" is too much: one run is asked at a time/],
    [['whatif', 'a', '--focol', '50'], /no option "--focol".*nearest is "--focal"/],
    [['whatif', 'a', '--tyre', 'square'], /"--tyre square" must be soft or hard/],
    [['whatif', 'a', '--speed', '20'], /"20" is not a speed with its unit/],
    [['whatif', 'a', '--focal', '0mm'], /focalLengthMm must be more than 0/],
    [['whatif', 'a', '--for', 'moon'], /no delivery "moon"/],
    [['whatif', 'a', '--smoothing', '1s', '--stabilise', 'hold-still'], /goes with --stabilise keep-move/],
    [['whatif', 'a', '--fail-on', 'maybe'], /never, marginal, fail/],
    [['whatif', 'hall.mp4'], /"hall\.mp4" is a clip.*measure it first.*\[run-invalid\]/],
    [['whatif', 'reports/hall/report.html'], /is a page; give the folder of the report/],
    [['whatif', 'a', '--wheelbase', '9m'], /"--wheelbase 9m" must lie between 5 cm and 4 m/],
    [['whatif', 'a', '--wheelbase', '2cm'], /must lie between 5 cm and 4 m/],
    [['whatif', 'a', '--speed', '20', 'cm/s'], /write 20cm\/s or quote it/],
    [['whatif', '--speed', '20', 'cm/s', 'a'], /write 20cm\/s or quote it/],
    [['whatif', 'log:one'], /not one run of the log/],
    [['whatif', '/nowhere/at/all'], /No run can be read at "\/nowhere\/at\/all"/],
  ])('answers %j with one sentence and status 2', async (words, sentence) => {
    const { status, out, err } = await runWords(...words);
    expect(status).toBe(2);
    expect(out).toBe('');
    expect(err).toMatch(sentence);
    expect(err.trim().split('\n')).toHaveLength(1);
  });

  it('says what to do about a run of before, which has no series', async () => {
    const old = path.join(parent, 'old');
    await fs.mkdir(old);
    await fs.copyFile(path.join(folder, 'run.json'), path.join(old, 'run.json'));
    const { status, err } = await runWords('whatif', old);
    expect(status).toBe(2);
    expect(err).toMatch(/has no series\.json.*measure that clip again.*\[run-invalid\]/);
  });

  it('answers in less than a second', async () => {
    await askWhatIf(folder, { focalLengthMm: 50 });
    const before = process.cpuUsage();
    await askWhatIf(folder, { focalLengthMm: 75, speedMps: 0.16 });
    const { user, system } = process.cpuUsage(before);
    // Time of the processor, so that what else runs beside it does not count; starting the program takes about 0.3 s more.
    expect((user + system) / 1e6).toBeLessThan(0.7);
  });

  it('is a call of the library, too', async () => {
    const { answer, folder: of } = await askWhatIf(folder, { smoothingS: 0.7 });
    expect(answer.then?.smoothingS).toBe(0.7);
    expect(of).toBe(folder);
    await expect(askWhatIf(folder, { smoothingS: 0.01 })).rejects.toMatchObject({ code: 'argument-invalid' });
  });
});
