import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchBrowser } from './support/launch.js';
import { writePages, type PageName } from './support/pages.js';

const launch = await launchBrowser();
if (launch.browser === null) process.stderr.write(`Page tests are left out. ${launch.reason}\n`);
const title = launch.browser === null ? `the report page (left out: ${launch.reason})` : 'the report page';

describe.skipIf(launch.browser === null)(title, () => {
  const browser = launch.browser as Browser;
  let folder = '';

  beforeAll(async () => {
    folder = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-page-'));
    await writePages(folder);
  });

  afterAll(async () => {
    await browser.close();
    await fs.rm(folder, { recursive: true, force: true });
  });

  /** Opens a report in a window. */
  async function open(run: PageName, widthPx: number, heightPx = 800): Promise<Page> {
    const page = await browser.newPage({ viewport: { width: widthPx, height: heightPx } });
    const address = pathToFileURL(path.join(folder, `${run}.html`)).href;
    await page.goto(address);
    return page;
  }

  it.each([
    ['pass', 1280, 800],
    ['fail', 1280, 800],
    ['pass', 390, 844],
    ['fail', 390, 844],
  ] as const)(
    'shows verdict, the four figures and the first step of a %s without scrolling at %d x %d px',
    async (run, widthPx, heightPx) => {
      const page = await open(run, widthPx, heightPx);
      for (const selector of ['.verdict', '.figures', '.do-first']) {
        const box = await page.locator(selector).boundingBox();
        expect(box, selector).not.toBeNull();
        expect((box?.y ?? Infinity) + (box?.height ?? 0), selector).toBeLessThanOrEqual(heightPx);
      }
      await page.close();
    },
  );

  it('shows the frame of the clip on the first screen of a desk', async () => {
    const page = await open('pass', 1280);
    const box = await page.locator('.picture image').boundingBox();
    expect(box?.width).toBeGreaterThan(400);
    expect((box?.y ?? Infinity) + (box?.height ?? 0)).toBeLessThanOrEqual(800);
    await page.close();
  });

  it('has the frame right below the first step on a phone', async () => {
    const page = await open('pass', 390, 844);
    const step = await page.locator('.do-first').boundingBox();
    const frame = await page.locator('.picture image').boundingBox();
    const gapPx = (frame?.y ?? Infinity) - (step?.y ?? 0) - (step?.height ?? 0);
    expect(gapPx).toBeGreaterThan(0);
    // A line of text, and no more.
    expect(gapPx).toBeLessThan(32);
    await page.close();
  });

  it('hides a layer of the frame by its box, with the keyboard too', async () => {
    const page = await open('pass', 1280);
    const layer = page.locator('.layer-safe');
    expect(await layer.isVisible()).toBe(true);
    await page.getByRole('checkbox', { name: 'Safe area' }).press('Space');
    expect(await layer.isVisible()).toBe(false);
    await page.close();
  });

  it('moves the window over the frame by the smoothing, and says what that costs and leaves', async () => {
    const page = await open('pass', 1280);
    const slider = page.getByRole('slider', { name: 'Try another smoothing' });
    const windowNow = (): Promise<string | null> => page.locator('svg .window').first().getAttribute('d');
    const ofReport = await windowNow();
    await slider.press('Home');
    expect(await windowNow()).not.toBe(ofReport);
    expect(await slider.getAttribute('aria-valuetext')).toMatch(
      /^[\d.]+ s of smoothing: crop [\d.]+ %, [\d.]+ px left, (?:within|over|too near) /,
    );
    expect(await page.locator('.slider-reading .mark').filter({ visible: true }).count()).toBe(1);
    await page.close();
  });

  it('keeps the links to the sections in sight on a desk, in a line elsewhere, and off paper', async () => {
    const page = await open('pass', 1280);
    await page.locator('#setup').scrollIntoViewIfNeeded();
    const box = await page.locator('.contents').boundingBox();
    expect(box?.y).toBeGreaterThanOrEqual(0);
    expect(box?.x).toBeLessThan((await page.locator('#setup').boundingBox())?.x ?? 0);
    for (const link of await page.locator('.contents a').all())
      expect((await link.boundingBox())?.height).toBeGreaterThanOrEqual(24);
    await page.setViewportSize({ width: 800, height: 900 });
    const line = await page.locator('.contents').boundingBox();
    const why = await page.locator('#reasons').boundingBox();
    expect((line?.y ?? Infinity) + (line?.height ?? 0)).toBeLessThanOrEqual(why?.y ?? 0);
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.contents').isVisible()).toBe(false);
    await page.close();
  });

  it('reaches the sections by the first key', async () => {
    const page = await open('pass', 1280);
    await page.keyboard.press('Tab');
    expect(await page.evaluate<number>('document.activeElement.getBoundingClientRect().left')).toBe(0);
    await page.keyboard.press('Enter');
    expect(page.url()).toMatch(/#reasons$/);
    await page.close();
  });

  it('prints what is folded away only where it belongs on paper', async () => {
    const page = await open('pass', 700);
    await page.emulateMedia({ media: 'print' });
    await page.evaluate(
      `document.querySelector('main').insertAdjacentHTML('beforeend',
        '<details class="paper-open"><summary>a</summary><p id="in">b</p></details><details><summary>c</summary><p id="out">d</p></details>')`,
    );
    expect((await page.locator('#in').boundingBox())?.height).toBeGreaterThan(5);
    expect(await page.locator('#out').boundingBox()).toBeNull();
    await page.close();
  });

  it('prints to a few pages of A4', async () => {
    const page = await open('pass', 1280);
    const pdf = (await page.pdf({ format: 'A4' })).toString('latin1');
    const pages = pdf.match(/\/Type\s*\/Page\b(?!s)/g) ?? [];
    expect(pages.length).toBeGreaterThan(2);
    expect(pages.length).toBeLessThanOrEqual(10);
    await page.close();
  });
});
