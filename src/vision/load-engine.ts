/**
 * Starts OpenCV.js in this thread.
 *
 * The module object has a `then` of its own that resolves to the module again: awaiting it, or returning it from an
 * async function, never settles and starves the thread. It therefore travels in a box, and it is required rather than
 * imported, because module loaders that look through a default export await it too.
 */
import { createRequire } from 'node:module';
import { assert } from '../run/plain.js';
import { ENGINE_FUNCTIONS, type Engine } from './engine.js';

/** The engine in a box that a promise can carry. */
export interface EngineBox {
  readonly engine: Engine;
}

/** Events on which OpenCV.js hangs handlers that would swallow or rewrite the failures of the whole program. */
const HIJACKED_EVENTS = ['uncaughtException', 'unhandledRejection'] as const;

/** Takes away the process handlers that came with the module and leaves all others. */
function dropForeignHandlers(): void {
  for (const event of HIJACKED_EVENTS) {
    for (const listener of process.listeners(event as 'uncaughtException')) {
      const source = Function.prototype.toString.call(listener);
      if (source.includes('ExitStatus') || source.startsWith('function abort(')) {
        process.removeListener(event, listener);
      }
    }
  }
}

/** Resolves when the WebAssembly of the module is ready. @throws Error when the binary lacks a function that is used */
export function loadEngine(): Promise<EngineBox> {
  const require = createRequire(import.meta.url);
  const startable = require('@techstark/opencv-js') as Engine & { onRuntimeInitialized?: () => void };
  return new Promise<EngineBox>((resolve, reject) => {
    const finish = (): void => {
      try {
        dropForeignHandlers();
        for (const name of ENGINE_FUNCTIONS) {
          assert(typeof startable[name] === 'function', `OpenCV.js lacks ${name}`);
        }
        resolve({ engine: startable });
      } catch (error) {
        reject(error instanceof Error ? error : new Error(String(error)));
      }
    };
    // The class table appears only when the runtime is up; a second start in one thread finds it there.
    if (typeof startable.Mat === 'function') finish();
    else startable.onRuntimeInitialized = finish;
  });
}
