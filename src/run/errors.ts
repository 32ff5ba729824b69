/**
 * Failures a user can meet, each with a stable code, an exit status and one plain sentence.
 *
 * A wrong call from code is a TypeError or RangeError; a broken invariant is an `assert`; a weak measurement
 * is no error at all but a result that says so.
 */

/** Exit statuses of the program: stable, documented in the README. */
export const EXIT = {
  measured: 0,
  verdictReached: 1,
  wrongArguments: 2,
  clipUnusable: 3,
  unmeasurable: 4,
  fault: 70,
  interrupted: 130,
} as const;

export type ExitStatus = (typeof EXIT)[keyof typeof EXIT];

/** Stable codes of input failures; each belongs to one exit status. */
export const ERROR_STATUS = {
  'argument-unknown': EXIT.wrongArguments,
  'argument-invalid': EXIT.wrongArguments,
  'rig-invalid': EXIT.wrongArguments,
  'rig-unreadable': EXIT.wrongArguments,
  'delivery-invalid': EXIT.wrongArguments,
  'delivery-unreadable': EXIT.wrongArguments,
  'motion-log-invalid': EXIT.wrongArguments,
  'motion-log-unreadable': EXIT.wrongArguments,
  'range-invalid': EXIT.wrongArguments,
  'run-invalid': EXIT.wrongArguments,
  'run-unreadable': EXIT.wrongArguments,
  'stretch-unreadable': EXIT.wrongArguments,
  'clip-missing': EXIT.clipUnusable,
  'clip-unreadable': EXIT.clipUnusable,
  'clip-no-video': EXIT.clipUnusable,
  'clip-too-short': EXIT.clipUnusable,
  'clip-unsupported': EXIT.clipUnusable,
  'clip-changed': EXIT.clipUnusable,
  'ffmpeg-missing': EXIT.clipUnusable,
  'ffmpeg-broke-off': EXIT.clipUnusable,
  'decode-failed': EXIT.clipUnusable,
  'board-not-found': EXIT.clipUnusable,
  'board-views-few': EXIT.clipUnusable,
  'board-views-flat': EXIT.clipUnusable,
  'board-fit-poor': EXIT.clipUnusable,
  'proof-impossible': EXIT.unmeasurable,
  'output-unwritable': EXIT.wrongArguments,
  'no-browser': EXIT.wrongArguments,
  'port-taken': EXIT.wrongArguments,
  'page-missing': EXIT.wrongArguments,
  'data-in-use': EXIT.wrongArguments,
  'log-damaged': EXIT.wrongArguments,
  'log-newer': EXIT.wrongArguments,
  'log-busy': EXIT.wrongArguments,
  'log-unwritable': EXIT.wrongArguments,
  'log-entry-unknown': EXIT.wrongArguments,
  'log-entry-unreadable': EXIT.wrongArguments,
  'queue-engine-missing': EXIT.wrongArguments,
  'queue-unreachable': EXIT.wrongArguments,
  'queue-unfit': EXIT.wrongArguments,
  'queue-full': EXIT.wrongArguments,
  'order-unreadable': EXIT.wrongArguments,
  'result-unreadable': EXIT.wrongArguments,
  'result-too-large': EXIT.wrongArguments,
  'place-not-allowed': EXIT.clipUnusable,
  'clip-not-fetched': EXIT.clipUnusable,
  'worker-ended': EXIT.fault,
  'memory-short': EXIT.fault,
  interrupted: EXIT.interrupted,
} as const satisfies Record<string, ExitStatus>;

export type ErrorCode = keyof typeof ERROR_STATUS;

/** An input failure: what is wrong, where, and what to do, in one sentence. */
export class TrundleError extends Error {
  override readonly name = 'TrundleError';
  readonly code: ErrorCode;

  /**
   * @param code stable code, see ERROR_STATUS
   * @param message one plain sentence for the person at the terminal
   */
  constructor(code: ErrorCode, message: string, options?: ErrorOptions) {
    super(message, options);
    this.code = code;
  }

  /** The program's exit status for this failure. */
  get exitStatus(): ExitStatus {
    return ERROR_STATUS[this.code];
  }
}

/** Throws unless `condition` holds; for invariants of our own code, never for input. */
export function assert(condition: unknown, message: string): asserts condition {
  if (!condition) throw new Error(`Broken invariant: ${message}`);
}
