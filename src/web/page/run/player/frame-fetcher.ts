/** Fetches and decodes frames ahead of play, a few at once, the soonest needed first, into a ring. */
import type { Closable, FrameRing, PlayPlace } from './frame-ring.js';

/** What a fetcher works with. */
export interface FetcherParts<Picture extends Closable> {
  readonly ring: FrameRing<Picture>;
  readonly load: (frame: number, signal: AbortSignal) => Promise<Picture>;
  /** A frame has come. */
  readonly onFrame: (frame: number) => void;
  /** A frame did not come, however often it was asked for; told once. */
  readonly onFault: (error: unknown) => void;
}

/** Browsers hold six connections to a server; two stay for the rest of the page. */
const AT_ONCE = 4;
/** So often is a frame asked for. */
const TRIES = 3;

/** Keeps the ring filled around the place of play. */
export class FrameFetcher<Picture extends Closable> {
  readonly #parts: FetcherParts<Picture>;
  readonly #stop = new AbortController();
  readonly #busy = new Set<number>();
  readonly #faults = new Map<number, number>();
  #place: PlayPlace = { at: 0, direction: 1, count: 0 };
  #faultTold = false;

  constructor(parts: FetcherParts<Picture>) {
    this.#parts = parts;
  }

  /** Tells where play stands; what is missing there is fetched. */
  look(place: PlayPlace): void {
    this.#place = place;
    if (place.count === 0) return;
    this.#parts.ring.keepAround(place);
    this.#fill();
  }

  /** Ends all fetching and lets go of every picture. */
  close(): void {
    this.#stop.abort();
    this.#parts.ring.clear();
  }

  #fill(): void {
    if (this.#stop.signal.aborted || this.#busy.size >= AT_ONCE) return;
    for (const frame of this.#parts.ring.missing(this.#place)) {
      if (this.#busy.size >= AT_ONCE) return;
      if (!this.#busy.has(frame) && (this.#faults.get(frame) ?? 0) < TRIES) void this.#fetch(frame);
    }
  }

  async #fetch(frame: number): Promise<void> {
    const { ring, load, onFrame, onFault } = this.#parts;
    const { signal } = this.#stop;
    this.#busy.add(frame);
    try {
      const picture = await load(frame, signal);
      if (signal.aborted) {
        picture.close();
        return;
      }
      ring.put(frame, picture);
      ring.keepAround(this.#place);
      this.#faults.delete(frame);
      if (ring.has(frame)) onFrame(frame);
    } catch (error) {
      if (signal.aborted) return;
      const faults = (this.#faults.get(frame) ?? 0) + 1;
      this.#faults.set(frame, faults);
      if (faults === TRIES && !this.#faultTold) {
        this.#faultTold = true;
        onFault(error);
      }
    } finally {
      this.#busy.delete(frame);
    }
    this.#fill();
  }
}
