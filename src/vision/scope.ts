/** Lifetimes of Mats: whatever a scope keeps is deleted when the scope ends, also by an exception. */
import type { Engine, Mat } from './engine.js';

/** Hands a Mat to the scope, which deletes it at the end, and gives it back. */
export type Keep = <T extends Pick<Mat, 'delete'>>(mat: T) => T;

/**
 * Runs `work` and deletes everything it kept. Failures inside the engine arrive as bare numbers
 * (addresses of C++ exceptions) and leave as Errors with the engine's message. The engine does not free what it held
 * itself when it failed, so such failures must stay rare: arguments are checked before it is called.
 */
export function withMats<R>(engine: Engine, work: (keep: Keep) => R): R {
  const kept: Pick<Mat, 'delete'>[] = [];
  const keep: Keep = (mat) => {
    kept.push(mat);
    return mat;
  };
  try {
    return work(keep);
  } catch (error) {
    throw asError(engine, error);
  } finally {
    for (const mat of kept) mat.delete();
  }
}

function asError(engine: Engine, error: unknown): Error {
  if (error instanceof Error) return error;
  if (typeof error === 'number') return new Error(`OpenCV.js: ${engine.exceptionFromPtr(error).msg}`);
  return new Error(`OpenCV.js: ${String(error)}`);
}
