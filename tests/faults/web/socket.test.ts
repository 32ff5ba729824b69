/** What comes over the socket and is no request, comes too slowly, or goes away in the middle. */
import fs from 'node:fs';
import http from 'node:http';
import net, { type AddressInfo } from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { Hono } from 'hono';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createApp } from '../../../src/web/server/app.js';
import { listen } from '../../../src/web/server/listen.js';
import { PageFiles } from '../../../src/web/server/page-files.js';
import { sendFile } from '../../../src/web/runs/send-file.js';

/** Long limits are for people; here they are short. */
const LIMITS = { idleMs: 5000, headMs: 300, orderMs: 300, lookMs: 50, mostConnections: 20 };
const TOKEN = 'a-token-of-the-test';
const BIG_BYTES = 40e6;

let server: http.Server;
let port: number;
let folder: string;
const faults: unknown[] = [];
const taken: string[] = [];
const big = (): string => path.join(folder, 'big.bin');

beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-socket-'));
  fs.writeFileSync(path.join(folder, 'main.js'), '');
  const routes = new Hono()
    .get('/big', (context) => {
      const { size, mtimeMs } = fs.statSync(big());
      return sendFile(context, { path: big(), sizeBytes: size, modifiedMs: mtimeMs }, {});
    })
    .post('/order', async (context) => {
      taken.push(await context.req.text());
      return context.json('taken');
    });
  const app = createApp({
    access: { token: TOKEN, hosts: () => new Set([`127.0.0.1:${port}`]), cookie: () => 'c' },
    files: PageFiles.read([folder]),
    routes: [routes],
    onFault: (error) => faults.push(error),
  });
  server = await listen((request, env) => app.fetch(request, env), '127.0.0.1', 0, false, LIMITS);
  ({ port } = server.address() as AddressInfo);
});
afterAll(async () => {
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
  fs.rmSync(folder, { recursive: true, force: true });
});

const HOST = (): string => `Host: 127.0.0.1:${port}\r\nCookie: c=${TOKEN}\r\n`;

/** Says that nothing more comes. */
const END = null;

/** Sends words as they stand, and reads until the other side ends it. @param pieces sent 100 ms after one another */
function say(...pieces: (string | Buffer | typeof END)[]): Promise<string> {
  return new Promise((resolve, reject) => {
    const socket = net.connect(port, '127.0.0.1');
    let heard = '';
    socket.on('data', (piece: Buffer) => (heard += piece.toString('latin1')));
    // A reset is an end like another.
    socket.on('error', () => resolve(heard));
    socket.on('close', () => resolve(heard));
    socket.setTimeout(4000, () => reject(new Error(`nothing came to an end: ${heard}`)));
    void (async () => {
      for (const piece of pieces) {
        if (piece === END) socket.end();
        else if (!socket.destroyed) socket.write(piece);
        await new Promise((next) => setTimeout(next, 100));
      }
    })();
  });
}

const statusOf = (heard: string): number => Number(/^HTTP\/1\.1 (\d+)/.exec(heard)?.[1] ?? NaN);

