/** Decoded frames around the place of play, as many as the memory allows (bytes); the clip goes round, and so do they. */

/** What a decoded picture must know. */
export interface Closable {
  close(): void;
}

/** Where play stands and where it goes. */
export interface PlayPlace {
  /** Frame from 0. */
  readonly at: number;
  readonly direction: 1 | -1;
  /** Frames that there are. */
  readonly count: number;
}

/** Bytes of a decoded pixel. */
const BYTES_PER_PX = 4;
/** Share of the frames kept that lie behind the place of play. */
const BEHIND = 1 / 8;

/** Keeps decoded frames. */
export class FrameRing<Picture extends Closable> {
  /** Frames that are kept at most; at least 4. */
  readonly capacity: number;
  readonly #pictures = new Map<number, Picture>();

  /** @param limitBytes for all pictures together */
  constructor(limitBytes: number, size: { readonly widthPx: number; readonly heightPx: number }) {
    this.capacity = Math.max(4, Math.floor(limitBytes / (BYTES_PER_PX * size.widthPx * size.heightPx)));
  }

  /** Frames that are kept now. */
  get size(): number {
    return this.#pictures.size;
  }

  has(frame: number): boolean {
    return this.#pictures.has(frame);
  }

  get(frame: number): Picture | null {
    return this.#pictures.get(frame) ?? null;
  }

  /** Keeps a picture; one that was there is closed. */
  put(frame: number, picture: Picture): void {
    this.#pictures.get(frame)?.close();
    this.#pictures.set(frame, picture);
  }

  /** Lets go of the pictures that lie too far from the place of play. */
  keepAround(place: PlayPlace): void {
    const near = new Set(this.#order(place));
    for (const [frame, picture] of this.#pictures) {
      if (near.has(frame)) continue;
      picture.close();
      this.#pictures.delete(frame);
    }
  }

  /** Frames that are missing around the place of play, the soonest needed first. */
  missing(place: PlayPlace): number[] {
    return this.#order(place).filter((frame) => !this.has(frame));
  }

  clear(): void {
    for (const picture of this.#pictures.values()) picture.close();
    this.#pictures.clear();
  }

  /** The frames to have: the one shown, those ahead, then those behind from near to far. */
  #order({ at, direction, count }: PlayPlace): number[] {
    const kept = Math.min(count, this.capacity);
    const behind = kept === count ? 0 : Math.floor(kept * BEHIND);
    const place = (by: number): number => (((at + direction * by) % count) + count) % count;
    return Array.from({ length: kept }, (_, i) =>
      i < kept - behind ? place(i) : place(kept - behind - 1 - i),
    );
  }
}
