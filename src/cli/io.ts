/** What a command may touch of the outside: two text streams, a signal, and whether a person watches; and how failures are told. */
import { ERROR_STATUS, EXIT, printable, TrundleError, type ExitStatus } from '../run/plain.js';

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
  /** Width of the terminal that standard output goes to, in characters; undefined where it is none. */
  readonly columns?: number | undefined;
  /** Raised by an interrupt. */
  readonly signal: AbortSignal;
  /**
   * For a command that finishes what it is at when it is interrupted: from the call on a second interrupt raises the signal that this gives,
   * where it would end the program at once; a third one does that. Missing where nobody can interrupt twice.
   */
  readonly secondInterrupt?: () => AbortSignal;
}

/** Draws progress in place on a terminal and keeps silent elsewhere. */
export class Progress {
  /** By a clock that nobody can set. */
  private drawnMs = -Infinity;
  private readonly startedMs = performance.now();

  constructor(
    private readonly io: Io,
    private readonly quiet: boolean,
  ) {}

  /** Shows a stage and, when the total is known, how far it is and about how long it still takes. */
  show(stage: string, done: number, total: number | null): void {
    if (this.quiet || !this.io.interactive || performance.now() - this.drawnMs < 100) return;
    this.drawnMs = performance.now();
    const share = total ? Math.min(1, done / total) : null;
    const elapsedS = (this.drawnMs - this.startedMs) / 1000;
    const left = share && share > 0.05 ? `, about ${Math.ceil((elapsedS * (1 - share)) / share)} s left` : '';
    const text = total ? `${stage}: ${done} of ${total}${left}` : `${stage}: ${done}`;
    this.io.err(`\r\u001b[2K${text}`);
  }

  /** Clears the line. */
  clear(): void {
    if (this.drawnMs > 0 && this.io.interactive && !this.quiet) this.io.err('\r\u001b[2K');
  }
}

/** Tells a failure in one sentence with its code. @returns the exit status it stands for */
export function tell(error: unknown, io: Io): ExitStatus {
  if (error instanceof TrundleError) {
    // A name with a line end in it could pass for a line of ours.
    io.err(`trundle: ${printable(error.message)} [${error.code}]\n`);
    return error.exitStatus;
  }
  if (error instanceof Error && error.name === 'CLIError') {
    io.err(`trundle: ${error.message}. See --help. [argument-invalid]\n`);
    return EXIT.wrongArguments;
  }
  if (isWantOfMemory(error)) {
    io.err(
      'trundle: This machine ran out of memory; close other programs, or measure a shorter part with --in and --out. [memory-short]\n',
    );
    return ERROR_STATUS['memory-short'];
  }
  // Errors of workers carry where they arose, line by line; that is for TRUNDLE_DEBUG.
  const [message] = (error instanceof Error ? error.message : String(error)).split('\n');
  io.err(
    `trundle: a fault of the program, not of your clip: ${printable(message)} [fault]\nSet TRUNDLE_DEBUG=1 and run again to see where.\n`,
  );
  if (process.env['TRUNDLE_DEBUG'] && error instanceof Error) io.err(`${error.stack ?? ''}\n`);
  return EXIT.fault;
}

/** What Node says where an array has no room. */
function isWantOfMemory(error: unknown): boolean {
  return error instanceof RangeError && /allocation failed/.test(error.message);
}
