/**
 * Measures many clips, some at once: what the log has already is passed by, the same bytes are measured once, and a clip that fails costs
 * the others nothing.
 */
import type { MeasureRequest, Stage } from '../measure-request.js';
import { TrundleError } from '../run/index.js';
import type { ClipFigures } from './clip-figures.js';
import { failureOf, type ClipFailure } from './failure.js';
import { jobKey } from './job-key.js';
import type { MeasuredClip } from './protocol.js';

/** A clip of the batch. */
export interface BatchClip {
  readonly path: string;
  /** Where it lies below the folder that was asked for, with slashes: its report lies there below the folder of the reports. */
  readonly relative: string;
  readonly sizeBytes: number;
}

/** What became of a clip. */
export type ClipOutcome =
  | { readonly kind: 'measured'; readonly folder: string; readonly measured: MeasuredClip }
  /** The log has it, with these settings. */
  | { readonly kind: 'kept'; readonly kept: KeptClip }
  /** The same bytes with the same settings as another clip of the batch. */
  | { readonly kind: 'same'; readonly as: string }
  | { readonly kind: 'failed'; readonly failure: ClipFailure };

/** A clip that the log has already. */
export interface KeptClip extends Pick<MeasuredClip, 'run' | 'figures' | 'document'> {
  readonly folder: string | null;
}

/** A measurement that runs. */
export interface Running {
  /** Never rejects. */
  readonly ended: Promise<
    | { readonly kind: 'measured'; readonly measured: MeasuredClip }
    | { readonly kind: 'failed'; readonly failure: ClipFailure }
  >;
  /** Gives it up, leaving nothing half-written. */
  stop(): void;
}

/** What is to be measured. */
export interface ReadyClip {
  readonly clip: BatchClip;
  readonly request: MeasureRequest;
  readonly settingsKey: string;
  readonly folder: string;
}

/** What a batch works with. */
export interface BatchMeans {
  /** Measurements at once, 1 or more. */
  readonly atOnce: number;
  /** The request of a clip and its key. @throws TrundleError, which is then what became of the clip */
  readonly prepare: (clip: BatchClip) => Promise<Pick<ReadyClip, 'request' | 'settingsKey'>>;
  /** SHA-256 of the bytes. @throws TrundleError, which is then what became of the clip */
  readonly sha256Of: (file: string) => Promise<string>;
  /** What the log has of a clip with these settings; null where it has nothing. */
  readonly known: (sha256: string, settingsKey: string) => KeptClip | null;
  /** The folder for its report. */
  readonly placeOf: (clip: BatchClip, sha256: string) => Promise<string>;
  /** Begins to measure. @param onProgress told how far it is */
  readonly start: (
    ready: ReadyClip,
    onProgress: (stage: Stage, done: number, total: number | null) => void,
  ) => Running;
  readonly watcher: BatchWatcher;
  /** Raised when nothing more is to be begun: what runs is finished. */
  readonly drain: AbortSignal;
  /** Raised when what runs is to be given up, too. */
  readonly giveUp: AbortSignal;
}

/** Told what happens, to show it. */
export interface BatchWatcher {
  /** Clips that came. */
  found(clips: readonly BatchClip[]): void;
  /** A clip is being measured. */
  begun(clip: BatchClip): void;
  progress(clip: BatchClip, stage: Stage, done: number, total: number | null): void;
  ended(clip: BatchClip, outcome: ClipOutcome): void;
}

/** What became of a clip, by its path; a clip that came anew, as it changed, has what became of it last. */
export type BatchResult = ReadonlyMap<string, { readonly clip: BatchClip; readonly outcome: ClipOutcome }>;

/**
 * Measures what comes until no more comes, or until it is to end. Clips are begun in the order in which they come; while some are measured,
 * the next one is read for its checksum.
 *
 * @param source bunches of clips; its end is the end of the batch
 * @returns what became of each that was dealt with
 */
export async function runBatch(
  source: AsyncIterable<readonly BatchClip[]>,
  means: BatchMeans,
): Promise<BatchResult> {
  const batch = new Batch(means);
  const ends = await Promise.allSettled([batch.work(), batch.takeIn(source)]);
  for (const end of ends) if (end.status === 'rejected') throw end.reason;
  return batch.results;
}

