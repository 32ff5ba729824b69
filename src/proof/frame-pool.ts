/** Frames of a proof in order, made by this thread alone or by several workers that are a few frames ahead. */
import { Worker } from 'node:worker_threads';
import { TrundleError, assert } from '../run/index.js';
import type { Samples } from '../vision/index.js';
import { FrameMaker, type FrameRecipe, type MadeFrame } from './frame-maker.js';

/** A recorded frame to be made into a written one. */
export interface FrameErrand {
  readonly planes: readonly Samples[];
  /** Seconds from the start of the clip. */
  readonly timeS: number;
}

/** What a worker answers to each errand, in their order. */
export type FrameReply = MadeFrame;

/** Frames in work for each worker: the one being made and the one that waits. */
const AHEAD = 2;

/** Run from source the worker is TypeScript as well; built, both are plain JavaScript. */
const WORKER_URL = new URL(
  import.meta.url.endsWith('.ts') ? './frame-worker.ts' : './frame-worker.js',
  import.meta.url,
);

/** How frames are made. */
export interface PoolOptions {
  /** 1: in this thread. */
  readonly threads: number;
  readonly signal?: AbortSignal | undefined;
  /** Another worker entry, for tests of the pool itself. */
  readonly workerUrl?: URL;
  /** Most memory of a worker besides its image engine, MB; what the engine of the language allows unless given. */
  readonly heapMb?: number;
}

/**
 * Makes every frame, in order; memory holds a few frames per worker at most. The outcome does not depend on the number of
 * threads.
 *
 * @throws TrundleError 'interrupted' when the signal fires, 'memory-short'
 * @throws Error when a worker fails
 * @throws whatever `frames` throws
 */
export async function* makeFrames(
  recipe: FrameRecipe,
  frames: AsyncIterable<FrameErrand>,
  { threads, signal, workerUrl = WORKER_URL, heapMb }: PoolOptions,
): AsyncGenerator<MadeFrame> {
  if (threads === 1) {
    const maker = new FrameMaker(recipe);
    for await (const { planes, timeS } of frames) {
      if (signal?.aborted) throw interrupted();
      yield maker.make(planes, timeS);
    }
    return;
  }
  const hands = Array.from({ length: threads }, () => new Hand(recipe, workerUrl, heapMb));
  const onAbort = (): void => hands.forEach((hand) => hand.fail(interrupted()));
  signal?.addEventListener('abort', onAbort);
  if (signal?.aborted) onAbort();
  try {
    const inWork: Promise<MadeFrame>[] = [];
    let index = 0;
    for await (const frame of frames) {
      inWork.push(hands[index++ % threads].make(frame));
      if (inWork.length >= AHEAD * threads) yield await (inWork.shift() as Promise<MadeFrame>);
    }
    for (const made of inWork) yield await made;
  } finally {
    signal?.removeEventListener('abort', onAbort);
    await Promise.all(hands.map((hand) => hand.close()));
  }
}

interface Waiting {
  resolve(made: MadeFrame): void;
  reject(error: Error): void;
}

/** One worker with the errands it has not answered yet. */
class Hand {
  readonly #worker: Worker;
  readonly #waiting: Waiting[] = [];
  #failure: Error | undefined;
  #closing = false;

  constructor(recipe: FrameRecipe, url: URL, heapMb: number | undefined) {
    this.#worker = startThread(url, recipe, heapMb);
    this.#worker.on('message', (made: FrameReply) => {
      if (this.#failure) return; // what was still being made when all was called off
      const next = this.#waiting.shift();
      assert(next !== undefined, 'a worker answers each errand once');
      next.resolve(made);
    });
    this.#worker.on('error', (cause) => this.fail(deathOf(cause)));
    this.#worker.on('exit', (code) => {
      if (!this.#closing)
        this.fail(new Error(`A rendering worker stopped in the middle of the clip (status ${code}).`));
    });
  }

  /** Rejects everything that waits and everything asked later. */
  fail(error: Error): void {
    this.#failure ??= error;
    for (const waiting of this.#waiting.splice(0)) waiting.reject(this.#failure);
  }

  /** The planes are copied, the caller keeps them. */
  make(frame: FrameErrand): Promise<MadeFrame> {
    const { planes, timeS } = frame;
    const made = this.#failure
      ? Promise.reject<MadeFrame>(this.#failure)
      : new Promise<MadeFrame>((resolve, reject) => {
          this.#waiting.push({ resolve, reject });
          this.#worker.postMessage({ planes, timeS } satisfies FrameErrand);
        });
    // A frame that fails while an earlier one is waited for is heard of when its own turn comes.
    made.catch(() => undefined);
    return made;
  }

  async close(): Promise<void> {
    this.#closing = true;
    this.fail(new Error('The rendering workers were closed.'));
    await this.#worker.terminate();
  }
}

/**
 * Starts a thread on a module. A TypeScript module needs the loader, which a thread does not inherit and which
 * `--import` does not bring into threads: so the thread registers it itself and then loads the module.
 */
function startThread(url: URL, workerData: FrameRecipe, heapMb: number | undefined): Worker {
  const options = {
    workerData,
    execArgv: [],
    ...(heapMb !== undefined && { resourceLimits: { maxOldGenerationSizeMb: heapMb } }),
  };
  if (!url.pathname.endsWith('.ts')) return new Worker(url, options);
  const loader = import.meta.resolve('tsx/esm/api');
  const boot = `import(${JSON.stringify(loader)}).then(({ register }) => (register(), import(${JSON.stringify(url.href)})))`;
  return new Worker(boot, { ...options, eval: true });
}

/** Why a worker died: for want of memory, which the person at the machine can do something about, or by a fault of ours. */
function deathOf(error: Error & { readonly code?: string }): Error {
  if (error.code !== 'ERR_WORKER_OUT_OF_MEMORY')
    return new Error(`A rendering worker failed: ${error.message}`, { cause: error });
  return new TrundleError(
    'memory-short',
    'This machine ran out of memory while the clip was rendered; close other programs, or render a shorter part with --in and --out.',
    { cause: error },
  );
}

/** The failure with which a stopped rendering ends. */
function interrupted(): TrundleError {
  return new TrundleError(
    'interrupted',
    'Stopped before the clip was rendered to its end; nothing was written.',
  );
}
