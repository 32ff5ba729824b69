/** Who is let in and where a path leads: every address of the server, asked by those who may not and for what they may not. */
import fs from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ClipEntry, FolderListing, RunList } from '../../../src/web/api.js';
import { folderName } from '../../../src/web/jobs/report-folder.js';
import { CORRIDOR, filesBelow, good, refusal } from '../../web/clips/support/clip-server.js';
import { HOSTILE, SECRET, assembledServer, type AssembledServer } from './support/assembled-server.js';

let server: AssembledServer;
beforeAll(async () => void (server = await assembledServer()));
afterAll(() => server.end());

const JSON_TYPE = { 'Content-Type': 'application/json' };

/** Every address with a method, as api.ts lists them. */
const ADDRESSES: readonly (readonly [method: string, place: string])[] = [
  ['GET', '/'],
  ['GET', '/log?edit=1'],
  ['GET', '/assets/main.js'],
  ['GET', '/api/about'],
  ['GET', '/api/setups'],
  ['DELETE', '/api/setups/a'],
  ['PUT', '/api/clips?name=pass.mp4'],
  ['GET', '/api/folders/card?path='],
  ['POST', '/api/clips/from-folder'],
  ['GET', '/api/clips/a'],
  ['DELETE', '/api/clips/a'],
  ['GET', '/api/clips/a/posters'],
  ['GET', '/api/clips/a/posters/0'],
  ['GET', '/api/clips/a/frame?at=0'],
  ['GET', '/api/jobs'],
  ['POST', '/api/jobs'],
  ['DELETE', '/api/jobs/a'],
  ['GET', '/api/events'],
  ['GET', '/api/runs'],
  ['GET', '/api/runs/1'],
  ['PATCH', '/api/runs/1'],
  ['POST', '/api/runs/remove'],
  ['GET', '/api/runs/1/thumbnail'],
  ['GET', '/api/runs/1/picture'],
  ['GET', '/api/runs/1/report'],
  ['GET', '/api/runs/1/files/run.json'],
  ['GET', '/api/runs/1/frames'],
  ['GET', '/api/runs/1/frames/0'],
  ['POST', '/api/runs/1/clip'],
  ['GET', '/api/comparison?runs=1,2'],
  ['GET', '/api/comparison/page?runs=1,2'],
];

/** Bodies that would do something. */
const bodyOf = (method: string, place: string): { body?: string | Uint8Array<ArrayBuffer> } => {
  if (method === 'PUT') return { body: new Uint8Array(fs.readFileSync(CORRIDOR)) };
  if (place.endsWith('/remove')) return { body: '{"ids":[1,2]}' };
  if (method === 'PATCH') return { body: '{"sheet":{"floor":"elsewhere"}}' };
  if (place.endsWith('from-folder')) return { body: '{"folder":"card","path":"pass.mp4"}' };
  return method === 'POST' ? { body: '{"clip":"a"}' } : {};
};

