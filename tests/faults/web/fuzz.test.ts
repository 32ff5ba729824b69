/** Requests drawn at random against the whole server without its socket: never a fault of the program, never a secret, nothing changed by strangers. */
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SECRET, assembledServer, type Asked, type AssembledServer } from './support/assembled-server.js';

/** A search that found something is repeated with the seed that the failure names. */
const RUNS = 400;

let server: AssembledServer;
let answered: number[] = [];
beforeAll(async () => void (server = await assembledServer({ maxUploadBytes: 1e5 })));
afterAll(() => server.end());

const word = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom('1', '2', '0', '-1', '1e9', 'card', 'a', 'frames', 'files') },
  fc.constantFrom('..', '%2e%2e', '..%2f..%2fruns.db', '%00', '%', '%E0%A4', '\\', '~', '.', '%2F', '%ff'),
  fc.constantFrom('__proto__', 'constructor', 'toString', 'hasOwnProperty', '[object Object]', 'NaN'),
  fc.string({ maxLength: 20, unit: 'binary' }).map((text) => encodeURIComponent(text)),
);
const area = fc.constantFrom(
  ...[
    'about',
    'setups',
    'clips',
    'folders',
    'jobs',
    'runs',
    'comparison',
    'comparison/page',
    'clips/from-folder',
  ],
  ...['runs/remove', 'runs/1', 'runs/1/report', 'runs/1/files', 'runs/1/clip', 'nowhere'],
);
const name = fc.constantFrom(
  ...[
    'path',
    'name',
    'at',
    'width',
    'runs',
    'by',
    'units',
    'paper',
    'limit',
    'text',
    'floor',
    'since',
    'id',
    'token',
  ],
  '__proto__',
);
const query = fc
  .array(fc.tuple(name, word), { maxLength: 3 })
  .map((pairs) => (pairs.length === 0 ? '' : `?${pairs.map((pair) => pair.join('=')).join('&')}`));
const place = fc
  .tuple(
    fc.constantFrom('/api/', '/api/', '/api/', '/assets/', '/', '/api//', '/%61pi/'),
    area,
    fc.array(word, { maxLength: 3 }),
    query,
  )
  .map(([root, where, rest, asked]) => `${root}${[where, ...rest].join('/')}${asked}`);

const method = fc.constantFrom('GET', 'GET', 'HEAD', 'POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS', 'PROPFIND');
/** Printable, since nothing else can stand in a header that a server hands on. */
const value = fc.string({ maxLength: 40 }).map((text) => text.replace(/[^ -~]/g, '').trim());
const headers = fc.dictionary(
  fc.constantFrom(
    'Range',
    'If-Range',
    'If-None-Match',
    'Accept',
    'Accept-Encoding',
    'Content-Type',
    'X-Forwarded-For',
  ),
  fc.oneof(value, fc.constantFrom('application/json', 'bytes=0-', 'bytes=-1', 'text/html', '*', 'gzip;q=0')),
  { maxKeys: 4 },
);
const json = fc.oneof(
  fc.record(
    {
      kind: fc.constantFrom('measure', 'proof', 'other'),
      clip: fc.constantFrom('a', '__proto__', ''),
      run: fc.oneof(fc.integer(), fc.double()),
      layout: fc.constantFrom('alone', 'upside'),
      window: fc.constantFrom('centred', ''),
      settings: fc.dictionary(fc.constantFrom('in', 'out', 'focal', 'for', '__proto__', 'x'), fc.string()),
      folder: fc.constantFrom('card', 'other'),
      path: fc.constantFrom(
        '',
        '..',
        'way out.mp4',
        'way out/secret.mp4',
        '../private/secret.mp4',
        'nowhere.mp4',
      ),
      sheet: fc.dictionary(fc.constantFrom('floor', 'passNumber', '__proto__', 'x'), fc.jsonValue()),
      addTags: fc.array(fc.string()),
      ids: fc.array(fc.oneof(fc.constantFrom(90, -1), fc.double())),
    },
    { requiredKeys: [] },
  ),
  fc.jsonValue(),
);
const body = fc.oneof(
  { weight: 3, arbitrary: json.map((content) => JSON.stringify(content)) },
  fc.string({ unit: 'binary' }),
  fc.uint8Array({ maxLength: 300 }).map((bytes) => Uint8Array.from(bytes)),
);
const request: fc.Arbitrary<{ place: string; asked: Asked }> = fc
  .tuple(place, method, headers, fc.option(body, { nil: undefined }), fc.boolean())
  .map(([where, by, given, sent, isJson]) => ({
    place: where,
    asked: {
      method: by,
      headers: { ...given, ...(isJson && { 'Content-Type': 'application/json' }) },
      ...(sent !== undefined && !['GET', 'HEAD'].includes(by) && { body: sent }),
    },
  }));

/** Asks, and reads the answer to its end unless it has none. */
async function answerTo(where: string, asked: Asked): Promise<{ status: number; text: string }> {
  const answer = await server.ask(where, asked);
  const text = await answer.text();
  answered.push(answer.status);
  expect(answer.headers.get('X-Content-Type-Options')).toBe('nosniff');
  expect(answer.headers.get('Content-Security-Policy')).toMatch(/default-src 'none'/);
  return { status: answer.status, text };
}

describe('requests drawn at random', () => {
  it(
    'of whoever has the token: an answer or a plain refusal, never a fault, a stack trace or what lies outside',
    { timeout: 120_000 },
    async () => {
      answered = [];
      await fc.assert(
        fc.asyncProperty(request, async ({ place: where, asked }) => {
          const { status, text } = await answerTo(where, asked);
          expect(server.faults, text).toEqual([]);
          expect(status).toBeLessThan(500);
          expect(text).not.toMatch(/\n\s+at .*:\d+/);
          expect(text).not.toContain(SECRET);
          expect(text).not.toContain(server.token);
        }),
        { numRuns: RUNS },
      );
      // It did not only knock at doors that are not there.
      const seen = new Set(answered);
      for (const status of [200, 400, 404]) expect(seen).toContain(status);
    },
  );

  it('of strangers: refused one and all, and nothing is changed', { timeout: 120_000 }, async () => {
    const before = server.state();
    await fc.assert(
      fc.asyncProperty(request, async ({ place: where, asked }) => {
        const foreign = { ...asked, headers: { ...asked.headers, Cookie: '' } };
        expect((await answerTo(where, foreign)).status).toBe(401);
      }),
      { numRuns: RUNS },
    );
    expect(server.state()).toBe(before);
  });
});
