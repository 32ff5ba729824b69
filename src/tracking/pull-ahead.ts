/** Reads an async iterator one item ahead, so that its producer works while the taken item is used. */
import { interrupted } from './worker-pool.js';

/** An iterator that is always one request ahead. Call `stop` in `finally`. */
export class PullAhead<T> {
  readonly #iterator: AsyncIterator<T>;
  readonly #signal: AbortSignal | undefined;
  readonly #aborted: Promise<never>;
  #onAbort: () => void = () => undefined;
  #pending: Promise<IteratorResult<T>>;

  /** Asks for the first item at once. */
  constructor(source: AsyncIterable<T>, signal: AbortSignal | undefined) {
    this.#iterator = source[Symbol.asyncIterator]();
    this.#signal = signal;
    this.#aborted = new Promise<never>((_, reject) => {
      this.#onAbort = () => reject(interrupted());
      if (signal?.aborted) this.#onAbort();
      else signal?.addEventListener('abort', this.#onAbort);
    });
    // Nobody may be waiting when the signal fires; the next `take` reports it.
    this.#aborted.catch(() => undefined);
    this.#pending = this.#ask();
  }

  /** The next item, or undefined at the end. @throws TrundleError 'interrupted' when the signal fires */
  async take(): Promise<T | undefined> {
    const result = await Promise.race([this.#pending, this.#aborted]);
    if (result.done) return undefined;
    this.#pending = this.#ask();
    return result.value;
  }

  /** Tells the producer that no more is wanted and waits for it to clean up, except after an interruption. */
  async stop(): Promise<void> {
    this.#signal?.removeEventListener('abort', this.#onAbort);
    const closed = this.#iterator.return?.();
    if (!closed) return;
    // A producer that hangs must not keep an interrupted program alive.
    if (this.#signal?.aborted) closed.catch(() => undefined);
    else await closed;
  }

  #ask(): Promise<IteratorResult<T>> {
    const asked = this.#iterator.next();
    // A failure is reported when the item is taken; until then it is not an unhandled one.
    asked.catch(() => undefined);
    return asked;
  }
}
