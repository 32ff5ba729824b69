/** What can be done about a failure. Pure function. */
import type { Problem } from '../api.js';

/** Whether the same question may be answered another time: not where access is refused or there is nothing. */
export function mayHelpAgain({ status }: Pick<Problem, 'status'>): boolean {
  return ![401, 403, 404].includes(status);
}