describe('who is not let in gets a sentence, at every address and method, and changes nothing', () => {
  it.each<[string, (token: string) => Record<string, string>, number, string]>([
    ['without the token', () => ({ Cookie: '' }), 401, 'token-missing'],
    ['with an empty token', () => ({ Cookie: 'trundle-4170=' }), 401, 'token-missing'],
    [
      'with a part of the token',
      (token) => ({ Cookie: `trundle-4170=${token.slice(0, 42)}` }),
      401,
      'token-missing',
    ],
    ['with the token of another port', (token) => ({ Cookie: `trundle-1=${token}` }), 401, 'token-missing'],
    [
      'with the token in the wrong scheme',
      (token) => ({ Cookie: '', Authorization: `Basic ${token}` }),
      401,
      'token-missing',
    ],
    [
      'by another name of the host, as after a rebinding of names',
      () => ({ Host: 'rebound.example:4170' }),
      403,
      'host-unknown',
    ],
    ['by the name with a dot behind it', () => ({ Host: '127.0.0.1.:4170' }), 403, 'host-unknown'],
    ['by another port', () => ({ Host: '127.0.0.1:80' }), 403, 'host-unknown'],
    ['from the page of another site', () => ({ Origin: 'http://elsewhere.example' }), 403, 'cross-site'],
    ['from a page without a name', () => ({ Origin: 'null' }), 403, 'cross-site'],
    ['from another port of this machine', () => ({ Origin: 'http://127.0.0.1:8080' }), 403, 'cross-site'],
  ])('%s', async (_, headers, status, code) => {
    const before = server.state();
    for (const [method, place] of ADDRESSES) {
      const given = { ...JSON_TYPE, ...headers(server.token) };
      const answer = await server.ask(place, { method, headers: given, ...bodyOf(method, place) });
      expect([method, place, await refusal(answer)]).toMatchObject([method, place, { status, code }]);
      expect(answer.headers.get('Access-Control-Allow-Origin')).toBeNull();
    }
    expect(server.state()).toBe(before);
  });

  it.each(['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x', ''])(
    'an order as %j, which a form of another site could send: not taken',
    async (type) => {
      const before = server.state();
      for (const [method, place] of ADDRESSES.filter(([name]) => name === 'POST' || name === 'PATCH')) {
        const headers = { 'Content-Type': type };
        const answer = server.ask(place, { method, headers, ...bodyOf(method, place) });
        expect(await refusal(answer)).toMatchObject({ status: 415, code: 'not-json' });
      }
      expect(server.state()).toBe(before);
    },
  );

  it('asking what may be asked across sites: no permission is given', async () => {
    const headers = { Origin: 'http://elsewhere.example', 'Access-Control-Request-Method': 'POST' };
    const answer = await server.ask('/api/jobs', { method: 'OPTIONS', headers });
    expect(answer.status).toBe(403);
    expect([...answer.headers.keys()].filter((name) => name.startsWith('access-control'))).toEqual([]);
  });

  it('the token in the address of an order: not taken there, and never given back', async () => {
    const headers = { Cookie: '', ...JSON_TYPE };
    const answer = await server.ask(`/api/jobs?token=${server.token}`, {
      method: 'POST',
      headers,
      body: '{}',
    });
    expect(answer.status).toBe(401);
    expect((await answer.text()) + JSON.stringify([...answer.headers])).not.toContain(server.token);
    const entered = await server.ask(`/log?token=${server.token}&edit=1`, { headers: { Cookie: '' } });
    expect([entered.status, entered.headers.get('Location')]).toEqual([303, '/log?edit=1']);
    expect(entered.headers.get('Referrer-Policy')).toBe('no-referrer');
    expect(await entered.text()).not.toContain(server.token);
  });
});

describe('a path that leads elsewhere', () => {
  const PATHS = [
    '..',
    '../private',
    '..%2Fprivate',
    '/etc',
    '//etc',
    'way out',
    'way out/',
    '.hidden',
    './',
    '..\\private',
    'a\0b',
    '....//private',
    '%2e%2e/private',
    '~',
    'C:\\',
    'x'.repeat(5000),
    'pass.mp4/..',
  ];
  it.each(PATHS)('to a folder, as %j: is refused, and shows no name', async (given) => {
    const answer = await server.ask(`/api/folders/card?path=${encodeURIComponent(given)}`);
    expect([403, 404]).toContain(answer.status);
    expect(await answer.text()).not.toMatch(/secret|passwd|root/);
  });

  it.each([...PATHS, '../private/secret.mp4', 'way out.mp4', 'way out/secret.mp4', '.hidden/pass.mp4'])(
    'to a clip, as %j: is refused',
    async (given) => {
      const body = JSON.stringify({ folder: 'card', path: given });
      const answer = await server.ask('/api/clips/from-folder', { method: 'POST', headers: JSON_TYPE, body });
      expect([403, 404]).toContain(answer.status);
      expect(await answer.text()).not.toContain(SECRET);
    },
  );

  it.each([
    '/api/runs/1/files/..%2f..%2fruns.db',
    '/api/runs/1/files/%2e%2e',
    '/api/runs/1/files/run.json%00.html',
    '/api/runs/1/files/..%5cruns.db',
    '/api/runs/%2e%2e/files/run.json',
    '/api/runs/1%2f..%2f2/files/run.json',
    '/api/clips/..%2f..%2fruns.db',
    '/api/clips/__proto__',
    '/api/clips/constructor/posters',
    '/api/folders/__proto__?path=',
    '/api/folders/..?path=',
    '/api/jobs/%00',
    '/assets/..%2f..%2fdata%2fruns.db',
    '/assets/%2e%2e%2fcard%2fpass.mp4',
    '/assets/__proto__',
    '/assets/constructor',
  ])('in an address, as %s: there is nothing', async (place) => {
    const answer = await server.ask(place);
    expect([404, 405]).toContain(answer.status);
    expect(answer.headers.get('Content-Type')).toMatch(/^application\/problem\+json/);
  });

  it('shows of a folder what may be a clip, and nothing hidden or outside', async () => {
    const { clips, folders } = await good<FolderListing>(server.ask('/api/folders/card?path='));
    expect([clips.map(({ name }) => name), folders]).toEqual([['pass.mp4'], []]);
  });
});

