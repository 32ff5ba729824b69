/** What the things of one queue are called in Redis. */
import { TrundleError } from '../run/index.js';

/** What every key of the engine begins with. */
export const PREFIX = 'trundle';
/** Name of the queue unless another one is asked for. */
export const USUAL_QUEUE = 'clips';

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
