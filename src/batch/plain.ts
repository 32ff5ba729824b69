/** The part that loads nothing of the line: processes that work, and the side of them that takes the task. */
export { serveWork, type ReadyMessage, type ToWorker } from './serve-work.js';
export { WorkProcess, workerBeside, type WorkMeans, type WorkerEnd } from './work-process.js';
