/** Every view of the page on a desk and on a phone, dark and light: accessible, quiet, nothing sticks out, large enough to touch. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  frameTexts,
  playerTexts,
  runViewTexts,
  startTexts,
  trimTexts,
  webComparisonTexts,
  webLogTexts,
  workTexts,
} from '../../../src/texts/index.js';
import type { StoredRun } from '../../../src/web/api.js';
import { patiently } from '../support/patiently.js';
import {
  axeFaults,
  beyondEdge,
  openWatched,
  smallTargets,
  type Shared,
  type WatchedPage,
} from '../support/watched-page.js';

/** Least size of what is touched, px: WCAG 2.2, success criterion 2.5.8 (level AA). */
const LEAST_PX = 24;
/** Of the main controls, px: WCAG 2.2, success criterion 2.5.5 (level AAA). */
const MAIN_PX = 44;
/** From the address to the first content on the loopback, ms; three times as long on a machine that does other things too. */
const PAINTED_MS = 1000;
const BUSY = 3;

/** How a view is come to, and what stands on it then; `main` names what is pressed most on it. */
interface View {
  readonly path: (stored: StoredRun, madeUp: readonly number[]) => string;
  readonly ready: (page: Page) => Promise<unknown>;
  readonly main?: readonly string[];
}

const VIEWS: Readonly<Record<string, View>> = {
  'the start': {
    path: () => '/',
    ready: (page) => page.getByText(startTexts.stays).waitFor(),
    main: [startTexts.choose],
  },
  'an address with nothing': {
    path: () => '/nowhere',
    ready: (page) => page.getByText(frameTexts.notFound).waitFor(),
  },
  'the work that has ended': {
    path: () => '/work',
    ready: (page) => page.getByText(workTexts.ended).waitFor(),
  },
  'the log': {
    path: () => '/log',
    ready: (page) => page.getByText(webLogTexts.shown(4, 4)).waitFor(),
  },
  'the log with selected runs': {
    path: (_, [a, b]) => `/log?selected=${a},${b}`,
    ready: (page) => page.getByRole('button', { name: webLogTexts.compare, exact: true }).waitFor(),
    main: [webLogTexts.compare],
  },
  'the sheet of a run': {
    path: (_, [a]) => `/log?run=${a}`,
    ready: (page) => page.getByRole('dialog').getByRole('group', { name: webLogTexts.sheetFields }).waitFor(),
    main: [webLogTexts.save],
  },
  'a comparison': {
    path: (_, [a, b]) => `/compare?runs=${a},${b}`,
    ready: (page) => page.getByRole('link', { name: webComparisonTexts.download }).waitFor(),
  },
  'a lane plan': {
    path: (_, [, b, c]) => `/compare?runs=${b},${c}&by=lane`,
    ready: (page) => page.getByRole('link', { name: webComparisonTexts.download }).waitFor(),
  },
  'a run without its clip': {
    path: (_, [a]) => `/runs/${a}`,
    ready: (page) => page.getByRole('region', { name: runViewTexts.adviceTitle }).waitFor(),
  },
  'a run': {
    path: ({ row }) => `/runs/${row.id}`,
    ready: async (page) => {
      await page.getByLabel(playerTexts.scrubber, { exact: true }).waitFor();
      await page.getByRole('region', { name: runViewTexts.adviceTitle }).waitFor();
    },
    main: [playerTexts.play],
  },
};

const WINDOWS = [
  { widthPx: 1280, heightPx: 800 },
  { widthPx: 390, heightPx: 844, theme: 'light' },
] as const;

export function everyView(shared: Shared): void {
  describe.each(WINDOWS)('every view, %o', (options) => {
    let watched: WatchedPage;
    let page: Page;
    let stored: StoredRun;
    const isPhone = options.widthPx < 500;

    beforeAll(async () => {
      stored = await shared.served.measured();
      watched = await openWatched(shared, options);
      page = watched.page;
    });
    afterAll(() => watched.close());

    async function check(main: readonly string[] = []): Promise<void> {
      expect.soft(await axeFaults(page), 'axe-core').toEqual([]);
      expect.soft(await beyondEdge(page), 'beyond the edge').toEqual([]);
      expect.soft(await smallTargets(page, LEAST_PX), 'small targets').toEqual([]);
      if (isPhone) {
        for (const name of main) {
          const box = await page.getByRole('button', { name, exact: true }).first().boundingBox();
          expect.soft(Math.min(box?.width ?? 0, box?.height ?? 0), name).toBeGreaterThanOrEqual(MAIN_PX);
        }
        await page.setViewportSize({ width: 320, height: 640 });
        // What lies over a chart follows its new size.
        await patiently(() => beyondEdge(page)).toEqual([]);
        await page.setViewportSize({ width: options.widthPx, height: options.heightPx });
      }
      expect.soft(watched.noise.splice(0), 'noise').toEqual([]);
    }

    it.each(Object.keys(VIEWS))('is as it should be: %s', async (name) => {
      const { path, ready, main } = VIEWS[name];
      await watched.goTo(path(stored, shared.served.madeUp));
      await ready(page);
      await check(main);
    });

    it('is as it should be: the start with a clip, its trimming and the form', async () => {
      await watched.goTo(`/runs/${stored.row.id}`);
      await page.getByRole('button', { name: runViewTexts.again }).click();
      await page.getByRole('slider', { name: trimTexts.playhead }).waitFor();
      expect(await page.getByLabel(trimTexts.in, { exact: true }).inputValue()).not.toBe('00:00:00:00');
      await check([startTexts.measure(1)]);
    });
  });

  describe('the page', () => {
    it('is dark until somebody wants it light, and stays as it was chosen', async () => {
      const { page, close } = await openWatched(shared);
      const look = (): Promise<string> =>
        page.evaluate<string>(
          'getComputedStyle(document.body).backgroundColor + getComputedStyle(document.body).colorScheme',
        );
      const dark = await look();
      expect(dark).toMatch(/^rgb\((\d|[1-5]\d), /);
      await page.getByRole('button', { name: frameTexts.themeWhat.light }).click();
      const light = await look();
      expect(light).toMatch(/^rgb\(2[2-5]\d, /);
      await page.reload();
      await page.getByRole('button', { name: frameTexts.themeWhat.dark }).waitFor();
      expect(await look()).toBe(light);
      await close();
    });

    it('paints within a second', async () => {
      const { page, close } = await openWatched(shared);
      await page.getByText(startTexts.stays).waitFor();
      const [firstMs, largestMs] = await page.evaluate<[number, number]>(
        `new Promise((resolve) => new PerformanceObserver((list, observer) => {
          observer.disconnect();
          const first = performance.getEntriesByName('first-contentful-paint')[0].startTime;
          resolve([first, list.getEntries().at(-1).startTime]);
        }).observe({ type: 'largest-contentful-paint', buffered: true }))`,
      );
      process.stderr.write(
        `The first content is painted after ${firstMs.toFixed(0)} ms, the largest after ${largestMs.toFixed(0)} ms.\n`,
      );
      expect(largestMs).toBeGreaterThanOrEqual(firstMs);
      expect(largestMs).toBeLessThan(BUSY * PAINTED_MS);
      await close();
    });
  });
}
