/** Measures a clip, or a stretch of one, in a process of its own, so that a crash costs one job and the worker can speak for it meanwhile. */
import { WorkProcess, workerBeside, type WorkMeans } from '../batch/plain.js';
import { ERROR_STATUS, TrundleError, type ErrorCode } from '../run/index.js';
import type { FromMeasuring, MeasureOrder } from './protocol.js';

/** What came of it. */
export type Done = Extract<FromMeasuring, { kind: 'done' | 'stretch' }>;

/**
 * Measures it.
 *
 * @param means how the process is started; for tests
 * @throws TrundleError as `measure`; `worker-ended` where the process ended without a word; `interrupted`
 */
export async function measureApart(
  task: MeasureOrder,
  onProgress: (progress: Extract<FromMeasuring, { kind: 'progress' }>) => void,
  signal: AbortSignal,
  means: Partial<WorkMeans> = {},
): Promise<Done> {
  let last: Exclude<FromMeasuring, { kind: 'progress' }> | null = null;
  const work = new WorkProcess<MeasureOrder, FromMeasuring>(
    task,
    (message) => {
      if (message.kind === 'progress') onProgress(message);
      else last = message;
    },
    { url: workerBeside('measuring', import.meta.url), ...means },
  );
  const stop = (): void => work.stop();
  signal.addEventListener('abort', stop, { once: true });
  if (signal.aborted) stop();
  await work.ended;
  signal.removeEventListener('abort', stop);
  return outcome(last, task.order.name, signal);
}

function outcome(
  last: Exclude<FromMeasuring, { kind: 'progress' }> | null,
  name: string,
  signal: AbortSignal,
): Done {
  if (last?.kind === 'done' || last?.kind === 'stretch') return last;
  if (signal.aborted) throw new TrundleError('interrupted', `Stopped while "${name}" was measured.`);
  if (last === null)
    throw new TrundleError(
      'worker-ended',
      `The process that measured "${name}" ended without a word, as when a machine runs out of memory.`,
    );
  if (last.code !== null && isCode(last.code)) throw new TrundleError(last.code, last.message);
  throw new Error(last.message);
}

function isCode(code: string): code is ErrorCode {
  return Object.hasOwn(ERROR_STATUS, code);
}
