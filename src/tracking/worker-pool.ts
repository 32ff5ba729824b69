/** The tracking workers: starts them, splits work between them, joins the answers in an order that does not depend on their number. */
import { Worker } from 'node:worker_threads';
import { TrundleError, assert } from '../run/index.js';
import { sharePictures, type Corners, type PictureShare, type Points } from '../vision/index.js';
import { scaleFor } from './options.js';
import type {
  Followed,
  Relight,
  TrackPoints,
  WorkerAnswers,
  WorkerReply,
  WorkerRequest,
  WorkerSetup,
} from './protocol.js';

/** Run from source the worker is TypeScript as well; built, both are plain JavaScript. */
const WORKER_URL = new URL(import.meta.url.endsWith('.ts') ? './worker.ts' : './worker.js', import.meta.url);

/**
 * Starts a thread on a module. A TypeScript module needs the loader, which a thread does not inherit and which
 * `--import` does not bring into threads: so the thread registers it itself and then loads the module.
 */
function startThread(url: URL, setup: WorkerSetup, heapMb: number | undefined): Worker {
  const options = {
    workerData: setup,
    execArgv: [],
    ...(heapMb !== undefined && { resourceLimits: { maxOldGenerationSizeMb: heapMb } }),
  };
  if (!url.pathname.endsWith('.ts')) return new Worker(url, options);
  const loader = import.meta.resolve('tsx/esm/api');
  const boot = `import(${JSON.stringify(loader)}).then(({ register }) => (register(), import(${JSON.stringify(url.href)})))`;
  return new Worker(boot, { ...options, eval: true });
}

interface Waiting {
  resolve(reply: WorkerReply): void;
  reject(error: Error): void;
}

/** One worker with its queue of unanswered requests. */
class Channel {
  readonly #worker: Worker;
  readonly #waiting: Waiting[] = [];
  #failure: Error | undefined;
  #closing = false;

