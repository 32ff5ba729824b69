/** Tells every page of one job whenever it changes, and not more often than a page can show. */

/** Least time between two words on one job, ms. */
const BETWEEN_MS = 200;

/** Gathers changes of jobs; the last one is always told. */
export class Telling {
  readonly #tell: (job: string) => void;
  readonly #toldMs = new Map<string, number>();
  readonly #waiting = new Map<string, NodeJS.Timeout>();

  /** @param tell looks the job up and tells how it stands */
  constructor(tell: (job: string) => void) {
    this.#tell = tell;
  }

  /** Something small has changed. */
  soon(job: string): void {
    if (this.#waiting.has(job)) return;
    const leftMs = (this.#toldMs.get(job) ?? -Infinity) + BETWEEN_MS - performance.now();
    if (leftMs <= 0) this.now(job);
    else
      this.#waiting.set(
        job,
        setTimeout(() => this.now(job), leftMs),
      );
  }

  /** Something has changed that counts. */
  now(job: string): void {
    this.#drop(job);
    this.#toldMs.set(job, performance.now());
    this.#tell(job);
  }

  /** The job is gone from the list. */
  forget(job: string): void {
    this.#drop(job);
    this.#toldMs.delete(job);
  }

  #drop(job: string): void {
    clearTimeout(this.#waiting.get(job));
    this.#waiting.delete(job);
  }
}
