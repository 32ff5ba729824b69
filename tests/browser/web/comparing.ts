/** Runs of the log against each other. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { webComparisonTexts, webLogTexts } from '../../../src/texts/index.js';
import type { ComparisonParts, RunList } from '../../../src/web/api.js';
import { openWatched, type Shared, type WatchedPage } from '../support/watched-page.js';

export function comparing(shared: Shared): void {
  describe('runs of the log', () => {
    let watched: WatchedPage;
    let page: Page;
    beforeAll(async () => {
      watched = await openWatched(shared, { path: '/log' });
      page = watched.page;
    });
    afterAll(() => watched.close());

    /** Ticks runs of the log, and no others. */
    async function tick(...runs: readonly number[]): Promise<void> {
      const { runs: rows } = await shared.served.get<RunList>('/api/runs');
      for (const { id, clipFile } of rows)
        await page
          .getByRole('checkbox', { name: webLogTexts.select(id, clipFile), exact: true })
          .setChecked(runs.includes(id));
      await page.getByText(webLogTexts.selected(runs.length, 0)).waitFor();
    }

    it('are compared when two of them are ticked, with charts that can be read off', async () => {
      const { madeUp, get } = shared.served;
      await tick(madeUp[0], madeUp[1]);
      await page.getByRole('button', { name: webLogTexts.compare, exact: true }).click();
      await page.waitForURL(/\/compare\?/);
      const { body } = await get<ComparisonParts>(`/api/comparison?runs=${madeUp[0]},${madeUp[1]}`);
      const sentence = page.getByRole('main').getByRole('heading', { level: 1 });
      await sentence.getByText(/"soft tyres" is smoother on this lane: tilt RMS 0\.\d+/).waitFor();
      expect(body).toContain(await sentence.innerHTML().then((markup) => markup.replace(/"/g, '&quot;')));
      const chart = page.getByRole('main').getByRole('slider').first();
      await chart.scrollIntoViewIfNeeded();
      const before = await chart.getAttribute('aria-valuetext');
      await chart.focus();
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('ArrowRight');
      expect(await chart.getAttribute('aria-valuetext')).not.toBe(before);
      expect(await page.getByRole('link', { name: webComparisonTexts.run(madeUp[0]) }).isVisible()).toBe(
        true,
      );
    });

    it('are found by words, and lanes of one setup make a plan', async () => {
      const { madeUp } = shared.served;
      await page.getByRole('link', { name: webComparisonTexts.toLog }).click();
      await tick(madeUp[1], madeUp[2]);
      await page.getByRole('searchbox', { name: webLogTexts.search }).fill('hard');
      await page.getByText(webLogTexts.shown(2, madeUp.length + 1)).waitFor();
      await page.getByRole('button', { name: webLogTexts.lanePlan }).click();
      await page.waitForURL(/[?&]by=lane/);
      await page.locator('figure.lanes svg:visible').waitFor();
      expect(await page.locator('figure.lanes').textContent()).toMatch(/Lane|lane/);
      expect(watched.noise).toEqual([]);
    });
  });
}