  constructor(setup: WorkerSetup, url: URL, heapMb: number | undefined) {
    this.#worker = startThread(url, setup, heapMb);
    this.#worker.on('message', (reply: WorkerReply) => {
      const next = this.#waiting.shift();
      if (reply.kind === 'failed') next?.reject(new Error(`A tracking worker failed: ${reply.message}`));
      else next?.resolve(reply);
    });
    this.#worker.on('error', (error) => this.fail(deathOf(error)));
    this.#worker.on('exit', (code) => {
      if (!this.#closing)
        this.fail(new Error(`A tracking worker stopped in the middle of the clip (status ${code}).`));
    });
  }

  /** Rejects everything that waits and everything asked later. */
  fail(error: Error): void {
    this.#failure ??= error;
    for (const waiting of this.#waiting.splice(0)) waiting.reject(this.#failure);
  }

  /** The worker's next message; messages come in the order of the requests. */
  reply(): Promise<WorkerReply> {
    if (this.#failure) return Promise.reject(this.#failure);
    return new Promise((resolve, reject) => this.#waiting.push({ resolve, reject }));
  }

  async ask<K extends keyof WorkerAnswers>(
    request: WorkerRequest & { readonly kind: K },
  ): Promise<WorkerAnswers[K]> {
    const reply = this.reply();
    this.#worker.postMessage(request);
    const message = await reply;
    assert(message.kind === 'answer', 'a worker answers each request once');
    return message.answer as WorkerAnswers[K];
  }

  async close(): Promise<void> {
    this.#closing = true;
    await this.#worker.terminate();
  }
}

/** Where the workers come from and how many there are. */
export interface PoolOptions {
  readonly threads: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly signal?: AbortSignal | undefined;
  /** Another worker entry, for tests of the pool itself. */
  readonly workerUrl?: URL;
  /** True to do without the SIMD kernel, as where the engine cannot run it. */
  readonly scalar?: boolean;
  /** Most memory of a worker besides its image engine, MB; what the engine of the language allows unless given. */
  readonly heapMb?: number;
}

/** A step of all tracks into the next frame. */
export interface StepErrand extends TrackPoints {
  /** The frame, copied into shared memory. */
  readonly grey: Uint8Array;
  /** What the light became from the frame before; null where it held. */
  readonly relight: Relight | null;
  /** Where the frame should hold the points, one for each. */
  readonly predicted: Points;
  /** Templates to be cut first, in the frame before. */
  readonly cut: TrackPoints;
  /** True to put each point where its template lies; all other templates are dropped. */
  readonly refine: boolean;
}

/** A running set of workers that all hold the same two latest frames. Close it in `finally`. */
export class WorkerPool {
  readonly #channels: Channel[];
  readonly #frameSlots: readonly Uint8Array[];
  readonly #signal: AbortSignal | undefined;
  readonly #onAbort: () => void;
  #frames = 0;
  /** Places of the points of the latest step, by worker. */
  #shares: readonly Int32Array[] = [];

  private constructor(options: PoolOptions, share: PictureShare) {
    const { threads, signal } = options;
    this.#frameSlots = share.frames;
    this.#channels = Array.from(
      { length: threads },
      (_, hand) => new Channel({ share, hand }, options.workerUrl ?? WORKER_URL, options.heapMb),
    );
    this.#signal = signal;
    this.#onAbort = () => {
      for (const channel of this.#channels) channel.fail(interrupted());
    };
    signal?.addEventListener('abort', this.#onAbort);
    if (signal?.aborted) this.#onAbort();
  }

  /**
   * Starts the workers and waits until each has its pictures open.
   * @throws Error when a worker cannot start
   * @throws TrundleError 'interrupted' when the signal fires, 'memory-short'
   */
  static async start(options: PoolOptions): Promise<WorkerPool> {
    const { widthPx, heightPx, threads, scalar } = options;
    const { blurSigmaPx, windowPx, levels, blockPx, template } = scaleFor(widthPx);
    const use = { widthPx, heightPx, blurSigmaPx, windowPx, levels, blockPx, template, threads };
    const pool = new WorkerPool(options, await sharePictures(use, scalar));
    try {
      await Promise.all(pool.#channels.map((channel) => channel.reply()));
      return pool;
    } catch (error) {
      await pool.close();
      throw error;
    }
  }

  /**
   * Gives the next frame to all workers, who follow points of the frame before into it.
   * @returns one entry for each point; what becomes of one depends neither on the others nor on the number of workers
   */
  async step(errand: StepErrand): Promise<Followed> {
    const { grey, tracks, points, predicted, cut, relight, refine } = errand;
    const slot = this.#frames % this.#frameSlots.length;
    this.#frameSlots[slot].set(grey);
    this.#frames += 1;
    this.#shares = this.#channels.map((_, hand) => this.#owned(tracks, hand));
    return this.#joined((channel, hand, mine) =>
      channel.ask({
        ...{ kind: 'step', slot, relight, refine },
        cut: shareOf(cut, this.#owned(cut.tracks, hand)),
        ...shareOf({ tracks, points }, mine),
        predicted: picked(predicted, mine),
      }),
    );
  }

  /** Does the latest step once more and trusts no prediction. */
  again(): Promise<Followed> {
    return this.#joined((channel) => channel.ask({ kind: 'again' }));
  }

  /** Joins what the workers found of their shares of the points. */
  async #joined(
    ask: (channel: Channel, hand: number, mine: Int32Array) => Promise<Followed>,
  ): Promise<Followed> {
    const shares = this.#shares;
    const count = shares.reduce((sum, { length }) => sum + length, 0);
    const parts = await Promise.all(this.#channels.map((channel, hand) => ask(channel, hand, shares[hand])));
    const all = {
      xPx: new Float32Array(count),
      yPx: new Float32Array(count),
      kept: new Uint8Array(count),
      searched: new Uint8Array(count),
    };
    parts.forEach((part, hand) =>
      shares[hand].forEach((i, at) => {
        all.xPx[i] = part.xPx[at];
        all.yPx[i] = part.yPx[at];
        all.kept[i] = part.kept[at];
        all.searched[i] = part.searched[at];
      }),
    );
    return all;
  }

  /** Places in the list of the tracks that are a worker's, who holds their templates. */
  #owned(tracks: Int32Array, hand: number): Int32Array {
    const places = Int32Array.from(tracks, (_, i) => i);
    return places.filter((i) => tracks[i] % this.#channels.length === hand);
  }

  /** Corners of the latest frame, one entry for each bucket of the grid that is asked for. */
  async corners(buckets: readonly number[]): Promise<Corners[]> {
    const threads = this.#channels.length;
    const parts = await Promise.all(
      this.#channels.map((channel, i) =>
        channel.ask({ kind: 'corners', buckets: buckets.filter((_, at) => at % threads === i) }),
      ),
    );
    return buckets.map((_, at) => parts[at % threads][Math.floor(at / threads)]);
  }

  /** Largest memory of any worker's image engine, bytes. */
  async engineHeapBytes(): Promise<number> {
    return Math.max(...(await Promise.all(this.#channels.map((channel) => channel.ask({ kind: 'heap' })))));
  }

  /** Ends the workers; requests still waiting are never answered. */
  async close(): Promise<void> {
    this.#signal?.removeEventListener('abort', this.#onAbort);
    await Promise.all(this.#channels.map((channel) => channel.close()));
  }
}

/** The failure with which a stopped run ends. */
export function interrupted(): TrundleError {
  return new TrundleError(
    'interrupted',
    'Stopped before the clip was tracked to its end; nothing was measured.',
  );
}

/** Why a worker died: for want of memory, which the person at the machine can do something about, or by a fault of ours. */
function deathOf(error: Error & { readonly code?: string }): Error {
  if (error.code !== 'ERR_WORKER_OUT_OF_MEMORY')
    return new Error(`A tracking worker died: ${error.message}`, { cause: error });
  return new TrundleError(
    'memory-short',
    'This machine ran out of memory while the clip was tracked; close other programs, or measure a shorter part with --in and --out.',
    { cause: error },
  );
}

function picked(points: Points, places: Int32Array): Points {
  const at = (values: Float32Array): Float32Array => Float32Array.from(places, (i) => values[i]);
  return { xPx: at(points.xPx), yPx: at(points.yPx) };
}

function shareOf({ tracks, points }: TrackPoints, places: Int32Array): TrackPoints {
  return { tracks: places.map((i) => tracks[i]), points: picked(points, places) };
}
