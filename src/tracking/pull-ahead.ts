/** Reads an async iterator some items ahead, so that its producer works while the taken item is used. */
import { interrupted } from './worker-pool.js';

/** Items asked for before they are wanted: enough to bridge what one frame takes longer than the others, to decode or to follow. */
const AHEAD = 3;

/** An iterator that is always some requests ahead. Call `stop` in `finally`. */
export class PullAhead<T> {
  readonly #iterator: AsyncIterator<T>;
  readonly #signal: AbortSignal | undefined;
  readonly #onAbort = (): void => this.#giveUp?.(interrupted());
  readonly #pending: Promise<IteratorResult<T>>[] = [];
  #giveUp: ((reason: Error) => void) | undefined;

  /** Asks for the first items at once. */
  constructor(source: AsyncIterable<T>, signal: AbortSignal | undefined) {
    this.#iterator = source[Symbol.asyncIterator]();
    this.#signal = signal;
    signal?.addEventListener('abort', this.#onAbort);
    for (let i = 0; i < AHEAD; i++) this.#ask();
  }

  /** The next item, or undefined at the end. @throws TrundleError 'interrupted' when the signal fires */
  async take(): Promise<T | undefined> {
    if (this.#signal?.aborted) throw interrupted();
    const pending = this.#pending.shift() ?? this.#iterator.next();
    // No race with a promise that lives as long as this: that one would hold every item that ever won.
    const result = await new Promise<IteratorResult<T>>((resolve, reject) => {
      this.#giveUp = reject;
      pending.then(resolve, reject);
    });
    if (result.done) return undefined;
    this.#ask();
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

  #ask(): void {
    const asked = this.#iterator.next();
    // A failure is reported when the item is taken; until then it is not an unhandled one.
    asked.catch(() => undefined);
    this.#pending.push(asked);
  }
}
