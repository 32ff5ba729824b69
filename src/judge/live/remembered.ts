/** Results by key, the latest ones: what sliders ask for again and again is found once. */

/** Keeps so many results; the one that was found first goes first. */
export class Remembered<Result> {
  readonly #most: number;
  readonly #results = new Map<string, Result>();

  /** @param most results that are kept, at least 1 */
  constructor(most: number) {
    this.#most = most;
  }

  /** The result of a key. @param find makes it where it is not remembered; what it throws is not remembered */
  of(key: string, find: () => Result): Result {
    const before = this.#results.get(key);
    if (before !== undefined) return before;
    const found = find();
    if (this.#results.size >= this.#most) this.#results.delete([...this.#results.keys()][0]);
    this.#results.set(key, found);
    return found;
  }
}
