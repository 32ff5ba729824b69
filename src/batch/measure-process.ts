/** Measures a clip in a process of its own, so that several are measured at once and none can take the others with it. */
import path from 'node:path';
import { clearLeft } from '../files/index.js';
import type { Stage } from '../measure-request.js';
import type { Running } from './batch.js';
import { workerDied } from './failure.js';
import type { FromMeasuring, MeasureOrder } from './protocol.js';
import { WorkProcess, workerBeside, type WorkMeans } from './work-process.js';

/** Started from source, from its build, or by a test in another way. */
const WORKER_URL = workerBeside('worker', import.meta.url);

/** Starts the measurement. @param means other than the usual ones, for tests */
export function startMeasuring(
  order: MeasureOrder,
  onProgress: (stage: Stage, done: number, total: number | null) => void,
  means: Partial<WorkMeans> = {},
): Running {
  let last: Exclude<FromMeasuring, { kind: 'progress' }> | null = null;
  const worker = new WorkProcess<MeasureOrder, FromMeasuring>(
    order,
    (message) => {
      if (message.kind === 'progress') onProgress(message.stage, message.done, message.total);
      else last = message;
    },
    { url: WORKER_URL, ...means },
  );
  return {
    ended: worker.ended.then(async ({ mute }): ReturnType<typeof endOf> => {
      if (last?.kind !== 'done') await clearLeft(path.dirname(path.resolve(order.folder)));
      return endOf(last, mute);
    }),
    stop: () => worker.stop(),
  };
}

function endOf(last: Exclude<FromMeasuring, { kind: 'progress' }> | null, mute: boolean): Running['ended'] {
  if (last === null) return Promise.resolve({ kind: 'failed', failure: workerDied(mute) });
  return Promise.resolve(last.kind === 'done' ? { kind: 'measured', measured: last.measured } : { ...last });
}
