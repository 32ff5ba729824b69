/**
 * Server-sent events to every open page: what happens is written at once. A page that reads slowly misses pictures, never facts; one that
 * has fallen far behind is cut off, so that it connects again and is told how things stand.
 */
import type { Context } from 'hono';
import { streamSSE } from 'hono/streaming';
import type { PageEvents } from '../api.js';
import { serverTexts } from '../../texts/index.js';
import type { EventHub } from './context.js';
import { WebProblem } from './problem.js';

/** One event with its data. */
export type PageEvent = {
  readonly [Name in keyof PageEvents]: readonly [Name, PageEvents[Name]];
}[keyof PageEvents];

/** A sign of life this often keeps sleepy connections open, and finds those that are gone. */
const SIGN_OF_LIFE_MS = 15_000;

/** Events that wait for one page at most: when a job ends, those that wait behind it are all told anew. */
const MOST_WAITING = 4000;

/** Pages that are told at once. */
const MOST_PAGES = 64;

/** What one page has still to be told. */
class Outbox {
  #events: PageEvent[] = [];
  #isCutOff = false;
  #wake: (() => void) | null = null;

  /** Puts an event last; a picture takes the place of one of the same job that was not sent yet. */
  put(event: PageEvent): void {
    if (event[0] === 'look') {
      const { job } = event[1];
      const stale = this.#events.findIndex(([name, data]) => name === 'look' && data.job === job);
      if (stale >= 0) this.#events.splice(stale, 1);
    }
    this.#events.push(event);
    if (this.#events.length > MOST_WAITING) {
      this.#isCutOff = true;
      this.#events = [];
    }
    this.wake();
  }

  /** Too much has waited for it. */
  get isCutOff(): boolean {
    return this.#isCutOff;
  }

  wake(): void {
    this.#wake?.();
    this.#wake = null;
  }

  /** The next event; null when nothing came in time, or somebody called `wake`. */
  async next(withinMs: number): Promise<PageEvent | null> {
    if (this.#events.length === 0)
      await new Promise<void>((resolve) => {
        const timer = setTimeout(resolve, withinMs);
        this.#wake = () => {
          clearTimeout(timer);
          resolve();
        };
      });
    return this.#events.shift() ?? null;
  }
}

/** The hub of all pages. */
export class PageEventHub implements EventHub {
  readonly #pages = new Set<Outbox>();

  publish<Name extends keyof PageEvents>(name: Name, data: PageEvents[Name]): void {
    for (const page of this.#pages) {
      page.put([name, data] as unknown as PageEvent);
      if (page.isCutOff) this.#pages.delete(page);
    }
  }

  /** Pages that listen. */
  get size(): number {
    return this.#pages.size;
  }

  /**
   * Answers a page with its stream, until it goes or the server closes.
   * @param first what it is told on connecting
   * @throws WebProblem 503 `too-many-pages`
   */
  stream(context: Context, first: () => readonly PageEvent[], closing: AbortSignal): Response {
    // Nobody would read on.
    if (context.req.method === 'HEAD')
      return context.body(null, 200, { 'Content-Type': 'text/event-stream' });
    if (this.#pages.size >= MOST_PAGES) throw new WebProblem(503, 'too-many-pages', serverTexts.tooManyPages);
    return streamSSE(context, async (stream) => {
      const outbox = new Outbox();
      let open = true;
      const end = (): void => {
        open = false;
        outbox.wake();
      };
      stream.onAbort(end);
      closing.addEventListener('abort', end);
      for (const event of first()) outbox.put(event);
      this.#pages.add(outbox);
      try {
        while (open && !outbox.isCutOff && !closing.aborted) {
          const event = await outbox.next(SIGN_OF_LIFE_MS);
          if (event) await stream.writeSSE({ event: event[0], data: JSON.stringify(event[1]) });
          else if (open && !outbox.isCutOff) await stream.write(': here\n\n');
        }
      } finally {
        this.#pages.delete(outbox);
        closing.removeEventListener('abort', end);
      }
    });
  }
}
