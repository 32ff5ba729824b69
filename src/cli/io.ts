/** What a command may touch of the outside: two text streams, a signal, and whether a person watches. */

/** Handed to every command; tests hand in a recorder. */
export interface Io {
  /** Writes data to standard output. */
  out(text: string): void;
  /** Writes a message to standard error. */
  err(text: string): void;
  /** True when standard error is a terminal: only then progress is drawn in place. */
  readonly interactive: boolean;
  /** True when colour may be used (a terminal, and NO_COLOR is not set). */
  readonly colour: boolean;
  /** Raised by an interrupt. */
  readonly signal: AbortSignal;
}

/** Draws progress in place on a terminal and keeps silent elsewhere. */
export class Progress {
  private drawn = 0;
  private readonly startedMs = Date.now();

  constructor(
    private readonly io: Io,
    private readonly quiet: boolean,
  ) {}

  /** Shows a stage and, when the total is known, how far it is and about how long it still takes. */
  show(stage: string, done: number, total: number | null): void {
    if (this.quiet || !this.io.interactive || Date.now() - this.drawn < 100) return;
    this.drawn = Date.now();
    const share = total ? Math.min(1, done / total) : null;
    const elapsedS = (this.drawn - this.startedMs) / 1000;
    const left = share && share > 0.05 ? `, about ${Math.ceil((elapsedS * (1 - share)) / share)} s left` : '';
    const text = total ? `${stage}: ${done} of ${total}${left}` : `${stage}: ${done}`;
    this.io.err(`\r\u001b[2K${text}`);
  }

  /** Clears the line. */
  clear(): void {
    if (this.drawn > 0 && this.io.interactive && !this.quiet) this.io.err('\r\u001b[2K');
  }
}
