import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { Hono } from 'hono';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TrundleError } from '../../../src/run/index.js';
import { newToken } from '../../../src/web/server/access.js';
import { createApp } from '../../../src/web/server/app.js';
import { PageFiles } from '../../../src/web/server/page-files.js';

const HOST = '127.0.0.1:4170';
const TOKEN = newToken();
const COOKIE = `trundle-4170=${TOKEN}`;

let folder: string;
let app: Hono;
const faults: unknown[] = [];

beforeAll(async () => {
  folder = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-page-'));
  await fs.writeFile(path.join(folder, 'main.js'), `console.info(${JSON.stringify('x'.repeat(4000))})`);
  await fs.writeFile(path.join(folder, 'main.css'), 'main{}');
  await fs.writeFile(path.join(folder, 'notes.txt'), 'not for the page');
  const routes = new Hono()
    .get('/thing', (context) => context.json({ thing: 1 }))
    .post('/thing', async (context) => context.json(await context.req.json()))
    .get('/missing', () => {
      throw new TrundleError('log-entry-unknown', 'There is no run 9 in the log.');
    })
    .get('/fault', () => {
      throw new Error('secret detail of the inside');
    });
  app = createApp({
    access: { token: TOKEN, hosts: () => new Set([HOST]), cookie: () => 'trundle-4170' },
    files: PageFiles.read([folder]),
    routes: [routes],
    onFault: (error) => faults.push(error),
  });
});

afterAll(() => fs.rm(folder, { recursive: true, force: true }));

function ask(place: string, headers: Record<string, string> = {}, init: RequestInit = {}): Promise<Response> {
  return Promise.resolve(
    app.request(`http://${HOST}${place}`, { ...init, headers: { Host: HOST, Cookie: COOKIE, ...headers } }),
  );
}

async function codeOf(response: Response): Promise<string> {
  expect(response.headers.get('Content-Type')).toBe('application/problem+json; charset=utf-8');
  return ((await response.json()) as { code: string }).code;
}

describe('the access token', () => {
  it('is asked for everywhere', async () => {
    for (const place of ['/', '/runs/3', '/assets/main.js', '/api/thing', '/api/events']) {
      const response = await ask(place, { Cookie: '' });
      expect(response.status, place).toBe(401);
      expect(await codeOf(response)).toBe('token-missing');
    }
  });

  it('comes with the address once, goes into a cookie that scripts and other sites do not get, and out of the address', async () => {
    const response = await ask(`/log?token=${TOKEN}&floor=hall`, { Cookie: '' });
    expect(response.status).toBe(303);
    expect(response.headers.get('Location')).toBe('/log?floor=hall');
    const cookie = response.headers.get('Set-Cookie') ?? '';
    expect(cookie).toContain(COOKIE);
    for (const word of ['HttpOnly', 'SameSite=Strict', 'Path=/']) expect(cookie).toContain(word);
  });

  it('is refused when it is wrong, of another length, or another server’s cookie', async () => {
    for (const wrong of ['', 'x', newToken(), `${TOKEN}x`])
      expect((await ask(`/?token=${wrong}`, { Cookie: '' })).status).toBe(401);
    expect((await ask('/api/thing', { Cookie: `trundle-4171=${TOKEN}` })).status).toBe(401);
  });

  it('does not work as a question under /api, where it would stand in logs', async () => {
    expect((await ask(`/api/thing?token=${TOKEN}`, { Cookie: '' })).status).toBe(401);
  });

  it('may be given by a program as a bearer token', async () => {
    const response = await ask('/api/thing', { Cookie: '', Authorization: `Bearer ${TOKEN}` });
    expect(await response.json()).toEqual({ thing: 1 });
  });

  it('never leads to another server', async () => {
    const response = await ask(`//elsewhere.example/?token=${TOKEN}`, { Cookie: '' });
    expect(response.headers.get('Location')).toMatch(/^\/[^/]/);
  });

  it('is 256 random bits', () => {
    expect(Buffer.from(newToken(), 'base64url')).toHaveLength(32);
    expect(newToken()).not.toBe(newToken());
  });
});

describe('requests from elsewhere', () => {
  it('are refused by another name of the host, as after DNS rebinding', async () => {
    for (const host of [
      'rebound.example:4170',
      '127.0.0.1',
      '127.0.0.1:4171',
      'localhost.rebound.example:4170',
    ]) {
      const response = await ask('/api/thing', { Host: host });
      expect(response.status, host).toBe(403);
      expect(await codeOf(response)).toBe('host-unknown');
    }
  });

  it('are refused where the request line names another server than the header', async () => {
    const headers = { Host: HOST, Cookie: COOKIE };
    const response = await app.request('http://rebound.example:4170/api/thing', { headers });
    expect(await codeOf(response)).toBe('host-unknown');
  });

  it('are refused when another site sends them', async () => {
    const post = { method: 'POST', body: '{}' };
    for (const origin of ['http://elsewhere.example', 'null', 'http://127.0.0.1:8080', `https://${HOST}`])
      expect((await ask('/api/thing', { Origin: origin }, post)).status, origin).toBe(403);
    for (const site of ['cross-site', 'same-site'])
      expect((await ask('/api/thing', { 'Sec-Fetch-Site': site })).status, site).toBe(403);
  });

  it('are answered when our page sends them', async () => {
    const headers = {
      Origin: `http://${HOST}`,
      'Sec-Fetch-Site': 'same-origin',
      'Content-Type': 'application/json',
    };
    const response = await ask('/api/thing', headers, { method: 'POST', body: '{"a":1}' });
    expect(await response.json()).toEqual({ a: 1 });
  });

  it('may follow a link to the page, which without the cookie shows nothing', async () => {
    expect((await ask('/', { 'Sec-Fetch-Site': 'cross-site' })).status).toBe(200);
    expect((await ask('/', { 'Sec-Fetch-Site': 'cross-site', Cookie: '' })).status).toBe(401);
  });
});

