/** Failures of one clip among many, as they pass from the process that met them to whoever lists them. */
import { ERROR_STATUS, EXIT, TrundleError, type ErrorCode, type ExitStatus } from '../run/index.js';
import { batchTexts } from '../texts/index.js';

/** A failure with its sentence. */
export interface ClipFailure {
  /** A code of `TrundleError`; `worker-died` and `fault` where it is none. */
  readonly code: ErrorCode | 'worker-died' | 'fault';
  /** One plain sentence. */
  readonly sentence: string;
  /** The exit status of the program that it stands for. */
  readonly status: ExitStatus;
}

/** What an error stands for. */
export function failureOf(error: unknown): ClipFailure {
  if (error instanceof TrundleError)
    return { code: error.code, sentence: error.message, status: error.exitStatus };
  // What Node says where an array has no room.
  if (error instanceof RangeError && /allocation failed/.test(error.message))
    return { code: 'memory-short', sentence: batchTexts.memoryShort, status: ERROR_STATUS['memory-short'] };
  const [message] = (error instanceof Error ? error.message : String(error)).split('\n');
  return { code: 'fault', sentence: batchTexts.fault(message), status: EXIT.fault };
}

/** The failure of a process that ended without a word. @param mute whether it never said any */
export function workerDied(mute: boolean): ClipFailure {
  return {
    code: 'worker-died',
    sentence: mute ? batchTexts.workerMute : batchTexts.workerDied,
    status: EXIT.fault,
  };
}
