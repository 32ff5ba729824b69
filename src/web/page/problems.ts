/** What can be done about a failure, and who tells it. Pure functions. */
import type { Problem } from '../api.js';
import type { Connection } from './connection.js';

/** Whether the same question may be answered another time: not where access is refused or there is nothing. */
export function mayHelpAgain({ status }: Pick<Problem, 'status'>): boolean {
  return ![401, 403, 404].includes(status);
}

/** Whether the frame of the page says already why nothing is answered. */
export function isToldByFrame(
  { status, code }: Pick<Problem, 'status' | 'code'>,
  connection: Connection,
): boolean {
  return status === 401 || (code === 'no-server' && connection !== 'open');
}
