/** Whether the program answers and lets this page in. Once it does not let it in any more, nothing here can change that. */
import { signal } from '@preact/signals';

/** open: it answers; lost: it does not, and is asked again; refused: it was started anew and knows this page no more. */
export type Connection = 'open' | 'lost' | 'refused';

/** How it stands. */
export const connection = signal<Connection>('open');

/** Notes what was found; who was refused stays so until the page is opened with its new address. */
export function noteConnection(found: Connection): void {
  if (connection.peek() !== 'refused') connection.value = found;
}
