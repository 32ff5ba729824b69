/** What a person does to jobs: stop, take off the list, try again. The list itself comes from the server's events. */
import { signal } from '@preact/signals';
import type { Job, JobOrder } from '../../api.js';
import { problemOf, sendJson } from '../api-client.js';
import { ordered } from './ordered.js';

/** Why the last of these could not be done, in a sentence; null when it could. */
export const orderFault = signal<string | null>(null);

/** Stops a job that waits or runs; one that has ended goes off the list. */
export function removeJob({ id }: Job): void {
  void told(() => sendJson('DELETE', `/api/jobs/${id}`));
}

/** Orders the same measurement again; the failed one goes off the list. Proofs are ordered at their run. */
export function tryAgain({ id, clip, settings }: Job & { readonly clip: string }): void {
  const order: JobOrder = { kind: 'measure', clip, settings };
  void told(async () => {
    const job = await sendJson<Job>('POST', '/api/jobs', order);
    ordered.value = [job.id];
    await sendJson('DELETE', `/api/jobs/${id}`);
  });
}

async function told(work: () => Promise<unknown>): Promise<void> {
  orderFault.value = null;
  try {
    await work();
  } catch (error) {
    const { status, detail } = problemOf(error);
    // Whatever is no longer there need not be removed.
    if (status !== 404) orderFault.value = detail;
  }
}
