/** The log as the page lists and changes it: filters, names, sheets, removal, and what is refused. */
import fs from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LOG_FILE } from '../../../src/log/index.js';
import type { Problem, RunList, RunRow, StoredRun } from '../../../src/web/api.js';
import { KnownClips } from '../../../src/web/runs/known-clips.js';
import { madeUpEntry } from '../../log/support/made-up-entry.js';
import { servedRuns, withBody, type ServedRuns } from './support/served-runs.js';

const SHA_A = 'a'.repeat(64);
const SHA_B = 'b'.repeat(64);

let served: ServedRuns;
const list = async (query = ''): Promise<RunList> =>
  (await (await served.ask(`/runs${query}`)).json()) as RunList;
const ids = async (query: string): Promise<number[]> => (await list(query)).runs.map(({ id }) => id);
const problem = async (response: Response): Promise<Problem> => (await response.json()) as Problem;

beforeAll(() => {
  served = servedRuns();
});
afterAll(() => served.end());

describe('a log that is not there', () => {
  it('is an empty list, and is not made for being asked', async () => {
    expect(await list()).toEqual({ runs: [], all: 0, names: {}, tags: [] });
    expect((await served.ask('/runs/1')).status).toBe(404);
    expect(fs.existsSync(path.join(served.dataDir, LOG_FILE))).toBe(false);
  });
});

