import { Hono } from 'hono';
import { describe, expect, it } from 'vitest';
import type { Look } from '../../../src/web/api.js';
import { PageEventHub } from '../../../src/web/server/event-stream.js';

const look = (job: string, timeS: number): Look => ({
  ...{ job, timeS, widthPx: 4, heightPx: 2, picture: 'data:,', points: [] },
});

interface Page {
  /** What came so far, as `name data`. */
  read(events: number): Promise<string[]>;
  leave(): Promise<void>;
}

async function open(hub: PageEventHub, closing = new AbortController()): Promise<Page> {
  const app = new Hono().get('/', (context) => hub.stream(context, () => [['jobs', []]], closing.signal));
  const response = await app.request('/');
  expect(response.headers.get('Content-Type')).toMatch(/^text\/event-stream/);
  const reader = (response.body as ReadableStream<Uint8Array>).getReader();
  const decoder = new TextDecoder();
  let text = '';
  return {
    async read(events) {
      while (text.split('\n\n').length - 1 < events) {
        const { done, value } = await reader.read();
        if (done) break;
        text += decoder.decode(value, { stream: true });
      }
      return text
        .split('\n\n')
        .filter((event) => event !== '')
        .map((event) => /event: (.*)\ndata: (.*)/.exec(event)?.slice(1).join(' ') ?? event);
    },
    leave: () => reader.cancel(),
  };
}

describe('the stream of events', () => {
  it('begins with how things stand, and tells every page what happens, in order', async () => {
    const hub = new PageEventHub();
    const pages = [await open(hub), await open(hub)];
    await Promise.all(pages.map((page) => page.read(1)));
    hub.publish('gone', { job: 'a' });
    hub.publish('log', { runs: [3] });
    for (const page of pages) {
      expect(await page.read(3)).toEqual(['jobs []', 'gone {"job":"a"}', 'log {"runs":[3]}']);
      await page.leave();
    }
  });

  it('leaves pictures out that a slow page did not see in time, and nothing else', async () => {
    const hub = new PageEventHub();
    const page = await open(hub);
    await page.read(1);
    // All in one go: the page has no chance to read in between.
    for (let i = 0; i < 50; i++) {
      hub.publish('look', look('a', i));
      hub.publish('log', { runs: [i] });
    }
    hub.publish('look', look('b', 7));
    const events = await page.read(53);
    const looks = events.filter((event) => event.startsWith('look'));
    expect(events.filter((event) => event.startsWith('log'))).toHaveLength(50);
    expect(looks.length).toBeLessThanOrEqual(3);
    expect(looks.at(-2)).toContain('"timeS":49');
    expect(looks.at(-1)).toContain('"job":"b"');
    await page.leave();
  });

  it('cuts off a page that has fallen far behind, so that it connects again', async () => {
    const hub = new PageEventHub();
    const page = await open(hub);
    await page.read(1);
    for (let i = 0; i < 5000; i++) hub.publish('log', { runs: [i] });
    expect(hub.size).toBe(0);
    // The end is reached: what was under way may still come, no more.
    expect((await page.read(5000)).length).toBeLessThan(10);
  });

  it('answers a question for its headers without a stream', async () => {
    const hub = new PageEventHub();
    const app = new Hono().get('/', (context) =>
      hub.stream(context, () => [['jobs', []]], new AbortController().signal),
    );
    const response = await app.request('/', { method: 'HEAD' });
    expect(response.headers.get('Content-Type')).toBe('text/event-stream');
    expect(hub.size).toBe(0);
  });

  it('ends when the server closes', async () => {
    const hub = new PageEventHub();
    const closing = new AbortController();
    const page = await open(hub, closing);
    await page.read(1);
    closing.abort();
    expect(await page.read(2)).toEqual(['jobs []']);
    expect(hub.size).toBe(0);
  });

  it('forgets a page that has gone', async () => {
    const hub = new PageEventHub();
    const page = await open(hub);
    await page.read(1);
    expect(hub.size).toBe(1);
    await page.leave();
    hub.publish('log', { runs: [] });
    await expect.poll(() => hub.size).toBe(0);
  });
});
