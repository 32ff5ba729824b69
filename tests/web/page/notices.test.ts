/** Short sentences come and go. */
import type { Signal } from '@preact/signals';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';

/** Works on a window, which is made up below; its types are those of a browser. */
const { notice, tell } = (await import(
  new URL('../../../src/web/page/notices.ts', import.meta.url).href
)) as { notice: Signal<string>; tell: (sentence: string) => void };

const window = new EventTarget();

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal('addEventListener', window.addEventListener.bind(window));
  vi.stubGlobal('removeEventListener', window.removeEventListener.bind(window));
});
afterEach(() => {
  vi.runAllTimers();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe('a notice', () => {
  it('goes after five seconds, a later one five seconds after it came', () => {
    tell('Sheet of run 3 saved.');
    vi.advanceTimersByTime(4000);
    tell('1 run removed.');
    vi.advanceTimersByTime(4900);
    expect(notice.value).toBe('1 run removed.');
    vi.advanceTimersByTime(200);
    expect(notice.value).toBe('');
  });

  it.each(['pointerdown', 'keydown'])('goes with the next action: %s', (action) => {
    tell('Sheet of run 3 saved.');
    expect(notice.value).toBe('Sheet of run 3 saved.');
    window.dispatchEvent(new Event(action));
    expect(notice.value).toBe('');
  });
});