describe('a file sent under a name that means harm', () => {
  const corridor = new Uint8Array(fs.readFileSync(CORRIDOR));
  it.each<[string, string, RegExp]>([
    ['that climbs', '../../x.mp4', /^x\.mp4$/],
    ['of a device', 'CON.mp4', /^clip-CON\.mp4$/],
    ['with NUL and line breaks', 'a\0b\r\nSet-Cookie: x.mp4', /^abSet-Cookie_x\.mp4$/],
    ['written backwards', 'take\u202e4pm.exe', /^take4pm\.exe$/],
    ['of markup', '<script>alert(1)<\\script>.mp4', /^script_?\.mp4$/],
    ['of a thousand letters', `${'ü'.repeat(1000)}.mp4`, /^ü{60}\.mp4$/],
  ])('%s: lies in a folder of its own, by a name that does none', async (_, name, stored) => {
    const answer = server.ask(`/api/clips?name=${encodeURIComponent(name)}`, {
      method: 'PUT',
      body: corridor,
    });
    const clip = await good<ClipEntry>(answer);
    const files = await filesBelow(path.join(server.dataDir, 'uploads'));
    const [own] = files.filter((file) => file.startsWith(clip.id));
    expect(path.basename(own)).toMatch(stored);
    expect(path.dirname(own)).toBe(clip.id);
    expect(clip.name).not.toMatch(/[\p{Cc}\p{Cf}/\\]/u);
    await server.ask(`/api/clips/${clip.id}`, { method: 'DELETE' });
  });

  it('packed by gzip: is no clip', async () => {
    const body = Uint8Array.from([0x1f, 0x8b, 8, ...new Array<number>(600).fill(0)]);
    const headers = { 'Content-Encoding': 'gzip' };
    const answer = server.ask('/api/clips?name=pass.mp4', { method: 'PUT', headers, body });
    expect(await refusal(answer)).toMatchObject({ status: 415, code: 'not-a-clip' });
  });
});

describe('names that mean harm in what is shown', () => {
  it('a report that is opened by itself: as words, in a place of its own that can ask nothing', async () => {
    const answer = await server.ask('/api/runs/1/files/report.html');
    const policy = answer.headers.get('Content-Security-Policy') ?? '';
    for (const rule of ["default-src 'none'", 'sandbox allow-scripts allow-modals', "frame-ancestors 'none'"])
      expect(policy).toContain(rule);
    expect(policy).not.toContain('allow-same-origin');
    const page = await answer.text();
    expect(page).not.toContain('<img src=x');
    expect(page).not.toContain('<script>alert');
    expect(page).toContain('&lt;script&gt;alert(2)');
  });

  it('a download: by a name without quotes, breaks and directions', async () => {
    const answer = await server.ask('/api/runs/1/files/motion.csv');
    const disposition = answer.headers.get('Content-Disposition') ?? '';
    expect(disposition).toMatch(
      /^attachment; filename="[ !#-~]+-motion\.csv"(; filename\*=UTF-8''[\w%.~!-]+)?$/,
    );
    expect(disposition).not.toContain(HOSTILE);
  });
});

