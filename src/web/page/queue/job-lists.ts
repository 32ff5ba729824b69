/** Jobs by what they are at, and what of them has ended since one last looked. */
import type { Job } from '../../api.js';
import { isActive } from '../../is-active.js';

/** Jobs in the order they are shown in. */
export interface JobLists {
  readonly running: readonly Job[];
  /** Next first. */
  readonly queued: readonly Job[];
  /** Newest first. */
  readonly ended: readonly Job[];
}

/** Sorts them. */
export function jobLists(jobs: readonly Job[]): JobLists {
  const inState = (...states: readonly Job['state'][]): Job[] =>
    jobs.filter(({ state }) => states.includes(state));
  return {
    running: inState('running'),
    queued: inState('queued').sort((a, b) => a.ahead - b.ahead),
    ended: inState('done', 'failed', 'cancelled').sort((a, b) =>
      (b.endedAt ?? '').localeCompare(a.endedAt ?? ''),
    ),
  };
}

/** The job of the last order that is worth telling of: the last of them, once all have ended; null before. */
export function endedOrder(ordered: readonly string[], jobs: readonly Job[]): Job | null {
  const found = ordered.flatMap((id) => jobs.find((job) => job.id === id) ?? []);
  return !found.some(isActive) && found.length === ordered.length ? (found.at(-1) ?? null) : null;
}
