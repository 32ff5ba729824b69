/** The command compare on run folders that were never filmed: what it finds, groups, says, writes, and what it refuses. */
import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { parseComparison, type Comparison } from '../../src/run/index.js';
import { madeUpRunFolder, type MadeUpPass } from '../support/made-up-runs.js';
import { runWords, type CliResult } from '../support/recorded-io.js';

const SHAKE = { durationS: 8, passSd: 0.05, ownShare: 0.1, noiseDeg: 0.0003 };
const FLOOR = { ...SHAKE, floor: 'dairy hall' };
const HARD = { ...FLOOR, setup: 'hard wheels' };
const SOFT = { ...FLOOR, setup: 'soft tyres', factor: 0.5 };

let parent = '';
let reports = '';
let outDir = '';

beforeAll(async () => {
  parent = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-compare-'));
  reports = path.join(parent, 'reports');
  await madeUpRunFolder(reports, 'pass-1', { ...HARD, lane: '1', passSeed: 1 });
  await madeUpRunFolder(reports, 'pass-2', { ...SOFT, lane: '1', passSeed: 2 });
  await madeUpRunFolder(reports, 'pass-10', { ...HARD, lane: '1', passSeed: 4 });
  await madeUpRunFolder(reports, 'pass-3', { ...SOFT, lane: '1', passSeed: 3 });
});
beforeEach(async () => {
  outDir = await fs.mkdtemp(path.join(parent, 'out-'));
});
afterAll(() => fs.rm(parent, { recursive: true, force: true }));

/** Compares into a folder of its own and reads what was written. */
async function compare(...words: string[]): Promise<CliResult & { comparison: Comparison }> {
  const result = await runWords('compare', '--out-dir', outDir, ...words);
  // A test may compare twice into its folder.
  expect(result.err.replace(`Replaced the earlier comparison in ${outDir}.\n`, '')).toBe('');
  expect(result.status).toBe(0);
  const written: unknown = JSON.parse(await fs.readFile(path.join(outDir, 'comparison.json'), 'utf8'));
  return { ...result, comparison: parseComparison(written) };
}

async function refused(...words: string[]): Promise<string> {
  const { status, err, out } = await runWords('compare', '--out-dir', outDir, ...words);
  expect(out).toBe('');
  expect(status).toBe(2);
  expect(err.trim().split('\n')).toHaveLength(1);
  expect(await fs.readdir(outDir)).toEqual([]);
  return err;
}

/** Run folders beside those of `reports`. */
function madeUp(name: string, options: MadeUpPass): Promise<string> {
  return madeUpRunFolder(path.join(parent, 'others'), name, options);
}

function warningsOf({ warnings }: Comparison): Record<string, string> {
  return Object.fromEntries(warnings.map(({ code, text }) => [code, text]));
}

