/** Frames of a pass in order, drawn by this thread alone or by several workers that draw a few frames ahead. */
import { Worker } from 'node:worker_threads';
import { TrundleError } from '../run/index.js';
import type { Film } from './film.js';
import type { SynthOptions } from './options.js';
import { textureLibrary, type TextureLibrary } from './texture-library.js';

/** What a worker is started with. */
export interface WorkerStart {
  readonly options: SynthOptions;
  readonly textures: TextureLibrary;
}

/** What a worker answers: the frame asked for. */
export interface WorkerAnswer {
  readonly index: number;
  readonly bytes: Uint8Array;
}

/** Frames that each worker may be ahead of the one that is wanted next. */
const AHEAD = 3;

function interruption(): TrundleError {
  return new TrundleError('interrupted', 'Filming was interrupted; no clip was written.');
}

/** One after another in this thread, with a pause for others after each. */
async function* drawnHere(film: Film, signal: AbortSignal | undefined): AsyncGenerator<Uint8Array> {
  for (let i = 0; i < film.frameCount; i++) {
    if (signal?.aborted) throw interruption();
    yield film.frame(i);
    await new Promise((resolve) => setImmediate(resolve));
  }
}

/** Starts a worker from the compiled program, or from source with a loader for TypeScript in front. */
function startWorker(workerData: WorkerStart): Worker {
  const url = new URL(
    import.meta.url.endsWith('.ts') ? './frame-worker.ts' : './frame-worker.js',
    import.meta.url,
  );
  if (url.pathname.endsWith('.js')) return new Worker(url, { workerData, execArgv: [] });
  // A loader named in execArgv does not reach workers on every Node version; registered inside the worker it does.
  const loader = import.meta.resolve('tsx/esm/api');
  const boot = `import(${JSON.stringify(loader)}).then(({ register }) => {
    register();
    return import(${JSON.stringify(url.href)});
  });`;
  return new Worker(boot, { eval: true, workerData, execArgv: [] });
}

/** Frames drawn by workers, given in order; memory holds a few frames per worker at most. */
async function* drawnByWorkers(
  film: Film,
  threads: number,
  signal: AbortSignal | undefined,
): AsyncGenerator<Uint8Array> {
  const start: WorkerStart = { options: film.options, textures: textureLibrary() };
  const workers = Array.from({ length: threads }, () => startWorker(start));
  const ready = new Map<number, Uint8Array>();
  let failure: Error | null = null;
  let wake = (): void => undefined;
  let asked = 0;
  const ask = (worker: Worker): void => {
    if (asked < film.frameCount) worker.postMessage(asked++);
  };
  const fail = (error: unknown): void => {
    failure ??= error instanceof Error ? error : new Error(String(error));
    wake();
  };
  const onAbort = (): void => fail(interruption());
  signal?.addEventListener('abort', onAbort);
  for (const worker of workers) {
    worker.on('message', ({ index, bytes }: WorkerAnswer) => {
      ready.set(index, bytes);
      wake();
    });
    worker.on('error', fail);
  }
  try {
    if (signal?.aborted) onAbort();
    for (let k = 0; k < AHEAD; k++) workers.forEach(ask);
    for (let next = 0; next < film.frameCount; next++) {
      while (!ready.has(next) && !failure) await new Promise<void>((resolve) => (wake = resolve));
      if (failure) throw failure as Error;
      const bytes = ready.get(next) as Uint8Array;
      ready.delete(next);
      // Whoever drew this one gets the next free frame once the encoder has taken it.
      ask(workers[next % threads]);
      yield bytes;
    }
  } finally {
    signal?.removeEventListener('abort', onAbort);
    await Promise.all(workers.map((worker) => worker.terminate()));
  }
}

/** All frames of a film in order. @param threads 1: no worker is started */
export function framesOf(film: Film, threads: number, signal?: AbortSignal): AsyncGenerator<Uint8Array> {
  return threads > 1 && film.frameCount > 1 ? drawnByWorkers(film, threads, signal) : drawnHere(film, signal);
}
