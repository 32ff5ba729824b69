/** Shows how far a batch is: one line that is drawn anew on a terminal, lines every so often elsewhere, and a line for each clip that is done. */
import { HowFar, type BatchClip, type BatchWatcher, type ClipOutcome } from '../batch/index.js';
import type { Stage } from '../measure-request.js';
import { endLine, stateLine } from './batch-words.js';
import type { Io } from './io.js';

/** Least time between two drawings of the line, ms. */
const DRAW_MS = 100;
/** The time left goes down though nothing is heard, ms. */
const TICK_MS = 1000;
/** How often the state is told where nobody watches a terminal, ms. */
const TELL_MS = 30_000;
const USUAL_COLUMNS = 80;

/** The display of one batch; `close` ends it. */
export class BatchDisplay implements BatchWatcher {
  readonly #howFar = new HowFar();
  readonly #timer: NodeJS.Timeout | undefined;
  #drawnMs = -Infinity;
  #isDrawn = false;
  #told = '';

  constructor(
    private readonly io: Io,
    private readonly quiet: boolean,
  ) {
    if (quiet) return;
    this.#timer = setInterval(
      () => (io.interactive ? this.#draw() : this.#tell()),
      io.interactive ? TICK_MS : TELL_MS,
    );
    this.#timer.unref();
  }

  /** Clips that came and were not begun. */
  get waiting(): number {
    return this.#howFar.state().waiting;
  }

  /** Clips that are being measured. */
  get underWay(): number {
    return this.#howFar.state().underWay.length;
  }

  found(clips: readonly BatchClip[]): void {
    this.#howFar.found(clips);
    this.#draw();
  }

  begun(clip: BatchClip): void {
    this.#howFar.begun(clip);
    this.#draw();
  }

  progress(clip: BatchClip, stage: Stage, done: number, total: number | null): void {
    this.#howFar.progress(clip, stage, done, total);
    if (performance.now() - this.#drawnMs >= DRAW_MS) this.#draw();
  }

  ended(clip: BatchClip, outcome: ClipOutcome): void {
    this.#howFar.ended(clip, outcome);
    const line = endLine(clip, outcome);
    if (line !== null && !this.quiet) this.say(line);
    else if (performance.now() - this.#drawnMs >= DRAW_MS) this.#draw();
  }

  /** Says a line without disturbing the one that is drawn. */
  say(line: string): void {
    this.#clear();
    this.io.err(`${line}\n`);
    this.#draw();
  }

  /** Ends the drawing. */
  close(): void {
    clearInterval(this.#timer);
    this.#clear();
  }

  #draw(): void {
    if (this.quiet || !this.io.interactive) return;
    this.#drawnMs = performance.now();
    this.#isDrawn = true;
    this.io.err(`\r\u001b[2K${stateLine(this.#howFar.state(), (this.io.columns ?? USUAL_COLUMNS) - 1)}`);
  }

  #clear(): void {
    if (this.#isDrawn) this.io.err('\r\u001b[2K');
    this.#isDrawn = false;
  }

  /** Nothing new is not told. */
  #tell(): void {
    const line = stateLine(this.#howFar.state(), Infinity);
    if (line !== this.#told) this.io.err(`${line}\n`);
    this.#told = line;
  }
}
