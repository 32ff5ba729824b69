import fs from 'node:fs/promises';
import { createRequire } from 'node:module';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContextOptions, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { liveFigure } from '../../src/report/html/live-figure.js';
import { html } from '../../src/report/html/markup.js';
import { standalonePage } from '../../src/report/html/standalone.js';
import { expectWithin } from '../support/expect-within.js';
import { launchBrowser } from './support/launch.js';

/** A run of 4 m, read every 10 mm; heights that no sample shares, so that a reading tells where it was taken. */
const RUN = { units: 'metric', fromM: 0, toM: 4, front: null } as const;
const DISTANCE_M = Array.from({ length: 401 }, (_, i) => i / 100);
const line = (id: 'mean' | 'left' | 'right', perM: number) => ({
  id,
  heightMm: DISTANCE_M.map((at) => perM * at),
  bandMm: DISTANCE_M.map(() => 0.05),
});

/** Places are told to six digits. */
const ROUNDING = { abs: 1e-5 };

/** Two charts along one run, apart on the page, one of them with lines to switch off. */
function pageOfTwo(): string {
  const sides = [line('left', 0.5), line('right', 1.5)];
  return standalonePage({
    title: 'Two charts',
    about: 'dairy hall',
    kind: 'test page',
    body: html`<main>
      <h1>Dairy hall</h1>
      ${liveFigure({
        kind: 'floorStrip',
        data: { ...RUN, distanceM: DISTANCE_M, lines: sides, bumps: [], joints: null },
        caption: html`<b>Strip</b>`,
        widthPx: 1100,
        phoneWidthPx: 340,
      })}
      <p>What stands in between.</p>
      ${liveFigure({
        kind: 'profile',
        data: { ...RUN, distanceM: DISTANCE_M, lines: [line('mean', 1), ...sides], bumps: [] },
        caption: html`<b>Profile</b>`,
        widthPx: 1100,
        phoneWidthPx: 340,
        after: html`<p>Mean and both lines.</p>`,
      })}
    </main>`,
  });
}

const launch = await launchBrowser();
if (launch.browser === null) process.stderr.write(`Page tests are left out. ${launch.reason}\n`);
const title = launch.browser === null ? `looking closer (left out: ${launch.reason})` : 'looking closer';