describe('a range of bytes that means harm', () => {
  beforeAll(async () => {
    const { runs } = await good<RunList>(server.ask('/api/runs'));
    const { clipFile = '', createdAt = '' } = runs.find(({ id }) => id === 2) ?? {};
    const own = path.join(server.folder, 'reports', `${folderName(clipFile)}-run-2`);
    fs.mkdirSync(own, { recursive: true });
    fs.writeFileSync(path.join(own, 'proof.mp4'), Buffer.alloc(1000, 7));
    const later = new Date(Date.parse(createdAt) + 60_000);
    fs.utimesSync(path.join(own, 'proof.mp4'), later, later);
  });
  it.each<[string, string, number]>([
    ['thousands of ranges: the whole, once', 'bytes=0-0,1-1,2-2'.padEnd(8000, ',3-3'), 200],
    ['from beyond all numbers: a refusal', `bytes=${'9'.repeat(400)}-`, 416],
    ['to beyond all numbers: what there is', `bytes=0-${'9'.repeat(400)}`, 206],
    ['the last of more than there are: what there is', `bytes=-${'9'.repeat(400)}`, 206],
    ['the last none: a refusal', 'bytes=-0', 416],
    ['a negative one: the whole', 'bytes=--5', 200],
    ['backwards: the whole', 'bytes=5-2', 200],
    ['with an exponent: the whole', 'bytes=1e3-', 200],
    ['in hexadecimal: the whole', 'bytes=0x10-', 200],
    ['of lines: the whole', 'lines=0-1', 200],
    ['of nothing: the whole', 'bytes=', 200],
  ])('%s', async (_, range, status) => {
    const answer = await server.ask('/api/runs/2/files/proof.mp4', { headers: { Range: range } });
    expect(answer.status).toBe(status);
    expect((await answer.arrayBuffer()).byteLength).toBe(status === 416 ? 0 : 1000);
  });
});

describe('an order that means harm', () => {
  let clip: string;
  beforeAll(async () => {
    const body = '{"folder":"card","path":"pass.mp4"}';
    const answer = server.ask('/api/clips/from-folder', { method: 'POST', headers: JSON_TYPE, body });
    clip = (await good<ClipEntry>(answer)).id;
  });
  const deep = (open: string, close: string, levels: number): string =>
    open.repeat(levels) + '1' + close.repeat(levels);
  it.each<[string, string, number]>([
    ['a hundred thousand lists in one another', deep('[', ']', 100_000), 400],
    ['objects in one another', deep('{"a":', '}', 40_000), 400],
    [
      'the prototype of everything as settings',
      '{"kind":"measure","clip":"ID","settings":{"__proto__":"x"}}',
      422,
    ],
    ['a constructor as settings', '{"kind":"measure","clip":"ID","settings":{"constructor":"x"}}', 422],
    ['a delivery called __proto__', '{"kind":"measure","clip":"ID","settings":{"for":"__proto__"}}', 422],
    ['a delivery called constructor', '{"kind":"measure","clip":"ID","settings":{"for":"constructor"}}', 422],
    ['a sensor called toString', '{"kind":"measure","clip":"ID","settings":{"sensor":"toString"}}', 422],
    ['settings that are a list', '{"kind":"measure","clip":"ID","settings":["x"]}', 400],
    ['words that are not UTF-8', '{"kind":"measure","clip":"\xff\xfe","settings":{}}', 404],
    ['half a pair of UTF-16', '{"kind":"measure","clip":"\\ud800","settings":{}}', 404],
    ['a number beyond all', '{"kind":"proof","run":1e999,"layout":"alone","window":"centred"}', 400],
    ['nothing', '', 400],
  ])('%s: is refused with a sentence, and pollutes nothing', async (_, order, status) => {
    const before = server.jobs.list().length;
    const body = new Uint8Array(Buffer.from(order.replace('ID', clip), 'latin1'));
    const answer = await server.ask('/api/jobs', { method: 'POST', headers: JSON_TYPE, body });
    expect(await refusal(answer)).toMatchObject({ status, detail: expect.stringMatching(/[.]$/) as string });
    expect(server.jobs.list()).toHaveLength(before);
    expect(Object.keys(Object.prototype)).toEqual([]);
    expect(({} as { x?: unknown }).x).toBeUndefined();
  });

  it('streams without end: 64 pages are told, the next gets a sentence, and one that goes makes room', async () => {
    const streams = [];
    for (let i = 0; i < 64; i++) streams.push(await server.ask('/api/events'));
    expect(await refusal(server.ask('/api/events'))).toMatchObject({ status: 503, code: 'too-many-pages' });
    for (const { body } of streams) await body?.cancel();
    await expect.poll(() => server.hub.size).toBe(0);
    const again = await server.ask('/api/events');
    expect(again.status).toBe(200);
    await again.body?.cancel();
  });

  it('none of it was a fault of the program', () => expect(server.faults).toEqual([]));
});
