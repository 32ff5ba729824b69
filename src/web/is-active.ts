/** Whether a job waits or runs; server and page ask alike. */
import type { Job } from './api.js';

/** True while something is still to come of a job. */
export function isActive({ state }: Pick<Job, 'state'>): boolean {
  return state === 'queued' || state === 'running';
}
