/** Waits while Redis is full: what a worker has measured took long, and there is room again when somebody collects. */
import { setTimeout as sleep } from 'node:timers/promises';
import { isFull } from './connect.js';

/** How often it is tried again, ms. */
export const FULL_AGAIN_MS = 2000;

/** The patience of one worker. */
export class Patience {
  #isTold = false;

  /**
   * @param end raised when there is no more time to wait
   * @param onFull told once each time that Redis is found full
   */
  constructor(
    private readonly end: AbortSignal,
    private readonly onFull: () => void,
    private readonly againMs: number = FULL_AGAIN_MS,
  ) {}

  /**
   * Does something that Redis may have no room for, again and again until it has.
   * @throws what `work` throws, and that there is no room where the end comes first
   */
  async until<T>(work: () => Promise<T>): Promise<T> {
    for (;;) {
      try {
        const done = await work();
        this.over();
        return done;
      } catch (error) {
        if (!isFull(error) || this.end.aborted) throw error;
        this.found();
        await sleep(this.againMs, undefined, { signal: this.end }).catch(() => undefined);
      }
    }
  }

  /** Redis was found full. */
  found(): void {
    if (!this.#isTold) this.onFull();
    this.#isTold = true;
  }

  /** Redis took something. */
  over(): void {
    this.#isTold = false;
  }
}
