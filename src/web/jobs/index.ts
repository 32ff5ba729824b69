/** The queue of measurements and proofs behind the local page, each in a process of its own. */
export { openJobs, type JobQueue, type SetupMemory } from './job-queue.js';
export { jobRoutes } from './routes.js';
export type { WorkerMeans } from './work-process.js';
