/** From a dropped clip to its verdict. */
import fs from 'node:fs';
import path from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  clipTexts,
  frameTexts,
  settingTexts,
  startTexts,
  trimTexts,
  verdictTexts,
  workTexts,
} from '../../../src/texts/index.js';
import type { Job } from '../../../src/web/api.js';
import { CLIP, CLIPS, SETTINGS } from '../support/served-page.js';
import { axeFaults, dropFiles, openWatched, type Shared, type WatchedPage } from '../support/watched-page.js';

/** Three seconds of the clip on a busy machine. */
const MEASURED_MS = 150_000;

/** The smallest picture there is: one grey pixel. */
const PNG = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==',
  'base64',
);

/** The row of a clip that was chosen. */
const rowOf = (page: Page, name: string): Locator => page.getByRole('listitem').filter({ hasText: name });

export function measuring(shared: Shared): void {
  describe('a clip that is dropped', () => {
    let watched: WatchedPage;
    let page: Page;
    beforeAll(async () => {
      watched = await openWatched(shared);
      page = watched.page;
    });
    afterAll(() => watched.close());

    it('is taken, and files beside it that are no clips are refused, each with its own sentence', async () => {
      await page
        .getByRole('button', { name: startTexts.choose, exact: true })
        .and(page.locator(':enabled'))
        .waitFor();
      await dropFiles(page, [
        { name: 'notes.txt', bytes: Buffer.from('Pass 3 of the tiled corridor, hard wheels.\n') },
        { name: 'still.mp4', bytes: PNG },
        { name: 'empty.mp4', bytes: Buffer.alloc(0) },
        { name: CLIP, bytes: fs.readFileSync(path.join(CLIPS, CLIP)) },
      ]);
      await rowOf(page, CLIP).getByText(startTexts.size(1280, 720)).waitFor();
      for (const [name, sentence] of [
        ['notes.txt', clipTexts.seems('notes.txt', 'text')],
        ['still.mp4', clipTexts.seems('still.mp4', 'picture')],
        ['empty.mp4', clipTexts.empty('empty.mp4')],
      ])
        await rowOf(page, name).getByText(sentence, { exact: true }).waitFor();
      // The browser itself writes a line for each upload that is refused; an empty file is not even sent.
      expect(watched.noise.splice(0)).toEqual(
        Array.from({ length: 2 }, (): unknown =>
          expect.stringMatching(/^error: Failed to load resource.* 415 /),
        ),
      );
    });

    it(
      'is trimmed and measured under the eyes of whoever waits, and goes on when the tab is closed',
      async () => {
        for (const name of ['focal', 'speed'] as const)
          await page.getByLabel(settingTexts.labels[name], { exact: true }).fill(SETTINGS[name]);
        await page.getByLabel(trimTexts.in, { exact: true }).fill(SETTINGS.in);
        await page.getByLabel(trimTexts.out, { exact: true }).fill(SETTINGS.out);
        await page.getByText(trimTexts.length('3.00', 75)).waitFor();
        await page.getByRole('button', { name: startTexts.measure(1), exact: true }).click();
        await page.waitForURL('**/work');
        await page.getByRole('img', { name: workTexts.picture(CLIP) }).waitFor({ timeout: MEASURED_MS });
        const points = page.getByText(/^\d+ points$/);
        await expect
          .poll(async () => Number.parseInt((await points.textContent()) ?? '', 10), { timeout: MEASURED_MS })
          .toBeGreaterThan(50);
        const lines = page.getByRole('img', { name: workTexts.traceLabel(CLIP) }).locator('path.series');
        // A line to a few frames at least: of pan, tilt and roll.
        await expect
          .poll(
            async () =>
              Promise.all(
                (await lines.all()).map(async (line) => ((await line.getAttribute('d')) ?? '').length),
              ),
            { timeout: MEASURED_MS },
          )
          .toSatisfy((lengths: number[]) => lengths.length === 3 && Math.min(...lengths) > 40);
        expect(await page.getByRole('progressbar', { name: workTexts.progressOf(CLIP) }).isVisible()).toBe(
          true,
        );
        expect(await page.getByText(workTexts.mayClose).isVisible()).toBe(true);
        expect(await axeFaults(page)).toEqual([]);
        const context = page.context();
        await page.close({ runBeforeUnload: true });
        const [job] = await shared.served.get<readonly Job[]>('/api/jobs');
        expect(job).toMatchObject({ state: 'running', clipName: CLIP, settings: SETTINGS });
        page = await context.newPage();
      },
      MEASURED_MS,
    );

    it(
      'shows its work again to whoever comes back, then the verdict; the run is in the log and its report in a folder',
      async () => {
        await page.goto(`${shared.served.origin}/work`);
        await page.getByText(CLIP).first().waitFor();
        await page.getByRole('link', { name: workTexts.openOf(CLIP) }).click({ timeout: MEASURED_MS });
        const { run, row } = await shared.served.measured();
        const verdict = page.getByRole('heading', { level: 1 });
        await verdict.getByText(verdictTexts.grades[run.verdict.grade]).first().waitFor();
        expect(new URL(page.url()).pathname).toBe(`/runs/${row.id}`);
        expect(run.clip.rangeS).toEqual([1, 4]);
        expect(row.reportFolder).toMatch(new RegExp(`^${shared.served.outDir}`));
        expect(fs.readdirSync(row.reportFolder ?? '')).toEqual(
          expect.arrayContaining(['report.html', 'run.json', 'series.json', 'motion.csv']),
        );
        await page.getByRole('link', { name: frameTexts.views.log, exact: true }).click();
        await page.getByRole('link', { name: CLIP, exact: true }).waitFor();
        expect(watched.noise).toEqual([]);
      },
      MEASURED_MS,
    );
  });
}