describe('what is no request: a short sentence, the end of the connection, and nothing done', () => {
  it.each<[string, () => string | Buffer, number]>([
    ['noise', () => Buffer.from([0x16, 3, 1, 0, 200, 1, 0, 0, 9, 9]), 400],
    ['words', () => 'is anybody there?\r\n\r\n', 400],
    ['another protocol', () => 'SSH-2.0-x\r\n\r\n', 400],
    ['a method that is none', () => `STEAL / HTTP/1.1\r\n${HOST()}\r\n`, 400],
    ['a version that is none', () => `GET / HTTP/9.9\r\n${HOST()}\r\n`, 400],
    ['a host that is none', () => 'GET / HTTP/1.1\r\nHost: a b\\c\r\n\r\n', 400],
    ['an address with a backslash', () => `GET /\\..\\x HTTP/1.1\r\n${HOST()}\r\n`, 400],
    ['a header with NUL', () => `GET / HTTP/1.1\r\n${HOST()}X: a\0b\r\n\r\n`, 400],
    ['a header folded over lines', () => `GET / HTTP/1.1\r\n${HOST()}X : a\r\n\r\n`, 400],
    ['headers of 100 kB', () => `GET / HTTP/1.1\r\n${HOST()}X: ${'x'.repeat(1e5)}\r\n\r\n`, 431],
    ['an address of 100 kB', () => `GET /${'x'.repeat(1e5)} HTTP/1.1\r\n${HOST()}\r\n`, 431],
    [
      'a length and pieces at once, as for smuggling',
      () =>
        `POST /api/order HTTP/1.1\r\n${HOST()}Content-Length: 3\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\nGET / HTTP/1.1\r\n\r\n`,
      400,
    ],
    [
      'two lengths',
      () => `POST /api/order HTTP/1.1\r\n${HOST()}Content-Length: 3\r\nContent-Length: 4\r\n\r\nabcd`,
      400,
    ],
    ['a negative length', () => `POST /api/order HTTP/1.1\r\n${HOST()}Content-Length: -3\r\n\r\nabc`, 400],
    [
      'a length in hexadecimal',
      () => `POST /api/order HTTP/1.1\r\n${HOST()}Content-Length: 0x3\r\n\r\nabc`,
      400,
    ],
    [
      'a length beyond all',
      () => `POST /api/order HTTP/1.1\r\n${HOST()}Content-Length: ${'9'.repeat(30)}\r\n\r\n`,
      400,
    ],
    [
      'a coding that is none',
      () => `POST /api/order HTTP/1.1\r\n${HOST()}Transfer-Encoding: x, chunkedx\r\n\r\nabc`,
      400,
    ],
    [
      'line ends of one character only',
      () => `POST /api/order HTTP/1.1\n${HOST().replaceAll('\r', '')}Content-Length: 3\n\nabc`,
      400,
    ],
  ])('%s', async (_, words, status) => {
    const before = taken.length;
    const heard = await say(words());
    expect(statusOf(heard), heard).toBe(status);
    const [head, said] = heard.split('\r\n\r\n');
    expect(head).toMatch(/Content-Type: text\/plain; charset=utf-8/i);
    expect(said).toMatch(/^[A-Z][a-z ]+[a-z ,]*\.\n$/);
    expect(heard).not.toMatch(/\n\s+at /);
    expect(taken.length).toBe(before);
  });

  it('a size of a piece that is none, in the middle: the order is not taken', async () => {
    const order = `${HOST()}Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\n{}\r\n0\r\n\r\n`;
    const before = taken.length;
    expect([400, NaN]).toContain(statusOf(await say(`POST /api/order HTTP/1.1\r\n${order}`)));
    expect(taken.length).toBe(before);
  });

  it('a tunnel, or another protocol on top: no tunnel, and an answer as to any other request', async () => {
    expect(await say(`CONNECT elsewhere.example:80 HTTP/1.1\r\n${HOST()}\r\n`)).not.toContain('200');
    const upgrade = `Upgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\n`;
    const heard = await say(`GET /api/nowhere HTTP/1.1\r\n${HOST()}${upgrade}\r\n`, END);
    expect(statusOf(heard)).toBe(404);
  });

  it.each([
    ['no host', () => `GET /api/big HTTP/1.1\r\nCookie: c=${TOKEN}\r\nConnection: close\r\n\r\n`],
    ['no host, as long ago', () => `GET /api/big HTTP/1.0\r\nCookie: c=${TOKEN}\r\n\r\n`],
    [
      'two hosts',
      () => `GET /api/big HTTP/1.1\r\n${HOST()}Host: rebound.example\r\nConnection: close\r\n\r\n`,
    ],
  ])('%s: refused in words', async (_, words) => {
    const heard = await say(words());
    expect([statusOf(heard), heard]).toEqual([403, expect.stringContaining('host-unknown')]);
  });

  it('another server in the request line: refused by name', async () => {
    const heard = await say(
      `GET http://rebound.example:${port}/api/big HTTP/1.1\r\n${HOST()}Connection: close\r\n\r\n`,
    );
    expect([statusOf(heard), heard]).toEqual([403, expect.stringContaining('host-unknown')]);
  });
});