describe.skipIf(launch.browser === null)(title, () => {
  const browser = launch.browser as Browser;
  let folder = '';

  beforeAll(async () => {
    folder = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-live-'));
    const page = pageOfTwo();
    expect(page, 'the script of the page is not built: npm run build').toContain("script-src 'sha256-");
    await fs.writeFile(path.join(folder, 'page.html'), page);
    const injected = page.replace('<h1>', '<script>document.title = "taken over"</script><h1>');
    await fs.writeFile(path.join(folder, 'injected.html'), injected);
  });

  afterAll(async () => {
    await browser.close();
    await fs.rm(folder, { recursive: true, force: true });
  });

  /** Opens a page for one test; whatever its console says fails the test. */
  async function look(
    test: (page: Page) => Promise<void>,
    options: BrowserContextOptions = {},
    file = 'page.html',
  ): Promise<void> {
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
    const page = await context.newPage();
    const noise: string[] = [];
    page.on('console', (message) => noise.push(message.text()));
    page.on('pageerror', (error) => noise.push(error.message));
    await page.goto(pathToFileURL(path.join(folder, file)).href);
    try {
      await test(page);
      if (file === 'page.html') expect(noise).toEqual([]);
    } finally {
      await context.close();
    }
  }

  const strip = (page: Page): Locator => page.locator('figure.live').first();
  const profile = (page: Page): Locator => page.locator('figure.live').last();
  const reading = (figure: Locator): Promise<string | null> => figure.locator('.live-reading').textContent();
  const ticks = (figure: Locator): Promise<string[]> =>
    figure.locator('.live-drawing .tick-label[text-anchor=middle]').allTextContents();

  /** The middle of the layer over a chart, and how wide that is. */
  async function over(figure: Locator): Promise<{ x: number; y: number; widthPx: number }> {
    const layer = figure.locator('.live-layer');
    await layer.scrollIntoViewIfNeeded();
    const box = await layer.boundingBox();
    if (box === null) throw new Error('the chart is not on the screen');
    return { x: box.x + box.width / 2, y: box.y + box.height / 2, widthPx: box.width };
  }

  it('reads off where the pointer is, in all charts of the run, until it leaves', async () => {
    await look(async (page) => {
      const { x, y } = await over(strip(page));
      await page.mouse.move(x, y);
      const [above, below] = [(await reading(strip(page))) ?? '', (await reading(profile(page))) ?? ''];
      const place = /^([\d.]+) m/.exec(above)?.[1];
      // The middle of the drawing lies near the middle of a run of 4 m.
      expect(Math.abs(Number(place) - 2)).toBeLessThan(0.1);
      expect(below).toContain(`${place} m`);
      expect(below).toMatch(/mean \+(?:1\.9|2(?:\.0)?)\d* mm/);
      expect(await profile(page).locator('.live-dot').count()).toBe(3);
      await page.mouse.move(5, 5);
      expect([await reading(strip(page)), await reading(profile(page))]).toEqual(['', '']);
    });
  });

  it('steps by keys from place to place and tells them to a screen reader', async () => {
    await look(async (page) => {
      const layer = profile(page).locator('.live-layer');
      const now = async (): Promise<number> => Number(await layer.getAttribute('aria-valuenow'));
      await strip(page).locator('button').last().focus();
      await page.keyboard.press('Tab');
      expect(await page.locator('.live-layer:focus').count()).toBe(1);
      expect(await profile(page).locator('.live-keys').isVisible()).toBe(true);
      expect(await now()).toBe(0);
      await page.keyboard.press('ArrowRight');
      const step = await now();
      expect(step).toBeGreaterThan(0);
      await page.keyboard.press('PageUp');
      expectWithin(await now(), 11 * step, ROUNDING);
      await page.keyboard.press('ArrowLeft');
      expectWithin(await now(), 10 * step, ROUNDING);
      await page.keyboard.press('End');
      expect(await now()).toBe(RUN.toM);
      expect(await layer.getAttribute('aria-valuetext')).toMatch(/^4(?:\.0+)? m.*: mean \+4(?:\.0)? mm/);
      await page.keyboard.press('Escape');
      expect(await reading(profile(page))).toBe('');
    });
  });

  it('shows a part of the run in all its charts by buttons and keys, and the whole again', async () => {
    await look(async (page) => {
      const whole = [await ticks(strip(page)), await ticks(profile(page))];
      await profile(page).getByRole('button', { name: 'Closer' }).click();
      const half = [await ticks(strip(page)), await ticks(profile(page))];
      expect(half[0]).not.toEqual(whole[0]);
      expect(half[1]).not.toEqual(whole[1]);
      expect(half.flat().every((label) => Number(label) >= 1 && Number(label) <= 3)).toBe(true);
      await profile(page).getByRole('button', { name: 'Move right' }).click();
      expect((await ticks(profile(page))).every((label) => Number(label) >= 2)).toBe(true);
      await strip(page).getByRole('button', { name: 'Whole' }).click();
      expect([await ticks(strip(page)), await ticks(profile(page))]).toEqual(whole);
      await strip(page).locator('.live-layer').focus();
      await page.keyboard.press('+');
      expect(await ticks(profile(page))).not.toEqual(whole[1]);
      await page.keyboard.press('0');
      expect(await ticks(profile(page))).toEqual(whole[1]);
    });
  });

  it('shows the stretch that was dragged over; paper gets the whole', async () => {
    await look(async (page) => {
      const whole = await ticks(profile(page));
      const { x, y, widthPx } = await over(profile(page));
      await page.mouse.move(x, y);
      await page.mouse.down();
      await page.mouse.move(x + widthPx / 4, y, { steps: 3 });
      expect(await profile(page).locator('.live-stretch').getAttribute('width')).not.toBe('0');
      await page.mouse.up();
      const labels = (await ticks(profile(page))).map(Number);
      // From the middle to three quarters: 2 to 3 m, and what the margin at the left takes.
      expect(Math.min(...labels)).toBeGreaterThanOrEqual(1.8);
      expect(Math.max(...labels)).toBeLessThanOrEqual(3.2);
      await page.emulateMedia({ media: 'print' });
      const printed = profile(page).locator('.for-desk .tick-label[text-anchor=middle]');
      await printed.first().waitFor({ state: 'attached' });
      expect((await printed.allTextContents()).slice(-1)).toEqual(whole.slice(-1));
      expect(await profile(page).locator('.live-tools').isVisible()).toBe(false);
    });
  });

  it('leaves out what is switched off, but never the last line', async () => {
    await look(async (page) => {
      const switches = profile(page).locator('.live-series button');
      const curves = profile(page).locator('.live-drawing .clip path');
      const all = await curves.count();
      await switches.first().click();
      expect(await switches.first().getAttribute('aria-pressed')).toBe('false');
      expect(await curves.count()).toBeLessThan(all);
      await switches.nth(1).click();
      expect(await switches.nth(2).getAttribute('aria-disabled')).toBe('true');
      await switches.nth(2).dispatchEvent('click');
      expect(await switches.nth(2).getAttribute('aria-pressed')).toBe('true');
      await switches.first().click();
      await switches.nth(1).click();
      expect(await curves.count()).toBe(all);
    });
  });

  it('draws at the width of its box, so that letters keep their size, with targets for fingers on a phone', async () => {
    const phone = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };
    await look(async (page) => {
      const [width, drawn, overflow] = await page.evaluate<[number, number, number]>(
        `(() => { const svg = document.querySelector('figure.live:last-of-type .live-drawing svg');
          return [svg.getBoundingClientRect().width, svg.viewBox.baseVal.width,
            document.documentElement.scrollWidth - document.documentElement.clientWidth]; })()`,
      );
      // The drawing is a whole number of px wide, its box need not be.
      expect(Math.abs(width - drawn)).toBeLessThan(1);
      expect(overflow).toBeLessThanOrEqual(0);
      for (const button of await page.locator('figure.live button').all()) {
        const box = await button.boundingBox();
        expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(44);
      }
    }, phone);
  });

  it('has no fault that axe-core finds', async () => {
    await look(async (page) => {
      const axe = await fs.readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
      await page.evaluate(`${axe}; undefined`);
      const faults = await page.evaluate<string[]>(
        `axe.run(document, { resultTypes: ['violations'] }).then(({ violations }) =>
          violations.map((v) => v.id + ': ' + v.nodes.map((n) => n.html.slice(0, 120)).join(' | ')))`,
      );
      expect(faults).toEqual([]);
    });
  });

  it('is complete where no script runs', async () => {
    await look(
      async (page) => {
        for (const figure of [strip(page), profile(page)])
          expect(await figure.locator('.live-chart svg.chart:visible').count()).toBe(1);
        expect(await page.locator('button, [role=slider]').count()).toBe(0);
        expect(await page.getByText('Mean and both lines.').isVisible()).toBe(true);
      },
      { javaScriptEnabled: false },
    );
  });

  it('lets no other script run', async () => {
    await look(
      async (page) => {
        expect(await page.title()).toBe('Two charts');
        expect(await page.locator('.live-layer').count()).toBe(2);
      },
      {},
      'injected.html',
    );
  });
});
