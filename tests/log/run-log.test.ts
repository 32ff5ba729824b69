import fs from 'node:fs';
import { describe, expect, it } from 'vitest';
import { openLog } from '../../src/log/index.js';
import { Database } from '../../src/log/database.js';
import { pack } from '../../src/log/packed.js';
import { madeUpEntry } from './support/made-up-entry.js';
import { temporaryFolder } from './support/temporary-folder.js';

const { fresh } = temporaryFolder();

describe('a kept run', () => {
  it('comes back as it was measured, pictures included, after the log was closed and opened again', () => {
    const file = fresh();
    const entry = madeUpEntry({
      pass: {
        floor: 'dairy hall 🐄 Größe "3"',
        direction: 'back',
        passNumber: 3,
        mark: 'noGood',
        notes: 'door open;\nwet, odd',
        tags: ['wet', 'night'],
      },
      picture: Uint8Array.from({ length: 5000 }, (_, i) => i % 256),
      thumbnail: Uint8Array.of(255, 216, 0, 1),
      reportFolder: '/reports/pass-03',
    });
    const before = structuredClone(entry);
    const first = openLog(file);
    expect(first.add(entry)).toEqual({ id: 1, replaced: [] });
    first.close();
    expect(entry).toEqual(before);

    const log = openLog(file);
    const { row, run, series, picture, thumbnail } = log.get(1);
    expect(run).toEqual({
      ...entry.run,
      pass: { ...entry.run.pass, tags: ['night', 'wet'] },
    });
    expect(series).toEqual(entry.series);
    expect(picture).toEqual(entry.picture);
    expect(log.picture(1)).toEqual(entry.picture);
    expect(thumbnail).toEqual(entry.thumbnail);
    expect(row).toMatchObject({
      id: 1,
      grade: entry.run.verdict.grade,
      cropPercent: entry.run.stabilise.cropPercent,
      delivery: {
        name: entry.run.delivery.name,
        maxCropPercent: entry.run.delivery.maxCropPercent,
        maxResidualPx: entry.run.delivery.maxResidualPx,
      },
      residualPx: entry.run.stabilise.residual.total?.rmsPx,
      tiltRmsDeg: entry.run.motion.angular.tilt.rmsDeg,
      surfaceClass: 'A-2',
      rangeS: [0, 12],
      reportFolder: '/reports/pass-03',
      readable: true,
      hasSeries: true,
    });
    expect(log.list()).toEqual([row]);
    log.close();
  });

  it('loses nothing behind a character that ends texts elsewhere', () => {
    const log = openLog(fresh());
    log.add(madeUpEntry({ pass: { notes: 'before\0after' } }));
    expect(log.list()[0].pass.notes).toBe('before\ufffdafter');
    log.close();
  });

  it('may lack series and pictures', () => {
    const log = openLog(fresh());
    log.add(madeUpEntry({ series: null }));
    expect(log.get(1)).toMatchObject({
      series: null,
      picture: null,
      thumbnail: null,
      row: { hasSeries: false },
    });
    log.close();
  });

  it('is kept beside an older one of the same clip, whose report folder it takes over', () => {
    const log = openLog(fresh());
    log.add(madeUpEntry({ reportFolder: '/reports/a' }));
    log.add(madeUpEntry({ reportFolder: '/reports/b' }));
    expect(log.add(madeUpEntry({ reportFolder: '/reports/a' }))).toEqual({ id: 3, replaced: [1] });
    expect(log.list().map(({ id, reportFolder }) => [id, reportFolder])).toEqual([
      [3, '/reports/a'],
      [2, '/reports/b'],
      [1, null],
    ]);
    expect(log.get(1).series).not.toBeNull();
    log.close();
  });

  it('is told by its number when there is none', () => {
    const log = openLog(fresh());
    expect(() => log.get(7)).toThrow(/no run 7 in the log, which is empty/);
    log.add(madeUpEntry());
    expect(() => log.get(7)).toThrow(/no run 7 in the log; the newest is 1/);
    expect(() => log.remove([1, 7])).toThrow(/no run 7/);
    expect(log.list()).toHaveLength(1);
    log.close();
  });

  it.each([
    ['of another version', pack({ schema: 'trundle-run/9' })],
    ['that was damaged', Uint8Array.of(1, 2, 3)],
  ])('with a document %s is listed, and refused when it is opened', (_, document) => {
    const file = fresh();
    const log = openLog(file);
    log.add(madeUpEntry({ pass: { floor: 'loft' } }));
    const database = new Database(file, 1000);
    database.run('UPDATE stored SET document = ?', [document]);
    database.run("UPDATE run SET document_schema = 'trundle-run/9'");
    database.close();
    expect(log.list({ floor: 'loft' })).toMatchObject([{ id: 1, readable: false }]);
    expect(() => log.get(1)).toThrow(
      expect.objectContaining({
        code: 'log-entry-unreadable',
        message: expect.stringMatching(/Run 1 .*version 0\.1\.0/) as string,
      }),
    );
    log.close();
  });
});

