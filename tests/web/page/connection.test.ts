/** What the page does when the program stops to answer, or knows it no more. */
import type { Signal } from '@preact/signals';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';

/** Works on a window, which is made up below; its types are those of a browser. */
const PAGE = new URL('../../../src/web/page/', import.meta.url).href;

/** Streams of events as a browser would hold them. */
class MadeUpStream extends EventTarget {
  static readonly CLOSED = 2;
  static all: MadeUpStream[] = [];
  readyState = 1;

  constructor(readonly url: string) {
    super();
    MadeUpStream.all.push(this);
  }

  end(readyState: number): void {
    this.readyState = readyState;
    this.dispatchEvent(new Event('error'));
  }
}

/** The page as it was just opened. */
async function opened() {
  vi.resetModules();
  const { startEvents, logChanged } = (await import(`${PAGE}events.ts`)) as {
    startEvents: () => void;
    logChanged: Signal<number>;
  };
  const { connection } = await import('../../../src/web/page/connection.js');
  startEvents();
  const [stream] = MadeUpStream.all;
  stream.dispatchEvent(new Event('open'));
  return { stream, connection, logChanged };
}

const asked: string[] = [];

function answering(answer: () => Response): void {
  vi.stubGlobal('fetch', (path: string) => {
    asked.push(path);
    return Promise.resolve().then(answer);
  });
}

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal('EventSource', MadeUpStream);
  MadeUpStream.all = [];
  asked.length = 0;
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe('the connection to the program', () => {
  it('is lost while nobody answers, tried again, and what was missed is asked for', async () => {
    answering(() => {
      throw new TypeError('nobody there');
    });
    const { stream, connection, logChanged } = await opened();
    expect(connection.value).toBe('open');
    stream.end(MadeUpStream.CLOSED);
    await vi.advanceTimersByTimeAsync(3000);
    expect(connection.value).toBe('lost');
    expect(asked).toEqual(['/api/about']);
    expect(MadeUpStream.all).toHaveLength(2);
    MadeUpStream.all[1].dispatchEvent(new Event('open'));
    expect(connection.value).toBe('open');
    expect(logChanged.value).toBe(1);
  });

  it('is left to the browser as long as that tries by itself', async () => {
    answering(() => Response.json({}));
    const { stream, connection } = await opened();
    stream.end(0);
    await vi.advanceTimersByTimeAsync(10_000);
    expect(connection.value).toBe('lost');
    expect(asked).toEqual([]);
    expect(MadeUpStream.all).toHaveLength(1);
  });

  it('is refused by a program that was started anew: nothing is tried any more, and it stays refused', async () => {
    answering(() => new Response('{}', { status: 401 }));
    const { stream, connection } = await opened();
    stream.end(MadeUpStream.CLOSED);
    await vi.advanceTimersByTimeAsync(60_000);
    expect(connection.value).toBe('refused');
    expect(MadeUpStream.all).toHaveLength(1);
    stream.end(0);
    expect(connection.value).toBe('refused');
  });
});
