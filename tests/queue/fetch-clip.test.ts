/** Clips from web servers: taken up where they broke off, from allowed servers only, never longer than agreed, never another file. */
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import http from 'node:http';
import type { AddressInfo } from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { clipHere } from '../../src/queue/clip-here.js';
import { clipRulesOf, fetchClip, orderOf } from '../../src/queue/index.js';

const BYTES = Buffer.from(Array.from({ length: 50_000 }, (_, i) => (i * 7919) % 256));
const SUM = createHash('sha256').update(BYTES).digest('hex');

type Answer = (request: http.IncomingMessage, response: http.ServerResponse, count: number) => void;

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-fetch-'));
let server: http.Server;
let origin = '';
let answer: Answer = whole;
let asked: http.IncomingMessage[] = [];

beforeAll(async () => {
  server = http.createServer((request, response) => {
    asked.push(request);
    answer(request, response, asked.length);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterEach(() => {
  asked = [];
  answer = whole;
});
afterAll(async () => {
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
  fs.rmSync(folder, { recursive: true, force: true });
});

function fromOf(request: http.IncomingMessage): number {
  return Number(/^bytes=(\d+)-$/.exec(request.headers.range ?? '')?.[1]);
}

/** The rest of the clip from where it is asked for. @param bytes of it that are sent before the connection breaks */
function part(
  request: http.IncomingMessage,
  response: http.ServerResponse,
  bytes = Infinity,
  tag = '"one"',
): void {
  const from = fromOf(request);
  response.writeHead(206, {
    'content-range': `bytes ${from}-${BYTES.length - 1}/${BYTES.length}`,
    ...{ 'content-length': BYTES.length - from, etag: tag },
  });
  if (from + bytes >= BYTES.length) response.end(BYTES.subarray(from));
  else response.write(BYTES.subarray(from, from + bytes), () => setTimeout(() => response.destroy(), 20));
}

function whole(request: http.IncomingMessage, response: http.ServerResponse): void {
  part(request, response);
}

function fetched(options: Partial<Parameters<typeof fetchClip>[1]> = {}) {
  return fetchClip(`${origin}/day%201/hall.mov?key=secret`, {
    ...{ origins: [origin], mostBytes: 1e6, pauseMs: 1, idleMs: 300 },
    ...options,
  });
}

describe('a clip on a web server', () => {
  it('is read by ranges and taken up where connections broke', async () => {
    answer = (request, response, count) => part(request, response, count < 4 ? 10_000 : Infinity);
    expect(await fetched()).toEqual({ sha256: SUM, sizeBytes: BYTES.length });
    expect(asked.map(fromOf)).toEqual([0, 10_000, 20_000, 30_000]);
    expect(asked.map(({ headers }) => headers['if-range'])).toEqual([undefined, '"one"', '"one"', '"one"']);
    expect(asked[0].headers['accept-encoding']).toBe('identity');
  });

  it('is read anew where it became another file meanwhile, or the server knows no ranges', async () => {
    answer = (request, response, count) => {
      if (count === 1) return part(request, response, 10_000);
      response.writeHead(200, { 'content-length': BYTES.length });
      response.end(BYTES);
    };
    const places: number[] = [];
    const { sha256 } = await fetched({ onBytes: (_, atByte) => void places.push(atByte) });
    expect(sha256).toBe(SUM);
    expect(places.filter((place) => place === 0)).toHaveLength(2);
  });

  it('waits for a server that is busy, and gives up for now one that stays so or falls silent', async () => {
    answer = (request, response, count) =>
      count < 3 ? response.writeHead(503).end() : part(request, response);
    expect((await fetched()).sha256).toBe(SUM);
    asked = [];
    answer = (_, response) => response.writeHead(503).end();
    await expect(fetched()).rejects.toMatchObject({
      code: 'clip-not-fetched',
      message: /the server answers 503/,
    });
    expect(asked).toHaveLength(5);
    answer = () => undefined;
    await expect(fetched({ idleMs: 30 })).rejects.toMatchObject({
      code: 'clip-not-fetched',
      message: /no byte for/,
    });
  });

  it.each<[what: string, answer: Answer, code: string]>([
    [
      'a redirect',
      (_, response) => response.writeHead(302, { location: 'http://127.0.0.1:1/x' }).end(),
      'place-not-allowed',
    ],
    [
      'packed bytes',
      (_, response) => response.writeHead(200, { 'content-encoding': 'gzip' }).end('x'),
      'place-not-allowed',
    ],
    [
      'a page for people',
      (_, response) => response.writeHead(200, { 'content-type': 'text/html; charset=utf-8' }).end('<p>'),
      'place-not-allowed',
    ],
    ['no such file', (_, response) => response.writeHead(404).end(), 'clip-missing'],
    ['no entry', (_, response) => response.writeHead(403).end(), 'place-not-allowed'],
    [
      'more bytes than may be fetched, told before they come',
      (_, response) => void response.writeHead(200, { 'content-length': 2e6 }).end(),
      'place-not-allowed',
    ],
    [
      'more bytes than may be fetched, not told before',
      (_, response) => void response.writeHead(200).end(Buffer.alloc(1_100_000)),
      'place-not-allowed',
    ],
  ])(
    'that answers with %s is refused at once; the key of its address is not told',
    async (_, given, code) => {
      answer = given;
      const failure: unknown = await fetched().catch((error: unknown) => error);
      expect(failure).toMatchObject({ code });
      expect(String(failure)).not.toContain('secret');
      expect(asked).toHaveLength(1);
    },
  );

  it('is not asked for where its server is not allowed, or its address holds a password or is no web address', async () => {
    for (const address of [
      'http://127.0.0.1:1/x.mov',
      origin.replace('//', '//user:secret@') + '/x.mov',
      'file:///etc/passwd',
      'ftp://127.0.0.1/x.mov',
      `${origin}.evil.example/x.mov`,
    ]) {
      const failure: unknown = await fetchClip(address, { origins: [origin], mostBytes: 1e6 }).catch(
        (error: unknown) => error,
      );
      expect(failure).toMatchObject({ code: 'place-not-allowed' });
      expect(String(failure)).not.toContain('secret');
    }
    expect(asked).toHaveLength(0);
  });

  it('is ordered by its bytes, fetched for the measurement, checked and removed', async () => {
    const never = new AbortController().signal;
    const order = await orderOf({ clip: `${origin}/day%201/hall%20a.mov`, request: {} }, [origin], never);
    expect(order).toMatchObject({ name: 'hall a.mov', sizeBytes: BYTES.length, sha256: SUM });
    const rules = clipRulesOf({ maps: [], folders: [], origins: [origin] });
    const place = { tempFolder: path.join(folder, 'temp'), signal: never, onProgress: () => undefined };
    const clip = await clipHere(order, rules, place);
    expect(path.basename(clip.file)).toBe('hall a.mov');
    expect(fs.readFileSync(clip.file).equals(BYTES)).toBe(true);
    await clip.done();
    await expect(clipHere({ ...order, sha256: '0'.repeat(64) }, rules, place)).rejects.toMatchObject({
      code: 'clip-changed',
    });
    await expect(clipHere({ ...order, sizeBytes: 100 }, rules, place)).rejects.toMatchObject({
      code: 'clip-changed',
    });
    expect(fs.readdirSync(place.tempFolder)).toEqual([]);
    // Told with its sum it is not read to be ordered.
    asked = [];
    const told = await orderOf({ clip: `${origin}/hall.mov#sha256=${SUM}`, request: {} }, [origin], never);
    expect(told).toMatchObject({ sha256: SUM, sizeBytes: null, place: { url: `${origin}/hall.mov` } });
    expect(asked).toHaveLength(0);
  });
});