class Batch {
  readonly results = new Map<string, { clip: BatchClip; outcome: ClipOutcome }>();
  readonly #pending: BatchClip[] = [];
  readonly #running = new Set<Promise<void>>();
  /** Clips that are measured or were, by their job: the same job is not begun again. */
  readonly #jobs = new Map<string, BatchClip>();
  #isEnded = false;
  #wake: () => void = () => {};

  constructor(private readonly means: BatchMeans) {
    means.drain.addEventListener('abort', () => this.#wake(), { once: true });
  }

  async takeIn(source: AsyncIterable<readonly BatchClip[]>): Promise<void> {
    try {
      for await (const clips of source) {
        this.means.watcher.found(clips);
        this.#pending.push(...clips);
        this.#wake();
        if (this.means.drain.aborted) return;
      }
    } finally {
      this.#isEnded = true;
      this.#wake();
    }
  }

  async work(): Promise<void> {
    const { drain, atOnce } = this.means;
    while (!drain.aborted) {
      const clip = this.#pending.shift();
      if (clip === undefined) {
        if (this.#isEnded) break;
        await this.#news();
        continue;
      }
      const ready = await this.#readied(clip);
      while (ready && this.#running.size >= atOnce && !drain.aborted)
        await Promise.race([...this.#running, this.#news()]);
      if (ready && !drain.aborted) this.#begin(ready);
    }
    await Promise.all(this.#running);
  }

  /** A clip that is to be measured; null for one that need not or cannot be, whose end is then told. */
  async #readied(clip: BatchClip): Promise<(ReadyClip & { readonly job: string }) | null> {
    const { prepare, sha256Of, known, placeOf, drain } = this.means;
    try {
      const { request, settingsKey } = await prepare(clip);
      const sha256 = await sha256Of(clip.path);
      const job = jobKey(sha256, settingsKey);
      const first = this.#jobs.get(job);
      if (first && first.path !== clip.path) return this.#end(clip, { kind: 'same', as: first.path });
      const kept = known(sha256, settingsKey);
      this.#jobs.set(job, clip);
      if (kept) return this.#end(clip, { kind: 'kept', kept });
      return { clip, request, settingsKey, job, folder: await placeOf(clip, sha256) };
    } catch (error) {
      // What the end of the work broke off is no news of the clip.
      if (drain.aborted && error instanceof TrundleError && error.code === 'interrupted') return null;
      return this.#end(clip, { kind: 'failed', failure: failureOf(error) });
    }
  }

  #begin(ready: ReadyClip & { readonly job: string }): void {
    const { clip, folder, job } = ready;
    const { start, watcher, giveUp } = this.means;
    watcher.begun(clip);
    const running = start(ready, (stage, done, total) => watcher.progress(clip, stage, done, total));
    const stop = (): void => running.stop();
    giveUp.addEventListener('abort', stop, { once: true });
    if (giveUp.aborted) stop();
    const work = running.ended.then((end) => {
      giveUp.removeEventListener('abort', stop);
      this.#running.delete(work);
      // The same clip may come again, mended; another of the same bytes is then told what became of this one.
      if (end.kind === 'failed') this.#jobs.delete(job);
      this.#end(clip, end.kind === 'measured' ? { ...end, folder } : end);
    });
    this.#running.add(work);
  }

  #end(clip: BatchClip, outcome: ClipOutcome): null {
    this.results.set(clip.path, { clip, outcome });
    this.means.watcher.ended(clip, outcome);
    return null;
  }

  /** Resolves at the next clip that comes, and when the batch is to end. */
  #news(): Promise<void> {
    return new Promise((resolve) => (this.#wake = resolve));
  }
}

/** The figures of a clip that has some. */
export function figuresIn(outcome: ClipOutcome): ClipFigures | null {
  if (outcome.kind === 'measured') return outcome.measured.figures;
  return outcome.kind === 'kept' ? outcome.kept.figures : null;
}