describe('compare', () => {
  it('reads a folder of report folders in the order of their names, and says which setup is smoother', async () => {
    const { comparison, out } = await compare(reports);
    expect(comparison.by).toBe('setup');
    expect(comparison.groups.map(({ name, runs }) => [name, runs.map(({ clip }) => clip)])).toEqual([
      ['hard wheels', ['pass-1.mp4', 'pass-10.mp4']],
      ['soft tyres', ['pass-2.mp4', 'pass-3.mp4']],
    ]);
    const tilt = comparison.pairs[0].axes.find(({ axis }) => axis === 'tilt')!;
    expect(tilt.says).toBe('bSmoother');
    // True ratio: 2, as hard over soft.
    expect(tilt.ci95![0]).toBeLessThan(2);
    expect(tilt.ci95![1]).toBeGreaterThan(2);
    expect(out).toMatch(/^"soft tyres" is smoother on this lane: /);
    expect(out.trimEnd().split('\n').at(-1)).toBe(`Page: ${path.join(outDir, 'compare.html')}`);
  });

  it('writes a page and a document and nothing else, and takes the place of an earlier one', async () => {
    await compare(reports);
    await fs.writeFile(path.join(outDir, 'notes.txt'), 'roll 12\n');
    await compare(reports, '--take', '10s');
    expect((await fs.readdir(outDir)).sort()).toEqual([
      'compare.html',
      'comparison.json',
      'notes.txt',
      'trundle-comparison-1.schema.json',
    ]);
    expect(await fs.readFile(path.join(outDir, 'compare.html'), 'utf8')).toContain('soft tyres');
  });

  it('says that it took the place of an earlier comparison, but not when it is to be quiet', async () => {
    const again = (...words: string[]) => runWords('compare', '--out-dir', outDir, ...words, reports);
    expect((await again()).err).toBe('');
    expect((await again()).err).toBe(`Replaced the earlier comparison in ${outDir}.\n`);
    expect((await again('--quiet')).err).toBe('');
    expect((await again('--json')).err).toBe(`Page: ${path.join(outDir, 'compare.html')}\n`);
  });

  it('prints the document alone with --json', async () => {
    const result = await runWords('compare', '--json', '--out-dir', outDir, reports);
    const written = await fs.readFile(path.join(outDir, 'comparison.json'), 'utf8');
    expect(parseComparison(JSON.parse(result.out))).toEqual(JSON.parse(written));
    expect(result.err).toBe(`Page: ${path.join(outDir, 'compare.html')}\n`);
    expect((await runWords('compare', '--json', '--quiet', '--out-dir', outDir, reports)).err).toBe('');
  });

  it('reads a run that is named twice, by its folder and by its file, once', async () => {
    const { comparison } = await compare(reports, path.join(reports, 'pass-1', 'run.json'));
    expect(comparison.groups.flatMap(({ runs }) => runs)).toHaveLength(4);
  });

  it('gives the same figures again', async () => {
    const { comparison: first } = await compare(reports);
    const { comparison: again } = await compare(reports);
    expect({ ...again, createdAt: '' }).toEqual({ ...first, createdAt: '' });
  });

  it('goes to a folder named after the setups', async () => {
    const { comparisonFolder } = await import('../../src/write-comparison.js');
    expect(comparisonFolder('Hard wheels', 'Größe 2/B')).toBe(
      path.join('reports', 'compare-hard-wheels-gro-e-2-b'),
    );
    expect(comparisonFolder('..', '日本')).toBe(path.join('reports', 'compare-x-x'));
  });
});

