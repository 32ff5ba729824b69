/** Several clips at once: they wait for each other and can be taken back. */
import fs from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startTexts, workTexts } from '../../../src/texts/index.js';
import type { Job, RunList } from '../../../src/web/api.js';
import { openWatched, type Shared, type WatchedPage } from '../support/watched-page.js';

const [FIRST, SECOND] = ['aluminium-rail.mp4', 'plywood-loft.mp4'] as const;
/** A process has to start, on a busy machine. */
const STARTED_MS = 60_000;

export function queueing(shared: Shared): void {
  describe('two clips', () => {
    let watched: WatchedPage;
    let page: Page;
    beforeAll(async () => {
      watched = await openWatched(shared);
      page = watched.page;
    });
    afterAll(async () => {
      await watched.close();
      // Where the test broke off, nothing of it may run on beside the others.
      for (const { id, state } of await shared.served.get<readonly Job[]>('/api/jobs'))
        if (state === 'running' || state === 'queued')
          await shared.served.ask(`/api/jobs/${id}`, { method: 'DELETE', known: true });
    });

    it(
      'wait for each other; cancelled, they leave neither run nor report folder',
      async () => {
        const { served } = shared;
        const states = async (): Promise<(string | undefined)[]> => {
          const jobs = await served.get<readonly Job[]>('/api/jobs');
          return [FIRST, SECOND].map((name) => jobs.findLast(({ clipName }) => clipName === name)?.state);
        };
        const folders = fs.readdirSync(served.outDir);
        const before = (await served.get<RunList>('/api/runs')).all;
        await page.getByRole('button', { name: startTexts.fromFolder }).click();
        for (const name of [FIRST, SECOND]) await page.getByRole('checkbox', { name }).check();
        await page.getByRole('button', { name: startTexts.add(2) }).click();
        await page.getByRole('button', { name: startTexts.measure(2) }).click();
        await page.waitForURL('**/work');
        await page.getByRole('progressbar', { name: workTexts.progressOf(FIRST) }).waitFor();
        const waiting = page.getByRole('listitem').filter({ hasText: SECOND });
        await waiting.getByText(workTexts.next, { exact: true }).waitFor();
        expect(await states()).toEqual(['running', 'queued']);
        await page.getByText(workTexts.stages.track).waitFor({ timeout: STARTED_MS });

        await page.getByRole('button', { name: workTexts.cancelOf(FIRST) }).click();
        await page
          .getByRole('listitem')
          .filter({ hasText: FIRST })
          .getByText(workTexts.cancelled, { exact: true })
          .waitFor({ timeout: STARTED_MS });
        // Its turn has come.
        await page
          .getByRole('progressbar', { name: workTexts.progressOf(SECOND) })
          .waitFor({ timeout: STARTED_MS });
        await page.getByRole('button', { name: workTexts.cancelOf(SECOND) }).click();
        await expect.poll(states, { timeout: STARTED_MS }).toEqual(['cancelled', 'cancelled']);
        await page.getByRole('button', { name: workTexts.againOf(SECOND) }).waitFor();
        expect(fs.readdirSync(served.outDir)).toEqual(folders);
        expect((await served.get<RunList>('/api/runs')).all).toBe(before);
        expect(watched.noise).toEqual([]);
      },
      2 * STARTED_MS,
    );
  });
}
