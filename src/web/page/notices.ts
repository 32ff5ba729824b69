/** Short sentences that are shown for a while and read out by screen readers: what was just done. */
import { signal } from '@preact/signals';

/** The sentence that is shown; empty for none. */
export const notice = signal('');

/** Long enough to read two lines standing up, ms. */
const SHOWN_MS = 5000;

const ACTIONS = ['pointerdown', 'keydown'] as const;

let timer: ReturnType<typeof setTimeout> | undefined;

/** Shows a sentence in the place of the one before, until it has been read or one does something else. */
export function tell(sentence: string): void {
  clearTimeout(timer);
  notice.value = sentence;
  timer = setTimeout(end, SHOWN_MS);
  for (const name of ACTIONS) addEventListener(name, end, { capture: true });
}

function end(): void {
  clearTimeout(timer);
  for (const name of ACTIONS) removeEventListener(name, end, { capture: true });
  notice.value = '';
}
