/** The clip of a run, played in the page. */
import type { Locator, Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { playerTexts } from '../../../src/texts/index.js';
import type { FramePack, StoredRun } from '../../../src/web/api.js';
import { patiently } from '../support/patiently.js';
import { openWatched, type Shared, type WatchedPage } from '../support/watched-page.js';

/** Mean difference of grey levels between the frame as shot and stabilised by a warp that moves edges of tiles by some px. */
const OTHER_LEVELS = 0.5;

export function playing(shared: Shared): void {
  describe('the clip of a run', () => {
    let watched: WatchedPage;
    let page: Page;
    let stored: StoredRun;
    let scrubber: Locator;
    const frameNow = async (): Promise<number> => Number(await scrubber.inputValue());
    const press = (name: string): Promise<void> =>
      page
        .getByRole('region', { name: playerTexts.title })
        .getByRole('button', { name, exact: true })
        .click();

    beforeAll(async () => {
      stored = await shared.served.measured();
      watched = await openWatched(shared, { path: `/runs/${stored.row.id}` });
      page = watched.page;
      scrubber = page.getByLabel(playerTexts.scrubber, { exact: true });
      await scrubber.waitFor();
    });
    afterAll(() => watched.close());

    it('has a frame for every sample, told by timecode when it is stepped', async () => {
      const pack = await shared.served.get<FramePack>(`/api/runs/${stored.row.id}/frames`);
      expect(pack.timeS.length).toBe(75);
      await patiently(() => scrubber.getAttribute('max')).toBe('74');
      // In at 1 s of a clip of 25 frames a second that has no timecode.
      expect(await scrubber.getAttribute('aria-valuetext')).toBe(playerTexts.place('00:00:01:00', 1, 75));
      await press(playerTexts.on);
      await press(playerTexts.on);
      expect(await scrubber.getAttribute('aria-valuetext')).toBe(playerTexts.place('00:00:01:02', 3, 75));
      await press(playerTexts.back);
      expect(await scrubber.getAttribute('aria-valuetext')).toBe(playerTexts.place('00:00:01:01', 2, 75));
      await scrubber.press('End');
      await patiently(() => scrubber.getAttribute('aria-valuetext')).toBe(
        playerTexts.place('00:00:03:24', 75, 75),
      );
    });

    it('plays: frames follow each other and what is drawn changes', async () => {
      await scrubber.press('Home');
      await patiently(frameNow).toBe(0);
      const first = await grey(page.getByRole('img', { name: playerTexts.shotPicture }));
      await press(playerTexts.play);
      const seen = new Set<number>();
      await patiently(async () => seen.add(await frameNow()).size, 20).toBeGreaterThan(5);
      await press(playerTexts.stop);
      const stopped = await frameNow();
      const later = await grey(page.getByRole('img', { name: playerTexts.shotPicture }));
      expect(difference(first, later)).toBeGreaterThan(OTHER_LEVELS);
      expect(await frameNow()).toBe(stopped);
    });

    it('shows something else stabilised than as shot, alone and side by side', async () => {
      const shot = page.getByRole('img', { name: playerTexts.shotPicture });
      const stabilised = page.getByRole('img', { name: playerTexts.stabilisedPicture });
      expect(await stabilised.isVisible()).toBe(false);
      await press(playerTexts.both);
      await stabilised.waitFor();
      expect(await shot.isVisible()).toBe(true);
      await press(playerTexts.stabilised);
      await shot.waitFor({ state: 'hidden' });
      const drawn = await grey(stabilised);
      // A picture with lines and greys of its own, not the grey of nothing.
      expect(Math.max(...drawn) - Math.min(...drawn)).toBeGreaterThan(60);
      await press(playerTexts.shot);
      await stabilised.waitFor({ state: 'hidden' });
      expect(difference(drawn, await grey(shot))).toBeGreaterThan(OTHER_LEVELS);
      expect(watched.noise).toEqual([]);
    });
  });
}

/** A picture on the page in greys, always as large. */
async function grey(picture: Locator): Promise<Buffer> {
  return sharp(await picture.screenshot())
    .greyscale()
    .resize(320, 180, { fit: 'fill' })
    .raw()
    .toBuffer();
}

/** Mean difference of two pictures, levels of 255. */
function difference(a: Buffer, b: Buffer): number {
  return a.reduce((sum, value, i) => sum + Math.abs(value - b[i]), 0) / a.length;
}
