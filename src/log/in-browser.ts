/** What of the log a page in the browser knows: the shape of its rows, no more. */
export type { LogRow } from './types.js';