describe('every answer', () => {
  it('lets the page load from this server alone', async () => {
    for (const response of [
      await ask('/'),
      await ask('/api/thing'),
      await ask('/api/no'),
      await ask('/', { Cookie: '' }),
    ]) {
      const policy = response.headers.get('Content-Security-Policy') ?? '';
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("script-src 'self'");
      expect(policy).toContain("frame-ancestors 'none'");
      expect(policy).not.toMatch(/unsafe-eval|script-src [^;]*unsafe|https?:|\*/);
      expect(response.headers.get('X-Content-Type-Options')).toBe('nosniff');
      expect(response.headers.get('Referrer-Policy')).toBe('no-referrer');
      expect(response.headers.get('Access-Control-Allow-Origin')).toBeNull();
    }
  });

  it('tells a failure as a problem with a plain sentence, and keeps what is inside to itself', async () => {
    const missing = await ask('/api/missing');
    expect(missing.status).toBe(404);
    expect(await missing.json()).toEqual({
      type: 'about:blank',
      title: 'Not there',
      status: 404,
      detail: 'There is no run 9 in the log.',
      code: 'log-entry-unknown',
    });
    const fault = await ask('/api/fault');
    expect(fault.status).toBe(500);
    expect(await fault.text()).not.toContain('secret');
    expect(faults).toHaveLength(1);
  });

  it('shows a page with the sentence to somebody who typed the address', async () => {
    const response = await ask('/', { Cookie: '', Accept: 'text/html,*/*' });
    expect(response.headers.get('Content-Type')).toMatch(/^text\/html/);
    const page = await response.text();
    expect(page).toContain('open the whole address that was printed in the terminal');
    expect(page).not.toContain('main.js');
  });

  it('gives that page its look without the token, and to no other address', async () => {
    const [, style = ''] =
      /<link rel="stylesheet" href="([^"]+)">/.exec(
        await (await ask('/', { Cookie: '', Accept: 'text/html' })).text(),
      ) ?? [];
    const response = await ask(style, { Cookie: '' });
    expect(response.status).toBe(200);
    expect(response.headers.get('Content-Type')).toMatch(/^text\/css/);
    expect(await response.text()).toContain('prefers-color-scheme:dark');
    expect((await ask(style, { Cookie: '', Host: 'rebound.example:4170' })).status).toBe(403);
    expect((await ask(`${style}/../main.css`, { Cookie: '' })).status).toBe(401);
  });

  it('refuses an order that is larger than any can be', async () => {
    const body = JSON.stringify({ filler: 'x'.repeat(300_000) });
    const response = await ask(
      '/api/thing',
      { 'Content-Length': String(body.length), 'Content-Type': 'application/json' },
      { method: 'POST', body },
    );
    expect(response.status).toBe(413);
    expect(await codeOf(response)).toBe('body-too-large');
  });

  it('knows no other method for the page', async () => {
    expect((await ask('/log', {}, { method: 'DELETE' })).status).toBe(405);
  });
});

describe('the files of the page', () => {
  it('come compressed, and not again while they are the same', async () => {
    const first = await ask('/assets/main.js', { 'Accept-Encoding': 'gzip, deflate' });
    expect(first.headers.get('Content-Encoding')).toBe('gzip');
    expect((await first.arrayBuffer()).byteLength).toBeLessThan(500);
    const again = await ask('/assets/main.js', { 'If-None-Match': first.headers.get('ETag') ?? '' });
    expect(again.status).toBe(304);
    const plain = await ask('/assets/main.js');
    expect(await plain.text()).toContain('xxxx');
  });

  it('are those that were built, and no others of that folder or above it', async () => {
    for (const place of [
      '/assets/notes.txt',
      '/assets/..%2fmain.js',
      '/assets/%2e%2e%2fpackage.json',
      '/assets/no.js',
    ])
      expect((await ask(place)).status, place).toBe(404);
  });

  it('are behind every address of the page', async () => {
    for (const place of ['/', '/runs/12', '/log?floor=hall', '/compare?runs=1,2']) {
      const response = await ask(place);
      expect(response.status).toBe(200);
      expect(await response.text()).toContain('<script type="module" src="/assets/main.js"></script>');
    }
  });

  it('say so when they were not built', () => {
    expect(() => PageFiles.read([path.join(folder, 'nowhere')])).toThrow(/npm run build/);
  });
});