describe('the log', () => {
  beforeAll(() => {
    served.keep(
      madeUpEntry({
        pass: { floor: 'dairy hall', lane: '2', tags: ['night', 'wet'] },
        createdAt: '2031-03-14T09:00:00.000Z',
        clipSha256: SHA_A,
        thumbnail: Uint8Array.of(255, 216, 1),
      }),
      madeUpEntry({
        pass: { floor: 'tiled corridor', lane: '10', tags: ['night'] },
        createdAt: '2031-03-14T10:00:00.000Z',
        grade: 'fail',
        clipSha256: SHA_A,
      }),
      madeUpEntry({
        pass: { floor: 'Dairy Hall', notes: 'door open' },
        createdAt: '2031-03-14T11:00:00.000Z',
        clipSha256: SHA_B,
        series: null,
      }),
    );
    served.known.add(SHA_A);
  });

  it('is listed newest first, though another program wrote it; a clip is asked for once', async () => {
    served.asked.length = 0;
    const { runs, all } = await list();
    expect(runs.map(({ id, clipKnown }) => [id, clipKnown])).toEqual([
      [3, false],
      [2, true],
      [1, true],
    ]);
    expect(all).toBe(3);
    await list('?floor=dairy+hall');
    expect(served.asked.sort()).toEqual([SHA_A, SHA_B]);
  });

  it.each([
    ['?floor=dairy+hall', [3, 1]],
    ['?tag=night&tag=wet', [1]],
    ['?text=DOOR', [3]],
    ['?grade=fail', [2]],
    ['?limit=1', [3]],
    ['?floor=&lane=2', [1]],
    ['?since=2031-03-14T09:30:00Z&until=2031-03-14T10:30:00Z', [2]],
  ])('finds by what the address asks for: %s', async (query, found) => {
    expect(await ids(query)).toEqual(found);
  });

  it('tells the names and tags of all runs, whatever is asked for', async () => {
    const { names, tags, runs } = await list('?lane=2');
    expect(runs).toHaveLength(1);
    expect(names).toMatchObject({ lane: ['2', '10'], floor: ['dairy hall', 'Dairy Hall', 'tiled corridor'] });
    expect(tags).toEqual(['night', 'wet']);
  });

  it('says what it cannot be asked for', async () => {
    const response = await served.ask('/runs?flor=dairy+hall');
    expect(response.status).toBe(400);
    expect(await problem(response)).toMatchObject({
      code: 'argument-unknown',
      detail: 'The log cannot be asked for "flor"; the nearest is "floor".',
    });
    expect((await served.ask('/runs?limit=many')).status).toBe(400);
  });

  it('gives a run as a whole, and its small picture', async () => {
    const stored = (await (await served.ask('/runs/1')).json()) as StoredRun;
    expect(stored.row).toMatchObject({ id: 1, clipKnown: true });
    expect(stored.run.pass).toEqual({ floor: 'dairy hall', lane: '2', tags: ['night', 'wet'] });
    expect(stored.series?.clipSha256).toBe(SHA_A);
    expect(((await (await served.ask('/runs/3')).json()) as StoredRun).series).toBeNull();
    const picture = await served.ask('/runs/1/thumbnail');
    expect(picture.headers.get('Content-Type')).toBe('image/jpeg');
    expect(new Uint8Array(await picture.arrayBuffer())).toEqual(Uint8Array.of(255, 216, 1));
    expect(await problem(await served.ask('/runs/2/picture'))).toMatchObject({
      status: 404,
      code: 'picture-missing',
    });
  });

  it.each(['/runs/99', '/runs/0', '/runs/1e3', '/runs/-1', '/runs/99/thumbnail', '/runs/99/report'])(
    'has no run at %s',
    async (address) => {
      expect(await problem(await served.ask(address))).toMatchObject({
        status: 404,
        code: 'log-entry-unknown',
      });
    },
  );

  it('takes changes of sheet and tags, which the page is told of', async () => {
    served.told.length = 0;
    const change = {
      sheet: { lane: null, setup: ' soft tyres ', passNumber: '3' },
      addTags: ['dry'],
      removeTags: ['wet'],
    };
    const row = (await (await served.ask('/runs/1', withBody('PATCH', change))).json()) as RunRow;
    expect(row.pass).toEqual({
      floor: 'dairy hall',
      setup: 'soft tyres',
      passNumber: 3,
      tags: ['dry', 'night'],
    });
    expect(row.clipKnown).toBe(true);
    expect(served.told).toEqual([[1]]);
  });

  it.each([
    [{ sheet: { lan: '3' } }, 400, 'The sheet has no entry "lan"; the nearest is "lane".'],
    [{ sheet: { lane: '3' }, addTags: ['x'.repeat(300)] }, 422, '"tags.2" of the sheet'],
    [{ sheet: { passNumber: 'three' } }, 422, 'a whole number from 1 to 9999'],
    [{ sheet: { lane: { $ne: 1 } } }, 422, '"lane" of the sheet'],
    [{ addTags: 'night' }, 400, 'A change holds entries of the sheet'],
    [{ grade: 'pass' }, 400, 'A change holds entries of the sheet'],
    [{}, 400, 'The change holds nothing.'],
    [[], 400, 'no JSON object'],
  ])('refuses a change as a whole: %j', async (change, status, detail) => {
    served.told.length = 0;
    const told = await problem(await served.ask('/runs/1', withBody('PATCH', change)));
    expect(told.status).toBe(status);
    expect(told.detail).toContain(detail);
    expect((await list('?setup=soft+tyres')).runs[0].pass).toEqual({
      ...{ floor: 'dairy hall', setup: 'soft tyres', passNumber: 3, tags: ['dry', 'night'] },
    });
    expect(served.told).toEqual([]);
  });

  it('loses all runs that are named or none, and lets only those clips go that no run has left', async () => {
    const remove = (body: unknown): Promise<Response> => served.ask('/runs/remove', withBody('POST', body));
    for (const body of [{}, { ids: [] }, { ids: ['1'] }, { ids: [1.5] }, { ids: [-1] }])
      expect((await remove(body)).status).toBe(400);
    const missing = await problem(await remove({ ids: [1, 99] }));
    expect(missing).toMatchObject({
      status: 404,
      detail: 'There is no run 99 in the log; perhaps it was removed.',
    });
    expect(served.forgotten).toEqual([]);

    expect(await (await remove({ ids: [1, 3, 3] })).json()).toEqual({ removed: [1, 3] });
    expect(served.forgotten).toEqual([SHA_B]);
    expect(served.told.at(-1)).toEqual([1, 3]);
    expect(await ids('')).toEqual([2]);
  });

  it('is opened anew where another took its place', async () => {
    for (const ending of ['', '-wal', '-shm'])
      fs.rmSync(path.join(served.dataDir, LOG_FILE + ending), { force: true });
    expect((await list()).all).toBe(0);
    served.keep(madeUpEntry({ pass: { floor: 'plywood loft' } }));
    expect((await list()).runs.map(({ pass }) => pass.floor)).toEqual(['plywood loft']);
  });
});

describe('whether clips are known', () => {
  it('is remembered for a moment, and asked anew for a single run', async () => {
    let asked = 0;
    let nowMs = 0;
    const clips = new KnownClips({ ofSha256: () => Promise.resolve((asked++, null)) }, () => nowMs);
    const list = Array.from({ length: 500 }, (_, i) => String(i % 40));
    expect((await clips.among(list)).size).toBe(0);
    nowMs = 4000;
    await clips.among(list);
    expect(asked).toBe(40);
    await clips.ask('7');
    expect(asked).toBe(41);
    nowMs = 6000;
    await clips.among(list);
    expect(asked).toBe(80);
  });
});
