/** The sheet of a run in the log: what was written and not saved is not lost by going back or by a reload. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runSheetTexts, webLogTexts } from '../../../src/texts/index.js';
import { openWatched, type Shared, type WatchedPage } from '../support/watched-page.js';

export function writing(shared: Shared): void {
  describe('the sheet of a run', () => {
    let watched: WatchedPage;
    let page: Page;
    beforeAll(async () => {
      watched = await openWatched(shared, { path: '/log' });
      page = watched.page;
    });
    afterAll(() => watched.close());

    const operator = () => page.getByRole('dialog').getByLabel(runSheetTexts.names.operator);
    const open = (run: number) => page.getByRole('button', { name: webLogTexts.editOf(run) }).click();

    it('keeps what was not saved when one goes back, says so, and shows it again', async () => {
      const [run] = shared.served.madeUp;
      await open(run);
      await operator().fill('second unit');
      await page.goBack();
      await page.getByText(webLogTexts.draftKept(run)).waitFor();
      expect(await page.getByRole('dialog').count()).toBe(0);
      await open(run);
      await page.getByText(webLogTexts.draftBack).waitFor();
      expect(await operator().inputValue()).toBe('second unit');
    });

    it('keeps it over a reload, and lets it go when one says so', async () => {
      const [run] = shared.served.madeUp;
      await page.reload();
      expect(await operator().inputValue()).toBe('second unit');
      await page.keyboard.press('Escape');
      await page.getByRole('button', { name: webLogTexts.leave, exact: true }).click();
      await open(run);
      expect(await operator().inputValue()).toBe('');
      expect(watched.noise).toEqual([]);
    });
  });
}
