import fs from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright-core';
import { afterAll, describe, expect, it } from 'vitest';
import { renderComparison } from '../../src/report/index.js';
import { MADE_UP_COMPARISONS } from '../report/support/made-up-comparisons.js';
import { launchBrowser } from './support/launch.js';

/** Text widths of A4 and Letter inside the margins of 12 mm, in CSS px of 1/96 inch. */
const PAPER_PX = { A4: Math.floor(((210 - 24) / 25.4) * 96), Letter: Math.floor(((215.9 - 24) / 25.4) * 96) };
/** The cases that differ in layout beside the one that stands for comparisons among all pages: one pair, lanes alone, hostile names with all boxes. */
const LAYOUTS = ['withBands', 'lanesOnly', 'hostile'] as const;

const launch = await launchBrowser();
if (launch.browser === null) process.stderr.write(`Page tests are left out. ${launch.reason}\n`);
const title =
  launch.browser === null ? `the comparison page (left out: ${launch.reason})` : 'the comparison page';

describe.skipIf(launch.browser === null)(title, () => {
  const browser = launch.browser as Browser;
  afterAll(() => browser.close());

  async function open(name: string, widthPx: number, colorScheme: 'light' | 'dark' = 'light'): Promise<Page> {
    const page = await browser.newPage({ viewport: { width: widthPx, height: 800 }, colorScheme });
    await page.setContent(renderComparison(MADE_UP_COMPARISONS[name]()));
    return page;
  }

  /** Elements that reach beyond the right edge of the window, but those inside a box that scrolls by itself. */
  function beyond(page: Page): Promise<string[]> {
    return page.evaluate<string[]>(
      `[...document.querySelectorAll('body *')]
        .filter((e) => !e.closest('.scroll *') && e.getBoundingClientRect().right > innerWidth + 1)
        .map((e) => e.tagName + ' ' + e.textContent.slice(0, 60))`,
    );
  }

  it.each([360, 800])('fits a window %d px wide with every table unfolded', async (widthPx) => {
    for (const name of LAYOUTS) {
      const page = await open(name, widthPx);
      await page.evaluate('document.querySelectorAll("details").forEach((d) => (d.open = true))');
      expect(await beyond(page), name).toEqual([]);
      expect(
        await page.evaluate<number>(
          'document.documentElement.scrollWidth - document.documentElement.clientWidth',
        ),
        name,
      ).toBeLessThanOrEqual(0);
      await page.close();
    }
  });

  it.each([
    ['clear', 1280, 800],
    ['unequalSpeeds', 1280, 800],
    ['threeSetups', 1280, 800],
    ['clear', 390, 844],
  ] as const)('answers on the first screen: %s at %d x %d px', async (name, widthPx, heightPx) => {
    const page = await open(name, widthPx);
    const box = await page.locator('.answer').boundingBox();
    expect((box?.y ?? Infinity) + (box?.height ?? 0)).toBeLessThan(heightPx);
    await page.close();
  });

  it('draws one lane plan, the one that the window has room for', async () => {
    for (const [widthPx, seen] of [
      [1280, '.for-desk'],
      [360, '.for-phone'],
    ] as const) {
      const page = await open('lanesOnly', widthPx);
      expect(await page.locator('.lanes svg:visible').count()).toBe(1);
      expect(await page.locator(`${seen} svg`).isVisible()).toBe(true);
      await page.close();
    }
  });

  it.each([
    ['lanesOnly', 'dark'],
    ['hostile', 'light'],
  ] as const)('has no fault that axe-core finds: %s, %s', async (name, scheme) => {
    const page = await open(name, 1280, scheme);
    await page.evaluate('document.querySelectorAll("details").forEach((d) => (d.open = true))');
    const axe = await fs.readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
    await page.evaluate(`${axe}; undefined`);
    const faults = await page.evaluate<string[]>(
      `axe.run(document, { resultTypes: ['violations'] }).then(({ violations }) =>
        violations.map((v) => v.id + ': ' + v.nodes.slice(0, 3).map((n) => n.html.slice(0, 120)).join(' | ')))`,
    );
    expect(faults).toEqual([]);
    await page.close();
  });

  it('can be looked into: the pointer tells name, ratio, range and whether it is clear', async () => {
    const page = await open('clear', 1280);
    const chart = page.locator('.answer .live').first();
    const layer = chart.locator('.live-layer');
    expect(await layer.isVisible()).toBe(true);
    const tilt = await chart
      .locator('.for-desk .ratio-mark.clear, .live-drawing > svg .ratio-mark.clear')
      .first()
      .boundingBox();
    await page.mouse.move((tilt?.x ?? 0) + 4, (tilt?.y ?? 0) + 4);

    expect((await chart.locator('.live-reading').textContent())?.trim()).toBe(
      'Tilt 0.80 (95 % range 0.66 to 0.96), clear: soft wheels smoother',
    );
    await page.close();
  });

  it('prints every chart whole on A4 and on Letter', async () => {
    for (const widthPx of Object.values(PAPER_PX)) {
      const page = await open('withBands', widthPx);
      await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
      expect(await beyond(page)).toEqual([]);
      for (const box of await page.locator('svg.chart:visible').all())
        expect((await box.boundingBox())?.width ?? 0).toBeGreaterThan(140);
      await page.close();
    }
  });

  it('runs nothing that a name holds, and asks for nothing', async () => {
    const page = await browser.newPage();
    const noise: string[] = [];
    page.on('request', (request) => noise.push(request.url()));
    page.on('console', (message) => noise.push(message.text()));
    page.on('dialog', (dialog) => noise.push(`dialog ${dialog.message()}`));
    await page.setContent(renderComparison(MADE_UP_COMPARISONS.hostile()));

    expect(noise.filter((line) => !line.startsWith('data:'))).toEqual([]);
    await page.close();
  });
});
