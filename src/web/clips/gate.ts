/** Lets so many pieces of work run at once; the others wait in turn, and go when nobody waits for them any more. */
/** A gate for work of one kind. */
export class Gate {
  #running = 0;
  readonly #waiting: (() => void)[] = [];

  /** @param atOnce at least 1 */
  constructor(private readonly atOnce: number) {}

  /** Runs `work` when it is its turn. @throws the signal's reason when it fires before; what `work` throws */
  async run<T>(work: () => Promise<T>, signal?: AbortSignal): Promise<T> {
    while (this.#running >= this.atOnce) await new Promise<void>((resolve) => this.#waiting.push(resolve));
    try {
      this.#running++;
      signal?.throwIfAborted();
      return await work();
    } finally {
      this.#running--;
      this.#waiting.shift()?.();
    }
  }
}
