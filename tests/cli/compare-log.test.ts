/** Runs that are compared out of the log: by question, by number, with the sheet as it stands; and what repeats in the log are worth. */
import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { compareRuns } from '../../src/compare.js';
import { LOG_FILE, openLog } from '../../src/log/index.js';
import { madeUpRunOf, type MadeUpPass } from '../support/made-up-runs.js';

const DURATION_S = 5;

let dataDir = '';

/** Keeps runs in a log of their own. @returns its folder */
async function logOf(...passes: MadeUpPass[]): Promise<string> {
  const folder = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-compare-log-'));
  const log = openLog(path.join(folder, LOG_FILE));
  for (const pass of passes) {
    const { run, series } = madeUpRunOf({ durationS: DURATION_S, noiseDeg: 0.0003, ...pass });
    log.add({ run, series, reportFolder: null, picture: null, thumbnail: null });
  }
  log.close();
  return folder;
}

beforeAll(async () => {
  dataDir = await logOf(
    { floor: 'dairy hall', setup: 'hard wheels', lane: '1', passSeed: 1 },
    { floor: 'dairy hall', setup: 'soft tyres', lane: '1', passSeed: 2, factor: 0.4 },
    { floor: 'plywood loft', setup: 'hard wheels', lane: '1', passSeed: 3 },
  );
});
afterAll(() => fs.rm(dataDir, { recursive: true, force: true }));

describe('runs of the log', () => {
  it('are found by a question', async () => {
    const { groups } = await compareRuns({ places: ['log:floor=dairy hall'], dataDir });
    expect(groups.map(({ name, runs }) => [name, runs.map(({ place }) => place)])).toEqual([
      ['hard wheels', ['log:1']],
      ['soft tyres', ['log:2']],
    ]);
  });

  it('are found by number, and count once', async () => {
    const { groups } = await compareRuns({ places: ['log:2,3', 'log:3'], dataDir });
    expect(groups.flatMap(({ runs }) => runs.map(({ place }) => place)).sort()).toEqual(['log:2', 'log:3']);
  });

  it('must all be there, which is looked up before anything is read', async () => {
    await expect(compareRuns({ places: ['log:1,2,99'], dataDir })).rejects.toMatchObject({
      code: 'log-entry-unknown',
      message: 'There is no run 99 in the log; the newest is 3. See trundle log.',
    });
    await expect(compareRuns({ places: ['nowhere', 'log:1', 'log:99'], dataDir })).rejects.toMatchObject({
      code: 'log-entry-unknown',
    });
  });

  it('have the sheet that the log has now', async () => {
    const folder = await logOf({ setup: 'hard wheels', passSeed: 1 }, { setup: 'hard wheels', passSeed: 2 });
    const log = openLog(path.join(folder, LOG_FILE));
    log.describe(2, { setup: 'soft tyres' });
    log.close();
    const { by, groups } = await compareRuns({ places: ['log:1,2'], dataDir: folder });
    expect([by, groups.map(({ name }) => name)]).toEqual(['setup', ['hard wheels', 'soft tyres']]);
    await fs.rm(folder, { recursive: true });
  });
});

describe('what passes differ by', () => {
  it('is assumed from a log with few repeats, and known from one with ten', async () => {
    const { priors } = await compareRuns({ places: ['log:1,2'], dataDir });
    expect(priors.betweenPassesFrom).toBe('assumed');
    const folder = await logOf(
      ...Array.from({ length: 11 }, (_, i) => ({
        setup: 'hard wheels',
        lane: '1',
        passSeed: i + 1,
        passSd: 0.2,
      })),
      { setup: 'soft tyres', lane: '1' },
    );
    const { priors: known } = await compareRuns({ places: ['log:1,12'], dataDir: folder });
    expect(known.betweenPassesFrom).toBe('log');
    // Eleven passes tell a sd of 20 % to 22 % of itself; three times that.
    expect(known.betweenPasses).toBeGreaterThan(0.07);
    expect(known.betweenPasses).toBeLessThan(0.34);
    await fs.rm(folder, { recursive: true });
  });

  it('is assumed, with a word, when the log cannot be read', async () => {
    const folder = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-compare-log-'));
    await fs.mkdir(path.join(folder, LOG_FILE));
    const { spreadsOfLog } = await import('../../src/compare-spreads.js');
    const said: string[] = [];
    const spreads = await spreadsOfLog(path.join(folder, LOG_FILE), ({ code }) => said.push(code));
    expect(spreads.betweenPassesFrom).toBe('assumed');
    expect(said).toEqual(['log-not-read']);
    await fs.rm(folder, { recursive: true });
  });
});
