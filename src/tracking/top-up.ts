/** Replaces lost tracks: looks for corners only where new starts will go, which gives the same starts as looking everywhere. */
import { BUCKETS, bucketsToFill, fillOf } from './buckets.js';
import { chooseStarts, weakestUseful } from './choose-starts.js';
import type { LiveTracks } from './live-tracks.js';
import { TOP_UP_SHARE, type Scale } from './options.js';
import type { WorkerPool } from './worker-pool.js';

const EVERYWHERE = Array.from({ length: BUCKETS }, (_, bucket) => bucket);

/** Keeps the number of live tracks near its target. */
export class Replenisher {
  readonly #pool: WorkerPool;
  readonly #target: number;
  readonly #picture: { readonly widthPx: number; readonly heightPx: number; readonly spacingPx: number };
  /** From the latest look at the whole picture; the light of a clip does not change so fast that it would matter. */
  #weakest: number | undefined;

  constructor(pool: WorkerPool, target: number, widthPx: number, heightPx: number, scale: Scale) {
    this.#pool = pool;
    this.#target = target;
    this.#picture = { widthPx, heightPx, spacingPx: scale.spacingPx };
  }

  /** Adds tracks in `frame`, the latest one given to the pool, when more than 4 % of the target are missing. */
  async topUp(tracks: LiveTracks, frame: number): Promise<void> {
    const count = this.#target - tracks.count;
    if (count <= TOP_UP_SHARE * this.#target) return;
    const live = tracks.positions();
    if (this.#weakest !== undefined) {
      const request = { ...this.#picture, count, weakest: this.#weakest };
      const buckets = bucketsToFill(fillOf(live, request.widthPx, request.heightPx), count);
      if (buckets.length < BUCKETS) {
        const starts = chooseStarts(await this.#pool.corners(buckets), live, request);
        if (starts.xPx.length === count) return tracks.add(frame, starts);
      }
    }
    // Some of those buckets had too few corners: the rest goes to fuller ones.
    const corners = await this.#pool.corners(EVERYWHERE);
    this.#weakest = weakestUseful(corners);
    tracks.add(frame, chooseStarts(corners, live, { ...this.#picture, count, weakest: this.#weakest }));
  }
}
