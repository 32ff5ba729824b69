/**
 * Reads a clip from a web server in one stream of bytes: from allowed origins only, nowhere else by redirect, no longer than agreed, and
 * taken up where it broke off (RFC 9110, sections 13 and 14).
 */
import { createHash } from 'node:crypto';
import { setTimeout as sleep } from 'node:timers/promises';
import { TrundleError } from '../run/index.js';
import { queueTexts } from '../texts/index.js';
import { NotForThisWorker } from './failures.js';

/** Without a byte for so long a connection counts as broken, ms. */
const IDLE_MS = 30_000;
/** So often in a row it is tried without a byte more, and then left for later. */
const TRIES = 5;
/** Before the second try, ms; twice as long before each further one. */
const PAUSE_MS = 500;
/** Answers that may be others later. */
const PASSING: readonly number[] = [408, 425, 429, 500, 502, 503, 504];

/** Kinds of answers that are pages for people: a list of files, or a door that asks who is there. */
const PAGES: readonly string[] = ['text/html', 'application/xhtml+xml'];

/** What is asked of the reading. */
export interface FetchOptions {
  /** As `URL.origin` gives them. */
  readonly origins: readonly string[];
  readonly mostBytes: number;
  readonly signal?: AbortSignal | undefined;
  /** Takes the bytes in their order; called with the place of the first, which is 0 again where the reading begins anew. */
  readonly onBytes?: (bytes: Uint8Array, atByte: number) => Promise<void> | void;
  /** Other times, for tests. */
  readonly idleMs?: number;
  readonly pauseMs?: number;
}

/** What was read. */
export interface FetchedBytes {
  readonly sha256: string;
  readonly sizeBytes: number;
}

/**
 * The address of a clip, checked. Names and passwords in addresses are refused: they would stand in the queue for all to read.
 * @throws TrundleError `place-not-allowed`, as NotForThisWorker where another origin is allowed elsewhere
 */
export function clipAddress(text: string, origins: readonly string[]): URL {
  const url = URL.canParse(text) ? new URL(text) : null;
  if (!url || !/^https?:$/.test(url.protocol))
    throw refused(text, 'is no address of a web server', 'give one that begins with https:// or http://');
  if (url.username !== '' || url.password !== '')
    throw refused(shownUrl(url), 'holds a name or a password', 'have the server let this machine in without');
  if (!origins.includes(url.origin))
    throw refused(
      shownUrl(url),
      'is on a server that is not allowed here',
      `allow it with --allow ${url.origin}`,
      NotForThisWorker,
    );
  return url;
}

/** An address as it is shown: without its query, which may hold a key. */
export function shownUrl(url: URL): string {
  return `${url.origin}${url.pathname}`;
}

/**
 * Reads it to its end.
 * @throws TrundleError `place-not-allowed`, as NotForThisWorker where another machine may be let in or take so long a clip; `clip-missing` where the server has none; `clip-not-fetched` where it may be had later;
 * `interrupted`; what `onBytes` throws
 */
export async function fetchClip(address: string, options: FetchOptions): Promise<FetchedBytes> {
  const url = clipAddress(address, options.origins);
  const reading = new Reading(url, options);
  for (let tries = 1; ; tries++) {
    const before = reading.haveBytes;
    const fault = await reading.goOn();
    if (fault === null) return reading.end();
    if (reading.haveBytes > before) tries = 1;
    if (tries >= TRIES)
      throw new TrundleError(
        'clip-not-fetched',
        `The clip "${shownUrl(url)}" could not be fetched (${fault}); see to the network and the server.`,
      );
    await pause((options.pauseMs ?? PAUSE_MS) * 2 ** (tries - 1), options.signal);
  }
}

async function pause(ms: number, signal: AbortSignal | undefined): Promise<void> {
  await sleep(ms, undefined, { signal }).catch(() => undefined);
}

/** One reading, through as many connections as it takes. */
class Reading {
  haveBytes = 0;
  #hash = createHash('sha256');
  /** What tells this state of the file from another. */
  #tag: string | null = null;
  #totalBytes: number | null = null;

  constructor(
    private readonly url: URL,
    private readonly options: FetchOptions,
  ) {}

