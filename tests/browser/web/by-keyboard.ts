/** The whole way without a pointer, and the keys that editors know. */
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  frameTexts,
  playerTexts,
  settingTexts,
  settingsFormTexts,
  startTexts,
  trimTexts,
  webLogTexts,
  workTexts,
} from '../../../src/texts/index.js';
import type { StoredRun } from '../../../src/web/api.js';
import { tabTo } from '../support/by-keyboard.js';
import { CLIP } from '../support/served-page.js';
import { patiently } from '../support/patiently.js';
import { openWatched, type Shared, type WatchedPage } from '../support/watched-page.js';

/** A process has to start or to end, on a busy machine. */
const PROCESS_MS = 60_000;

export function byKeyboard(shared: Shared): void {
  describe('the keyboard alone', () => {
    let watched: WatchedPage;
    let page: Page;
    let stored: StoredRun;
    const press = async (...keys: readonly string[]): Promise<void> => {
      for (const key of keys) await page.keyboard.press(key);
    };
    /** The keys must be nobody's but the view's. */
    const leaveControl = (): Promise<void> => page.evaluate<void>('document.activeElement.blur()');
    const dialog = (): Locator => page.getByRole('dialog');

    beforeAll(async () => {
      stored = await shared.served.measured();
      watched = await openWatched(shared);
      page = watched.page;
      await page.getByRole('button', { name: startTexts.fromFolder }).and(page.locator(':enabled')).waitFor();
    });
    afterAll(() => watched.close());

    it('brings a clip from a folder', async () => {
      await tabTo(page, startTexts.fromFolder);
      await press('Enter');
      await dialog().getByRole('heading', { name: startTexts.folderTitle }).waitFor();
      await dialog().getByRole('checkbox', { name: CLIP }).waitFor();
      await tabTo(page, new RegExp(`^${CLIP}`));
      await press('Space');
      await tabTo(page, startTexts.add(1));
      await press('Enter');
      await dialog().waitFor({ state: 'detached' });
      await page.getByRole('slider', { name: trimTexts.playhead }).waitFor();
    });

    it('drives the trimmer', async () => {
      const at = async (name: string): Promise<number> =>
        Number(await page.getByRole('slider', { name, exact: true }).getAttribute('aria-valuenow'));
      const head = (): Promise<number> => at(trimTexts.playhead);
      await leaveControl();
      await press('ArrowRight', 'ArrowRight', 'ArrowLeft', 'Shift+ArrowRight');
      expect(await head()).toBe(26);
      await press('Shift+ArrowLeft', 'i');
      expect([await head(), await at(trimTexts.inHandle)]).toEqual([1, 1]);
      await press('End', 'ArrowLeft', 'o');
      // Out is the first frame left out.
      expect([await head(), await at(trimTexts.outHandle)]).toEqual([148, 149]);
      await press('Home');
      expect(await head()).toBe(0);
      for (const [play, stop] of [
        ['Space', 'k'],
        ['k', 'Space'],
        ['l', 'k'],
      ]) {
        const before = await head();
        await press(play);
        await patiently(head).toBeGreaterThan(before);
        await press(stop);
        await page.getByRole('button', { name: trimTexts.play, exact: true }).waitFor();
      }
      await press('End', 'j');
      await patiently(head).toBeLessThan(149);
      await press('j');
      await page.getByText(trimTexts.shuttle(-2), { exact: true }).waitFor();
      await press('k');
      await tabTo(page, trimTexts.inHandle, 'Shift+Tab');
      await press('ArrowRight', 'Shift+ArrowRight');
      expect(await at(trimTexts.inHandle)).toBe(27);
    });

    it('lists its keys on "?", and Esc closes the list', async () => {
      await leaveControl();
      await press('?');
      await dialog().getByText(trimTexts.keys.shuttle).waitFor();
      // What lies under the list does not hear them.
      await press('o', 'Escape');
      await dialog().waitFor({ state: 'detached' });
      expect(await page.getByLabel(trimTexts.out, { exact: true }).inputValue()).toBe('00:00:05:24');
    });

    it('types into fields without driving anything', async () => {
      const typed = 'k j l i o ? 1 2 3';
      const head = page.getByRole('slider', { name: trimTexts.playhead });
      const before = await head.getAttribute('aria-valuenow');
      const points = (): Promise<string[]> =>
        Promise.all(
          [trimTexts.in, trimTexts.out].map((name) => page.getByLabel(name, { exact: true }).inputValue()),
        );
      const pointsBefore = await points();
      await tabTo(page, new RegExp(`^${settingsFormTexts.groups.sheet}`));
      await press('Enter');
      await tabTo(page, settingTexts.labels.setup);
      await page.keyboard.type(typed);
      await press('Home', 'End', 'ArrowLeft', 'ArrowRight');
      expect(await page.getByLabel(settingTexts.labels.setup, { exact: true }).inputValue()).toBe(typed);
      expect(await head.getAttribute('aria-valuenow')).toBe(before);
      expect(await points()).toEqual(pointsBefore);
      expect(await dialog().count()).toBe(0);
    });

    it(
      'orders the measurement and stops it again',
      async () => {
        await tabTo(page, startTexts.measure(1));
        await press('Enter');
        await page.waitForURL('**/work');
        await page.getByRole('progressbar', { name: workTexts.progressOf(CLIP) }).waitFor();
        await tabTo(page, workTexts.cancelOf(CLIP));
        await press('Enter');
        await page.getByText(workTexts.cancelled, { exact: true }).waitFor({ timeout: PROCESS_MS });
      },
      2 * PROCESS_MS,
    );

    it('goes by the log to a result, drives its player, and back to the start', async () => {
      await tabTo(page, frameTexts.views.log, 'Shift+Tab');
      await press('Enter');
      await page.getByRole('link', { name: CLIP, exact: true }).waitFor();
      await tabTo(page, CLIP);
      await press('Enter');
      await page.waitForURL(`**/runs/${stored.row.id}`);
      const scrubber = page.getByLabel(playerTexts.scrubber, { exact: true });
      await scrubber.waitFor();
      await patiently(() => scrubber.getAttribute('max')).toBe('74');
      const frame = async (): Promise<number> => Number(await scrubber.inputValue());
      await leaveControl();
      await press('ArrowRight', 'ArrowRight', 'ArrowLeft');
      await patiently(frame).toBe(1);
      await press('End');
      await patiently(frame).toBe(74);
      await press('Home');
      await patiently(frame).toBe(0);
      for (const [play, stop] of [
        ['Space', 'k'],
        ['k', 'Space'],
        ['l', 'k'],
      ]) {
        await press('Home', play);
        await patiently(frame).toBeGreaterThan(2);
        await press(stop);
        await page.getByRole('button', { name: playerTexts.play, exact: true }).waitFor();
      }
      await press('End', 'j');
      await patiently(frame).toBeLessThan(72);
      await press('k');
      const views = page.getByRole('group', { name: playerTexts.views });
      for (const [key, name] of [
        ['2', playerTexts.stabilised],
        ['3', playerTexts.both],
        ['1', playerTexts.shot],
      ]) {
        await press(key);
        await views.getByRole('button', { name, exact: true, pressed: true }).waitFor();
      }
      await press('?');
      await dialog().getByText(playerTexts.shuttleOn).waitFor();
      await press('Escape');
      await dialog().waitFor({ state: 'detached' });
      await tabTo(page, playerTexts.stabilised);
      await press('Enter');
      await views.getByRole('button', { name: playerTexts.stabilised, pressed: true }).waitFor();

      await tabTo(page, frameTexts.views.start, 'Shift+Tab');
      await press('Enter');
      await page.getByRole('heading', { name: startTexts.title }).waitFor();
      expect(watched.noise).toEqual([]);
    });

    it('searches, selects and compares in the log', async () => {
      await tabTo(page, frameTexts.views.log);
      await press('Enter');
      await page.getByRole('table', { name: webLogTexts.table }).waitFor();
      await leaveControl();
      await press('/');
      await page.keyboard.type('soft acx');
      // Letters typed into the search are no keys.
      await page.getByText(webLogTexts.noneFit).waitFor();
      await press('Backspace', 'Backspace', 'Backspace', 'Backspace');
      await page.getByText(webLogTexts.shown(1, 4)).waitFor();
      await leaveControl();
      await press('a');
      await page.getByText(webLogTexts.selected(1, 0)).waitFor();
      await press('x');
      await page.getByLabel(webLogTexts.selection).waitFor({ state: 'detached' });
      await press('/', 'Control+a');
      await page.keyboard.type('hard');
      await page.getByText(webLogTexts.shown(2, 4)).waitFor();
      await leaveControl();
      await press('a');
      await page.getByText(webLogTexts.selected(2, 0)).waitFor();
      await press('c');
      await page.waitForURL(/\/compare\?runs=\d+,\d+$/);
      await page.goBack();
      await page.getByText(webLogTexts.selected(2, 0)).waitFor();
    });
  });
}
