/** One job as the queue holds it: what the page is told of it, and what goes with it while it runs. */
import { randomUUID } from 'node:crypto';
import type { Job, JobOrder, Look, Problem } from '../api.js';
import { isActive } from '../is-active.js';
import { ProgressFigures } from './progress-figures.js';
import type { FromWorker, Outcome } from './protocol.js';
import type { KeptJob } from './kept-queue.js';
import { TraceSoFar } from './trace-so-far.js';
import type { JobProcess } from './work-process.js';

/** What is known of the clip of a job before it begins. */
export interface JobClip {
  readonly clip: string | null;
  readonly clipName: string;
}

/** A job. */
export class JobRecord {
  readonly id: string;
  readonly trace: TraceSoFar;
  look: Look | null = null;
  worker: JobProcess | null = null;
  /** Somebody asked it to stop. */
  stopping = false;
  /** The program ends: the job is kept for the next time. */
  leaving = false;
  /** How often the program ended without a word while it ran. */
  readonly crashes: number;
  /** Where it writes, once it has said so. */
  writing: Extract<FromWorker, { kind: 'writing' }> | null = null;
  /** The last word of its worker. */
  result: Extract<FromWorker, { kind: 'done' | 'failed' }> | null = null;
  readonly #figures: ProgressFigures;
  #job: Omit<Job, 'ahead'>;

  constructor(
    readonly order: JobOrder,
    { clip, clipName }: JobClip,
    /** What is known of it from an earlier program. */
    kept: Pick<KeptJob, 'id' | 'queuedAt' | 'isAnew' | 'crashes'> = newJob(),
  ) {
    this.id = kept.id;
    this.crashes = kept.crashes;
    this.trace = new TraceSoFar(this.id);
    this.#figures = new ProgressFigures(order.kind);
    this.#job = {
      ...{ id: this.id, kind: order.kind, state: 'queued', clip, clipName },
      settings: order.kind === 'measure' ? order.settings : {},
      ...{ stage: null, done: 0, total: null, share: 0, framesPerS: null, leftS: null },
      ...{ queuedAt: kept.queuedAt, isAnew: kept.isAnew, startedAt: null, endedAt: null },
      ...{ run: order.kind === 'proof' ? order.run : null, grade: null, sentence: null, problem: null },
    };
  }

  /** @param ahead jobs before it */
  told(ahead: number): Job {
    return { ...this.#job, ahead };
  }

  get state(): Job['state'] {
    return this.#job.state;
  }

  get hasEnded(): boolean {
    return !isActive(this);
  }

  /** As it is kept for a program that comes after. */
  kept(): KeptJob {
    const { clip, clipName, queuedAt, isAnew, state } = this.#job;
    const { id, order, crashes, writing } = this;
    const place = writing && { folder: writing.folder, made: writing.made };
    return {
      ...{ id, order, clip, clipName, queuedAt, isAnew, crashes },
      ...{ isRunning: state === 'running', writing: place },
    };
  }

  /** It is its turn. */
  begin(): void {
    this.#job = { ...this.#job, state: 'running', startedAt: new Date().toISOString() };
  }

  /** The worker tells how far it is. */
  progress({ stage, done, total }: Extract<FromWorker, { kind: 'progress' }>): void {
    this.#figures.note(stage, done, total);
    this.#job = { ...this.#job, stage, done, total };
    this.measureUp();
  }

  /** Brings the figures that go on with time up to now. @returns whether one of them changed */
  measureUp(): boolean {
    const { share, framesPerS, leftS } = this.#job;
    const rate = this.#figures.framesPerS();
    this.#job = {
      ...this.#job,
      share: this.#figures.share(),
      framesPerS: rate === null ? null : Math.round(10 * rate) / 10,
      leftS: this.#figures.leftS(),
    };
    const now = this.#job;
    return share !== now.share || framesPerS !== now.framesPerS || leftS !== now.leftS;
  }

  /** It came to its end. */
  finish({ run, grade, sentence, problem }: Outcome): void {
    this.#end({ state: 'done', run, grade, sentence, problem });
  }

  /** It came to nothing. */
  fail(problem: Problem): void {
    this.#end({ state: 'failed', problem });
  }

  /** It waits for the next program, and begins anew there. */
  postpone(): void {
    this.writing = null;
    this.#end({ state: 'queued', isAnew: true, startedAt: null, endedAt: null });
  }

  /** It was stopped. */
  cancel(): void {
    this.#end({ state: 'cancelled' });
  }

  #end(change: Partial<Job>): void {
    this.look = null;
    const endedAt = new Date().toISOString();
    this.#job = { ...this.#job, stage: null, framesPerS: null, leftS: null, endedAt, ...change };
  }
}

function newJob(): Pick<KeptJob, 'id' | 'queuedAt' | 'isAnew' | 'crashes'> {
  return { id: randomUUID(), queuedAt: new Date().toISOString(), isAnew: false, crashes: 0 };
}