describe('grouping', () => {
  it('takes names for runs that were measured without a sheet, in their order', async () => {
    const names = ['x1', 'x2', 'x3', 'x4'];
    const folders = await Promise.all(
      names.map((name, i) => madeUp(name, { ...SHAKE, factor: i % 3 === 0 ? 1 : 0.5, passSeed: i + 1 })),
    );
    const { comparison } = await compare('--setups', 'A,B,B,A', '--lanes', '1,1,2,2', ...folders);
    expect(comparison.groups.map(({ name, runs }) => [name, runs.map(({ clip }) => clip)])).toEqual([
      ['A', ['x1.mp4', 'x4.mp4']],
      ['B', ['x2.mp4', 'x3.mp4']],
    ]);
    expect(comparison.pairs[0].design).toBe('pairedLanes');
    expect(warningsOf(comparison)).not.toHaveProperty('lane-unnamed');
  });

  it('takes runs of no lane as of one, and says so', async () => {
    const { comparison, out } = await compare(
      '--setups',
      'A,B',
      await madeUp('u1', { ...FLOOR }),
      await madeUp('u2', { ...FLOOR, passSeed: 2 }),
    );
    expect(comparison.pairs[0].design).toBe('oneLane');
    const said = 'taken as the same lane because none was named';
    expect(warningsOf(comparison)['lane-unnamed']).toContain(said);
    expect(out).toContain(said);
    expect(comparison.lanePlan).toBeNull();
  });

  it('takes a run of no lane as on a lane of its own where others name theirs, and says just that', async () => {
    const { comparison, out } = await compare(
      '--setups',
      'A,B',
      await madeUp('v1', { ...FLOOR }),
      await madeUp('v2', { ...FLOOR, lane: '4', passSeed: 2 }),
    );
    expect(comparison.pairs[0]).toMatchObject({ design: 'ownLanes', claim: 'nothing' });
    expect(warningsOf(comparison)['lane-unnamed']).toBe(
      '1 of 2 runs names no lane: it is taken as a lane of its own beside the lanes that are named. If that is not so, name lanes with --lanes.',
    );
    expect(out).toContain('Each on lanes of its own (lane not named, lane 4)');
    expect(out).not.toContain('taken as the same lane');
  });

  it('tells a leaning by its axis, with one chance in the sentence and in the table', async () => {
    const { comparison, out } = await compare(
      ...['--by', 'run'],
      await madeUp('w1', { ...FLOOR }),
      await madeUp('w2', { ...FLOOR, passSeed: 2, factor: 0.75 }),
    );
    const tilt = comparison.pairs[0].axes.find(({ axis }) => axis === 'tilt')!;
    const chance = /Tilt leans to "w2": (\d+) in 100\./.exec(tilt.sentence)?.[1];
    expect(chance).toBeDefined();
    expect(out).toMatch(new RegExp(`^Tilt .* leaning to w2 \\(${chance} in 100\\)$`, 'm'));
  });

  it('says plainly that lanes and setups go together, and never calls a setup a lane', async () => {
    const run = (name: string, passSeed: number, factor: number) =>
      madeUp(name, { ...SHAKE, passSeed, factor });
    const folders = [
      await run('y1', 1, 0.5),
      await run('y2', 2, 0.5),
      await run('y3', 3, 1),
      await run('y4', 4, 1),
    ];
    const by = ['--by', 'lane', '--lanes', '1,1,2,2'];
    const together = await compare(...by, '--setups', 'B,B,A,A', ...folders);
    expect(together.comparison.sentence).toMatch(/^Lanes and setups cannot be told apart here: /);
    expect(together.comparison.lanePlan?.lanes.map(({ name }) => name)).toEqual(['1', '2']);
    expect(together.comparison.pairs[0]).toMatchObject({
      claim: 'nothing',
      unfair: ['No setup was rolled on both lanes: lane and setup cannot be told apart.'],
    });
    expect(together.out).toContain(
      'No setup was rolled on both lanes: 2 passes of lane 1, 2 passes of lane 2.',
    );
    expect(together.out).not.toMatch(/lanes? with both|run both on one lane|Floor and setup/);
    const crossed = await compare(...by, '--setups', 'A,B,A,B', ...folders);
    expect(crossed.comparison.pairs[0]).toMatchObject({
      claim: 'theseStretches',
      design: 'pairedLanes',
      unfair: [],
    });
    expect(crossed.comparison.pairs[0].sentence).toContain('2 setups on both, one pass each');
    expect(JSON.stringify(crossed.comparison.pairs)).not.toMatch(/lanes? with both/);
    expect(crossed.comparison.lanePlan?.best.lane).toBe('1');
  });

  it('falls back to what differs when fewer than two setups are named, and in the end to each run', async () => {
    const fast = await madeUp('fast', { ...HARD, lane: '1', speedMps: 0.5, durationS: 6 });
    const slow = path.join(reports, 'pass-1');
    const speeds = (await compare(slow, fast)).comparison;
    expect(speeds.by).toBe('speed');
    expect(speeds.groups.map(({ name }) => name)).toEqual(['0.25 m/s', '0.5 m/s']);
    expect(warningsOf(speeds)['compared-by']).toContain('compared by speed');
    const twins = (await compare(slow, path.join(reports, 'pass-10'))).comparison;
    expect(twins.by).toBe('run');
    expect(twins.groups.map(({ name }) => name)).toEqual(['pass-1', 'pass-10']);
    expect(twins.pairs[0].axes.every(({ says }) => says !== 'aSmoother' && says !== 'bSmoother')).toBe(true);
  });

  it('groups by what is asked for', async () => {
    const { comparison } = await compare(
      '--by',
      'run',
      path.join(reports, 'pass-1'),
      path.join(reports, 'pass-2'),
    );
    expect(comparison.groups.map(({ name }) => name)).toEqual(['pass-1', 'pass-2']);
    expect(warningsOf(comparison)).not.toHaveProperty('compared-by');
  });

  it('answers by lane with the plan of the floor', async () => {
    const lane = async (name: string, passSeed: number, factor: number): Promise<string> =>
      madeUp(`lane-${name}-${passSeed}`, { ...HARD, lane: name, passSeed, factor });
    const folders = [
      await lane('1', 1, 1),
      await lane('2', 2, 3),
      await lane('1', 3, 1),
      await lane('2', 4, 3),
    ];
    const { comparison, out } = await compare('--by', 'lane', ...folders);
    expect(comparison.groups.map(({ name }) => name)).toEqual(['lane 1', 'lane 2']);
    expect(comparison.lanePlan?.best.lane).toBe('1');
    expect(comparison.lanePlan?.floor).toBe('dairy hall');
    expect(out).toMatch(/^Lane 1 is the steadiest: /);
  });
});

