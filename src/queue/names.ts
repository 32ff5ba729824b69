/** What the things of one queue are called in Redis. */
import { TrundleError } from '../run/index.js';

/** What every key of the engine begins with. */
export const PREFIX = 'trundle';
/** Name of the queue unless another one is asked for. */
export const USUAL_QUEUE = 'clips';

/** What comes first, small numbers first: a long clip that is begun is brought to its end before others, so that few records wait. */
export const PRIORITY = { begun: 1, clip: 2 } as const;

/** The name as it was asked for. @throws TrundleError `argument-invalid` */
export function queueNameOf(given: string = USUAL_QUEUE): string {
  if (/^[a-z\d][a-z\d_-]{0,39}$/i.test(given)) return given;
  throw new TrundleError(
    'argument-invalid',
    `"--queue ${given}" must be a short name of letters, figures and dashes, like ${USUAL_QUEUE}.`,
  );
}

/** The hash of what was measured and not collected yet, by the keys of jobs. */
export function resultsKey(queue: string): string {
  return `${PREFIX}-measured:${queue}`;
}

/** The hash of the records of a clip's stretches, by the key of its job. */
export function stretchesKey(queue: string, clipJob: string): string {
  return `${PREFIX}-stretches:${queue}:${clipJob}`;
}

/** The job of the clip that a job of a stretch belongs to; that of a clip itself. */
export function clipJobOf(job: string): string {
  return job.replace(/-\d+$/, '');
}

/** The job of a stretch: the same for everybody who orders it. */
export function stretchJobId(clipJob: string, number: number): string {
  return `${clipJob}-${number}`;
}
