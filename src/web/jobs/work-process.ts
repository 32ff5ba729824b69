/** The worker processes of the queue. */
import { WorkProcess, workerBeside, type WorkMeans } from '../../batch/plain.js';
import type { FromWorker, Task } from './protocol.js';

/** How a worker is started and ended; tests of the queue itself give another entry. */
export type WorkerMeans = Partial<WorkMeans>;

/** A running worker of the queue. */
export type JobProcess = WorkProcess<Task, FromWorker>;

/** Starts a worker with its task. @param onMessage told everything but the first sign of life */
export function startWorker(
  task: Task,
  onMessage: (message: FromWorker) => void,
  means: WorkerMeans,
): JobProcess {
  return new WorkProcess(task, onMessage, { url: workerBeside('worker', import.meta.url), ...means });
}
