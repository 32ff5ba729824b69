/** One worker process with all that it starts: told its task, listened to, stopped, and gone to the last of it when it ends. */
import { fork, type ChildProcess } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { ReadyMessage, ToWorker } from './serve-work.js';

/** How a worker is started and ended. */
export interface WorkMeans {
  /** What the process runs: a module that calls `serveWork`. */
  readonly url: URL;
  /** How long it may take to answer for the first time, ms. */
  readonly startMs?: number;
  /** How long it may take to end by itself once it is asked to, ms. */
  readonly graceMs?: number;
}

/** Loading takes about a second; a busy machine may take many. */
const START_MS = 120_000;
const GRACE_MS = 2500;
/** Messages that were under way when a process ended arrive at once. */
const LAST_WORDS_MS = 500;

/** How a worker ended. */
export interface WorkerEnd {
  /** It never said a word in time. */
  readonly mute: boolean;
}

/**
 * A running worker.
 *
 * `Task` is what it is told to do, `Message` what it tells while it does it; both are sent as structured clones.
 */
export class WorkProcess<Task, Message extends { readonly kind: string }> {
  /** Resolves when the process is gone, with everything it had started. */
  readonly ended: Promise<WorkerEnd>;
  readonly #child: ChildProcess;
  readonly #graceMs: number;
  #graceTimer: NodeJS.Timeout | undefined;
  #gone = false;
  #mute = false;

  /** @param onMessage told everything but the first sign of life */
  constructor(
    task: Task,
    onMessage: (message: Message) => void,
    { url, startMs = START_MS, graceMs = GRACE_MS }: WorkMeans,
  ) {
    this.#graceMs = graceMs;
    // A group of its own (not on Windows, which knows none), so that FFmpeg can be ended with it even when it cannot do so itself.
    this.#child = fork(fileURLToPath(url), [], {
      execArgv: url.pathname.endsWith('.ts') ? ['--import', import.meta.resolve('tsx')] : [],
      serialization: 'advanced',
      detached: process.platform !== 'win32',
      stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
    });
    const startTimer = setTimeout(() => {
      this.#mute = true;
      this.kill();
    }, startMs);
    this.#child.on('message', (message: Message | ReadyMessage) => {
      if (!isReady(message)) return onMessage(message);
      clearTimeout(startTimer);
      this.#tell({ kind: 'start', task });
    });
    this.ended = this.#untilGone().then(() => {
      clearTimeout(startTimer);
      clearTimeout(this.#graceTimer);
      return { mute: this.#mute };
    });
  }

  /** Asks it to stop; after a while it is ended. */
  stop(): void {
    this.#tell({ kind: 'stop' });
    this.#graceTimer ??= setTimeout(() => this.kill(), this.#graceMs);
  }

  /** Ends it at once, with everything it has started. */
  kill(): void {
    if (!this.#gone) this.#child.kill('SIGKILL');
    this.#killGroup();
  }

  #tell(message: ToWorker<Task>): void {
    // One that has just ended does not hear it: its end says so.
    if (this.#child.connected) this.#child.send(message, () => {});
  }

  async #untilGone(): Promise<void> {
    const child = this.#child;
    const silent = new Promise<void>((resolve) => child.once('disconnect', resolve));
    await new Promise<void>((resolve) => {
      child.once('exit', () => resolve());
      // A process that could not be started has no exit.
      child.once('error', () => child.pid === undefined && resolve());
    });
    this.#gone = true;
    this.#killGroup();
    if (child.connected)
      await Promise.race([silent, new Promise((resolve) => setTimeout(resolve, LAST_WORDS_MS))]);
  }

  #killGroup(): void {
    if (process.platform === 'win32' || this.#child.pid === undefined) return;
    try {
      process.kill(-this.#child.pid, 'SIGKILL');
    } catch {
      // Nothing of the group is left.
    }
  }
}

function isReady(message: { readonly kind: string }): message is ReadyMessage {
  return message.kind === 'ready';
}

/**
 * The place of the module that a worker runs. From source a worker is TypeScript as well; built, both are plain JavaScript.
 *
 * @param name of the module without its ending, beside the module that asks
 * @param beside `import.meta.url` of that module
 */
export function workerBeside(name: string, beside: string): URL {
  return new URL(`./${name}${beside.endsWith('.ts') ? '.ts' : '.js'}`, beside);
}
