/** Short sentences that are shown for a while and read out by screen readers: what was just done. */
import { signal } from '@preact/signals';

/** The sentence that is shown; empty for none. */
export const notice = signal('');

/** Long enough to read two lines standing up, ms. */
const SHOWN_MS = 8000;

let timer: ReturnType<typeof setTimeout> | undefined;

/** Shows a sentence in the place of the one before. */
export function tell(sentence: string): void {
  clearTimeout(timer);
  notice.value = sentence;
  timer = setTimeout(() => (notice.value = ''), SHOWN_MS);
}