describe('who takes too long', () => {
  it('to say anything at all, or to end the headers: is told so, and the connection is ended', async () => {
    expect(await say('')).toMatch(/^(HTTP\/1\.1 408 .*|)$/s);
    const heard = await say(`GET / HTTP/1.1\r\n${HOST()}`, ...Array.from({ length: 30 }, () => 'X: y\r\n'));
    expect(statusOf(heard)).toBe(408);
    expect(heard).toContain('The request did not come to its end in time; try again.');
  });

  it('to bring an order: the connection is ended, and nothing is taken', async () => {
    const before = taken.length;
    const head = `POST /api/order HTTP/1.1\r\n${HOST()}Content-Type: application/json\r\nContent-Length: 100\r\n\r\n`;
    await say(head, ...Array.from({ length: 30 }, () => '1'));
    expect(taken.length).toBe(before);
  });

  it('with more connections than are let in at once: the others are answered again when those have gone', async () => {
    const many = Array.from({ length: 40 }, () => net.connect(port, '127.0.0.1').on('error', () => {}));
    await expect.poll(() => many.filter(({ destroyed }) => destroyed).length).toBeGreaterThan(15);
    for (const socket of many) socket.destroy();
    await expect
      .poll(async () => statusOf(await say(`GET / HTTP/1.1\r\n${HOST()}Connection: close\r\n\r\n`)))
      .toBe(200);
  });
});

describe('a large file that is being sent', () => {
  /** Asks for it, and does something once the first bytes are there. @returns bytes that came, and whether it ended well */
  function fetchBig(
    meanwhile: (request: http.ClientRequest) => void,
  ): Promise<{ bytes: number; whole: boolean }> {
    return new Promise((resolve) => {
      const request = http.get({
        host: '127.0.0.1',
        port,
        path: '/api/big',
        agent: false,
        headers: { Cookie: `c=${TOKEN}` },
      });
      request.on('error', () => resolve({ bytes: 0, whole: false }));
      request.on('response', (response) => {
        let bytes = 0;
        response.once('readable', () => {
          meanwhile(request);
          response.on('data', (piece: Buffer) => (bytes += piece.length));
        });
        response.on('close', () => resolve({ bytes, whole: response.complete }));
        response.on('error', () => {});
      });
    });
  }
  /** Of this process; Linux only. */
  const openFiles = (): number =>
    process.platform === 'linux'
      ? fs
          .readdirSync('/proc/self/fd')
          .map((fd) => {
            try {
              return fs.readlinkSync(`/proc/self/fd/${fd}`);
            } catch {
              return '';
            }
          })
          .filter((file) => file === fs.realpathSync(big())).length
      : 0;
  const makeBig = (): void => {
    fs.writeFileSync(big(), '');
    fs.truncateSync(big(), BIG_BYTES);
  };

  it('arrives whole', async () => {
    makeBig();
    expect(await fetchBig(() => {})).toEqual({ bytes: BIG_BYTES, whole: true });
    await expect.poll(openFiles).toBe(0);
  });

  it('gets shorter meanwhile: the connection ends at once, the file counts as broken off, nothing stays open', async () => {
    makeBig();
    const startMs = performance.now();
    const { bytes, whole } = await fetchBig(() => fs.truncateSync(big(), 3e6));
    expect(whole).toBe(false);
    expect(bytes).toBeLessThan(BIG_BYTES);
    expect(performance.now() - startMs).toBeLessThan(LIMITS.idleMs - 1000);
    await expect.poll(openFiles).toBe(0);
  });

  it('is not wanted any more: nothing stays open, and the next is answered', async () => {
    makeBig();
    for (let i = 0; i < 5; i++) await fetchBig((request) => request.destroy());
    await expect.poll(openFiles).toBe(0);
    expect((await fetchBig(() => {})).whole).toBe(true);
  });

  it('goes before it is opened: says that it is not there', async () => {
    makeBig();
    const app = new Hono().get('/', (context) => {
      fs.rmSync(big());
      return sendFile(context, { path: big(), sizeBytes: 7, modifiedMs: 0 }, {});
    });
    let told: unknown;
    app.onError((error, context) => {
      told = error;
      return context.body(null, 404);
    });
    expect((await app.request('/')).status).toBe(404);
    expect(told).toMatchObject({ code: 'file-missing', status: 404 });
  });

  it('none of it was a fault of the program', () => expect(faults).toEqual([]));
});