  end(): FetchedBytes {
    return { sha256: this.#hash.digest('hex'), sizeBytes: this.haveBytes };
  }

  /** Reads on through one connection. @returns what broke it; null at the end of the clip */
  async goOn(): Promise<string | null> {
    const idle = new AbortController();
    const { signal, idleMs = IDLE_MS } = this.options;
    const give = signal ? AbortSignal.any([signal, idle.signal]) : idle.signal;
    let timer = setTimeout(() => idle.abort(), idleMs);
    try {
      const answer = await fetch(this.url, { redirect: 'manual', headers: this.#headers(), signal: give });
      const fault = this.#take(answer);
      if (fault === 'whole') return null;
      if (fault !== null) {
        await answer.body?.cancel();
        return fault;
      }
      for await (const bytes of answer.body ?? []) {
        clearTimeout(timer);
        timer = setTimeout(() => idle.abort(), idleMs);
        await this.#keep(bytes as Uint8Array);
      }
      return this.#totalBytes === null || this.haveBytes === this.#totalBytes
        ? null
        : queueTexts.bytesCame(this.haveBytes, this.#totalBytes);
    } catch (error) {
      if (signal?.aborted)
        throw new TrundleError('interrupted', `Stopped while "${shownUrl(this.url)}" was fetched.`, {
          cause: error,
        });
      if (!isOfNetwork(error)) throw error;
      return idle.signal.aborted ? queueTexts.noByteFor(Math.round(idleMs / 1000)) : whyOf(error);
    } finally {
      clearTimeout(timer);
    }
  }

  #headers(): Record<string, string> {
    const range = { range: `bytes=${this.haveBytes}-` };
    // A request for a range says by itself that bytes packed on the way are not wanted.
    return {
      ...{ accept: '*/*', ...range },
      ...(this.haveBytes > 0 && this.#tag !== null && { 'if-range': this.#tag }),
    };
  }

  /** What an answer is worth. @returns what is wrong for now, "whole" where nothing is left to come; null where bytes follow */
  #take(answer: Response): string | null {
    const { status, headers } = answer;
    if (status >= 300 && status < 400 && status !== 304)
      throw refused(
        shownUrl(this.url),
        'is answered by a redirect to another place',
        'give the address that it leads to',
      );
    if (headers.get('content-encoding') !== null && headers.get('content-encoding') !== 'identity')
      throw refused(shownUrl(this.url), 'comes packed', 'have the server send the clip as it is');
    if (status === 416 && this.haveBytes === this.#lengthIn(headers, /^bytes \*\/(\d+)$/)) return 'whole';
    if (PASSING.includes(status)) return queueTexts.serverAnswers(status);
    if (status !== 200 && status !== 206) {
      const Kind = status === 401 || status === 403 ? NotForThisWorker : TrundleError;
      throw new Kind(
        status === 404 || status === 410 ? 'clip-missing' : 'place-not-allowed',
        `The server answers ${status} to "${shownUrl(this.url)}"; check the address and what the server lets this machine read.`,
      );
    }
    const type = headers.get('content-type')?.split(';')[0]?.trim().toLowerCase() ?? '';
    if (PAGES.includes(type))
      throw new TrundleError('place-not-allowed', queueTexts.sentPage(shownUrl(this.url), type));
    const [, from, to] = /^bytes (\d+)-(\d+)\//.exec(headers.get('content-range') ?? '') ?? [];
    const isOnward = status === 206 && Number(from) === this.haveBytes && to !== undefined;
    // The whole once more: from a server that knows no ranges, or because the file has become another.
    if (!isOnward) {
      if (status === 206) return queueTexts.anotherPart;
      this.#beginAnew();
    }
    this.#totalBytes = isOnward
      ? this.#lengthIn(headers, /\/(\d+)$/)
      : lengthOf(headers.get('content-length'));
    const tag = headers.get('etag');
    this.#tag = tag?.startsWith('"') ? tag : headers.get('last-modified');
    this.#refuseLonger(this.#totalBytes ?? 0, NotForThisWorker);
    return null;
  }

  #lengthIn(headers: Headers, pattern: RegExp): number | null {
    return lengthOf(pattern.exec(headers.get('content-range') ?? '')?.[1] ?? null);
  }

  #beginAnew(): void {
    this.haveBytes = 0;
    this.#hash = createHash('sha256');
  }

  async #keep(bytes: Uint8Array): Promise<void> {
    // What was not told beforehand would be read again and again for nothing: that counts as a try.
    this.#refuseLonger(this.haveBytes + bytes.length, TrundleError);
    await this.options.onBytes?.(bytes, this.haveBytes);
    this.#hash.update(bytes);
    this.haveBytes += bytes.length;
  }

  #refuseLonger(bytes: number, Kind: typeof TrundleError): void {
    if (bytes > this.options.mostBytes)
      throw refused(
        shownUrl(this.url),
        `is longer than the ${this.options.mostBytes} bytes that are fetched here`,
        'raise --max-fetch or share the clip by a folder',
        Kind,
      );
  }
}

function lengthOf(text: string | null): number | null {
  return text !== null && /^\d{1,15}$/.test(text) ? Number(text) : null;
}

/** What `fetch` throws where a connection fails or is given up. */
function isOfNetwork(error: unknown): boolean {
  if (!(error instanceof Error)) return false;
  return error.name === 'AbortError' || error instanceof TypeError;
}

function whyOf(error: unknown): string {
  const { cause, message } = error as Error;
  const code = (cause as NodeJS.ErrnoException | undefined)?.code;
  return code ?? message;
}

function refused(shown: string, why: string, what: string, Kind = TrundleError): TrundleError {
  return new Kind('place-not-allowed', `The clip "${shown}" ${why}; ${what}.`);
}