describe('wrong input', () => {
  const pass1 = (): string => path.join(reports, 'pass-1');

  it('is a folder that is not there', async () => {
    expect(await refused(pass1(), path.join(parent, 'nowhere'))).toMatch(/nowhere.*\[run-unreadable\]/);
  });

  it('is a clip in place of a run', async () => {
    expect(await refused(pass1(), 'concrete.mp4')).toMatch(
      /"concrete\.mp4" is a clip.*measure it first.*\[run-invalid\]/,
    );
  });

  it('is a run without its series', async () => {
    const old = await madeUp('old', { ...SOFT, lane: '1' });
    await fs.rm(path.join(old, 'series.json'));
    expect(await refused(pass1(), old)).toMatch(/series\.json.*measure that clip again.*\[run-invalid\]/);
  });

  it('is a folder without runs in it', async () => {
    const empty = path.join(parent, 'empty');
    await fs.mkdir(path.join(empty, 'stills'), { recursive: true });
    expect(await refused(pass1(), empty)).toMatch(/no report folder and holds none.*\[run-unreadable\]/);
  });

  it('is one run alone, or one group alone', async () => {
    expect(await refused(pass1())).toMatch(/needs two runs or more.*pass-1.*\[argument-invalid\]/);
    expect(await refused('--by', 'floor', reports)).toMatch(
      /same floor \(dairy hall\).*\[argument-invalid\]/,
    );
  });

  it('is an unknown thing to group by, and names of another number than runs', async () => {
    expect(await refused('--by', 'wheelz', reports)).toMatch(/the nearest is "wheels"/);
    expect(await refused('--setups', 'A,B', reports)).toMatch(/2 names for 4 runs \(.*pass-1.*pass-10/);
    expect(await refused('--directions', 'out,up,,', reports)).toMatch(/out and back, not "up"/);
    expect(await refused('--setups', 'A,A,A,A', reports)).toMatch(
      /^trundle: All 4 runs have the same setup \(A\), so there is nothing to compare by it; .*\[argument-invalid\]/,
    );
    expect(await refused('--take', '0.2s', reports)).toMatch(/"--take 0\.2s"/);
  });

  it('is a question that the log cannot answer, and none is made for it', async () => {
    const dataDir = path.join(parent, 'no-log');
    expect(await refused('--data-dir', dataDir, 'log:12,14')).toMatch(
      /There is no run 12 in the log, which is empty.*\[log-entry-unknown\]/,
    );
    expect(await refused('--data-dir', dataDir, 'log:floor=dairy hall')).toMatch(
      /no run for "log:floor=dairy hall".*\[run-unreadable\]/,
    );
    await expect(fs.stat(dataDir)).rejects.toThrow();
  });

  it('is a folder with somebody else’s page in it', async () => {
    const theirs = path.join(parent, 'theirs');
    await fs.mkdir(theirs);
    await fs.writeFile(path.join(theirs, 'compare.html'), 'mine');
    const { status, err } = await runWords('compare', '--out-dir', theirs, reports);
    expect(status).toBe(2);
    expect(err).toMatch(/holds "compare\.html" but no comparison.*\[output-unwritable\]/);
    expect(await fs.readdir(theirs)).toEqual(['compare.html']);
  });
});