describe('the sheet of a kept run', () => {
  it('is described anew, entry by entry, and the run comes back with it', () => {
    const log = openLog(fresh());
    log.add(madeUpEntry({ pass: { floor: 'hall', setup: 'soft', notes: 'x' } }));
    log.describe(1, { setup: 'hard tyres', lane: '2', notes: null });
    expect(log.get(1).run.pass).toEqual({ floor: 'hall', setup: 'hard tyres', lane: '2' });
    expect(() => log.describe(1, { passNumber: 0 })).toThrow(/a whole number from 1 to 9999/);
    expect(log.get(1).run.pass.passNumber).toBeUndefined();
    log.close();
  });

  it('gains and loses tags; a tag is there once', () => {
    const log = openLog(fresh());
    log.add(madeUpEntry({ pass: { tags: ['wet'] } }));
    expect(log.tag(1, ['night', 'night', ' rail '], ['wet']).pass.tags).toEqual(['night', 'rail']);
    expect(log.tag(1, [], ['night', 'rail', 'none']).pass.tags).toBeUndefined();
    expect(() => log.tag(1, [''])).toThrow(/tags/);
    log.close();
  });
});

describe('sheet and tags at once', () => {
  it('are written together, or not at all', () => {
    const log = openLog(fresh());
    log.add(madeUpEntry({ pass: { lane: '1', tags: ['wet'] } }));
    const row = log.rewrite(1, { lane: '2', setup: 'soft tyres' }, ['night'], ['wet']);
    expect(row.pass).toEqual({ lane: '2', setup: 'soft tyres', tags: ['night'] });
    expect(() => log.rewrite(1, { lane: '3' }, ['x'.repeat(201)], [])).toThrow(/"tags/);
    expect(log.rows([1])[0].pass.lane).toBe('2');
    log.close();
  });
});

describe('what there is to look for', () => {
  it('is every name that occurs, once, lane 2 before lane 10, with the tags', () => {
    const log = openLog(fresh());
    expect(log.overview()).toMatchObject({ runs: 0, names: { lane: [], floor: [] }, tags: [] });
    const lanes = ['10', '2', '10'];
    for (const lane of lanes)
      log.add(madeUpEntry({ pass: { lane, tags: ['wet', `l${lane}`] }, deliveryName: 'cinema-4k' }));
    const { runs, names, tags } = log.overview();
    expect(runs).toBe(3);
    expect(names).toMatchObject({ lane: ['2', '10'], delivery: ['cinema-4k'], operator: [] });
    expect(tags).toEqual(['l2', 'l10', 'wet']);
    log.close();
  });
});

describe('removing', () => {
  it('takes the run with its data, gives its room back and never gives its number to another', () => {
    const file = fresh();
    const log = openLog(file);
    for (let n = 0; n < 3; n++)
      log.add(madeUpEntry({ pass: { tags: ['t'] }, picture: new Uint8Array(400_000) }));
    expect(log.remove([3, 2, 3]).map(({ id }) => id)).toEqual([3, 2]);
    expect(log.add(madeUpEntry()).id).toBe(4);
    expect(log.list().map(({ id }) => id)).toEqual([4, 1]);
    log.remove([4, 1]);
    log.close();
    // Three pictures alone were 1.2 MB.
    expect(fs.statSync(file).size).toBeLessThan(200_000);
    const database = new Database(file, 1000);
    expect(database.all('SELECT run_id FROM tag UNION ALL SELECT run_id FROM stored')).toEqual([]);
    database.close();
  });
});

describe('a run that is looked for by clip and settings', () => {
  const KEY = 'ab'.repeat(32);

  it('is found whatever the clip is called by now, the newest of several, and not by other settings', () => {
    const log = openLog(fresh());
    const entry = madeUpEntry({});
    const { sha256 } = entry.run.clip;
    expect(log.runOf(sha256, KEY)).toBeNull();
    log.add(entry);
    expect(log.runOf(sha256, KEY)).toBeNull();
    log.add({ ...entry, settingsKey: KEY });
    log.add({ ...entry, settingsKey: KEY });
    log.add({ ...entry, settingsKey: 'cd'.repeat(32) });
    expect(log.runOf(sha256, KEY)).toBe(3);
    expect(log.runOf('0'.repeat(64), KEY)).toBeNull();
    log.remove([2, 3]);
    expect(log.runOf(sha256, KEY)).toBeNull();
    log.close();
  });

  it('is kept once where that is asked for, and gets the folder of the report that was written anew', () => {
    const log = openLog(fresh());
    const entry = { ...madeUpEntry({ reportFolder: '/reports/a' }), settingsKey: KEY };
    expect(log.addOnce(entry)).toEqual({ id: 1, replaced: [] });
    expect(log.addOnce({ ...entry, reportFolder: '/reports/b' })).toEqual({
      ...{ id: 1, replaced: [], already: true },
    });
    expect(log.list().map(({ id, reportFolder }) => [id, reportFolder])).toEqual([[1, '/reports/b']]);
    expect(log.addOnce({ ...entry, settingsKey: null }).id).toBe(2);
    expect(log.addOnce({ ...entry, settingsKey: null }).id).toBe(3);
    log.close();
  });
});
