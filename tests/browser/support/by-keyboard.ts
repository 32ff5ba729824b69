/** Walks the page by Tab and looks at each stop whether one can see where one is. */
import type { Page } from 'playwright-core';
import { expect } from 'vitest';

interface Stop {
  readonly name: string;
  readonly isMarked: boolean;
  readonly isInSight: boolean;
}

/** What has the focus: its name, an outline that is drawn around it, and whether it lies within the window. */
const STOP = `(() => {
  const e = document.activeElement;
  const own = e.getAttribute('aria-label') ?? e.labels?.[0]?.innerText ?? e.innerText ?? '';
  const marked = (one) => {
    const { outlineStyle, outlineWidth } = getComputedStyle(one);
    return outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2;
  };
  const box = e.getBoundingClientRect();
  return {
    name: own.trim().slice(0, 40) || e.outerHTML.slice(0, 80),
    // The button within a field for a day is the browser's own, and marked by it.
    isMarked: e === document.body || marked(e) || (e.type === 'date' && !e.matches(':focus')) || (e.closest('label') !== null && marked(e.closest('label'))),
    isInSight: e === document.body || (box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth),
  };
})()`;

/** More stops than any view has. */
const MOST_STOPS = 150;

/**
 * Presses Tab until the control of a name has the focus; fails where a stop on the way cannot be seen, or there is no such control.
 * @param name whole, or a part by a pattern
 */
export async function tabTo(
  page: Page,
  name: string | RegExp,
  key: 'Tab' | 'Shift+Tab' = 'Tab',
): Promise<void> {
  const seen: string[] = [];
  for (let i = 0; i < MOST_STOPS; i++) {
    await page.keyboard.press(key);
    const stop = await page.evaluate<Stop>(STOP);
    expect(stop, `the focus can be seen on ${stop.name}`).toMatchObject({ isMarked: true, isInSight: true });
    if (typeof name === 'string' ? stop.name === name : name.test(stop.name)) return;
    seen.push(stop.name);
  }
  expect.fail(`Tab does not come to ${String(name)}, but to ${JSON.stringify(seen)}`);
}
