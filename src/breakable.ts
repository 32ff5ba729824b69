/** Lets Ctrl-C end long calculations at once, which do not look up from their work while they last. */
// eslint-disable-next-line trundle/programs -- its one text is the constant below
import { Script } from 'node:vm';
import { TrundleError } from './run/index.js';

const PLACE = 'trundle.calculation';
/** The one thing that Node lets an interrupt break off is a script of its own; so the work is called from one. */
const CALL = new Script(`globalThis[Symbol.for('${PLACE}')]()`, { filename: 'calculation' });

/**
 * Does the work. An interrupt (SIGINT) that comes meanwhile ends it where it is, in a program that answers to interrupts at all; other
 * wishes to stop are heard when it is done.
 *
 * @param what is being worked on, for the sentence
 * @returns what the work gives
 * @throws TrundleError 'interrupted'; what the work throws
 */
export async function breakable<T>(what: string, signal: AbortSignal | undefined, work: () => T): Promise<T> {
  const result = untilInterrupted(what, work);
  // Signals that came meanwhile are delivered now.
  await new Promise((resolve) => setImmediate(resolve));
  if (signal?.aborted) throw stopped(what);
  return result;
}

function stopped(what: string, options?: ErrorOptions): TrundleError {
  return new TrundleError('interrupted', `Stopped on request while measuring "${what}".`, options);
}

function untilInterrupted<T>(what: string, work: () => T): T {
  if (process.listenerCount('SIGINT') === 0) return work();
  let result: { readonly value: T } | null = null;
  const shared = globalThis as unknown as Record<symbol, (() => void) | undefined>;
  const before = shared[Symbol.for(PLACE)];
  shared[Symbol.for(PLACE)] = () => {
    result = { value: work() };
  };
  try {
    CALL.runInThisContext({ breakOnSigint: true });
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code !== 'ERR_SCRIPT_EXECUTION_INTERRUPTED') throw cause;
    throw stopped(what, { cause });
  } finally {
    shared[Symbol.for(PLACE)] = before;
  }
  return (result as unknown as { readonly value: T }).value;
}
