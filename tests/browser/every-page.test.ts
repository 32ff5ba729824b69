/** Every kind of page at the size of a phone, a laptop and a sheet of paper: complete, quiet, accessible, and as it was stored. */
import fs from 'node:fs/promises';
import { createRequire } from 'node:module';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchBrowser } from './support/launch.js';
import { PAGE_NAMES, writePages, type PageName } from './support/pages.js';
import { expectSamePicture } from './support/same-picture.js';

interface Size {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly media: 'screen' | 'print';
}

/** Text width of A4 inside margins of 12 mm, in CSS px of 1/96 inch. */
const A4_PX = Math.floor(((210 - 24) / 25.4) * 96);
const SIZES = {
  phone: { widthPx: 390, heightPx: 844, media: 'screen' },
  laptop: { widthPx: 1280, heightPx: 800, media: 'screen' },
  A4: { widthPx: A4_PX, heightPx: 1040, media: 'print' },
} as const satisfies Record<string, Size>;
type SizeName = keyof typeof SIZES;

/** Sizes between, at which nothing may stick out either: a small phone, a tablet, Letter paper (215.9 mm wide). */
const OTHER_SIZES: Record<string, Size> = {
  'small phone': { widthPx: 360, heightPx: 740, media: 'screen' },
  tablet: { widthPx: 800, heightPx: 1100, media: 'screen' },
  Letter: { widthPx: Math.floor(((215.9 - 24) / 25.4) * 96), heightPx: 960, media: 'print' },
};
const ALL_SIZES: Record<string, Size> = { ...SIZES, ...OTHER_SIZES };

const CASES = PAGE_NAMES.flatMap((page) =>
  (Object.keys(SIZES) as SizeName[]).map((size): [PageName, SizeName] => [page, size]),
);

const require = createRequire(import.meta.url);
/** One font for every machine, so that lines break alike. */
const FONT_STYLE = ['DejaVuSans', 'DejaVuSans-Bold']
  .map((name) => {
    const file = pathToFileURL(require.resolve(`dejavu-fonts-ttf/ttf/${name}.ttf`)).href;
    return `@font-face{font-family:"Stored";src:url("${file}");font-weight:${name.endsWith('Bold') ? 'bold' : 'normal'}}`;
  })
  .join('');

const launch = await launchBrowser();
if (launch.browser === null) process.stderr.write(`Page tests are left out. ${launch.reason}\n`);
const title = launch.browser === null ? `every page (left out: ${launch.reason})` : 'every page';

describe.skipIf(launch.browser === null)(title, () => {
  const browser = launch.browser as Browser;
  let folder = '';

  beforeAll(async () => {
    folder = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-pages-'));
    await writePages(folder);
  });

  afterAll(async () => {
    await browser.close();
    await fs.rm(folder, { recursive: true, force: true });
  });

  /** Opens a page; `noise` collects requests beyond the file and the fonts of this test, console lines, errors and dialogs. */
  async function open(
    name: PageName,
    { widthPx, heightPx, media }: Size,
    change: { readonly colorScheme?: 'light' | 'dark'; readonly ownFont?: boolean } = {},
  ): Promise<{ page: Page; noise: string[] }> {
    const page = await browser.newPage({
      viewport: { width: widthPx, height: heightPx },
      colorScheme: change.colorScheme ?? 'light',
      // Only for the font: the policy of the page forbids any.
      bypassCSP: change.ownFont === true,
    });
    const address = pathToFileURL(path.join(folder, `${name}.html`)).href;
    const noise: string[] = [];
    page.on('request', (request) => {
      const url = request.url();
      if (url !== address && !url.startsWith('data:') && !url.endsWith('.ttf')) noise.push(url);
    });
    page.on('console', (message) => noise.push(message.text()));
    page.on('pageerror', (error) => noise.push(error.message));
    page.on('dialog', (dialog) => noise.push(`dialog ${dialog.message()}`));
    await page.emulateMedia({ media });
    await page.goto(address);
    if (change.ownFont) {
      await page.addStyleTag({ content: `${FONT_STYLE}body,body *{font-family:"Stored" !important}` });
      await page.evaluate('document.fonts.ready.then(() => undefined)');
    }
    return { page, noise };
  }

  /** What reaches beyond the right edge, but inside boxes that scroll by themselves on a screen. */
  function beyond(page: Page, media: Size['media']): Promise<string[]> {
    return page.evaluate<string[]>(
      `[...document.querySelectorAll('body *')]
        .filter((e) => (${media === 'print'} || !e.closest('.scroll *')) && e.getBoundingClientRect().right > innerWidth + 1)
        .map((e) => e.tagName + ' ' + e.textContent.slice(0, 60))`,
    );
  }

  it.each(CASES)('looks as it was stored: %s, %s', async (name, size) => {
    const { page } = await open(name, SIZES[size], { ownFont: true });
    const png = await page.screenshot({ fullPage: true, animations: 'disabled' });
    await page.close();
    await expectSamePicture(`${name}-${size}`, png);
  });

  it.each(
    PAGE_NAMES.flatMap((name) => Object.keys(ALL_SIZES).map((size): [PageName, string] => [name, size])),
  )('is quiet and nothing sticks out with every fold open: %s, %s', async (name, size) => {
    const { page, noise } = await open(name, ALL_SIZES[size]);
    await page.evaluate('document.querySelectorAll("details").forEach((d) => (d.open = true))');
    expect(await beyond(page, ALL_SIZES[size].media)).toEqual([]);
    expect(
      await page.evaluate<number>(
        'document.documentElement.scrollWidth - document.documentElement.clientWidth',
      ),
    ).toBeLessThanOrEqual(0);
    expect(noise).toEqual([]);
    await page.close();
  });

  it.each(
    PAGE_NAMES.flatMap((name) => (['light', 'dark'] as const).map((scheme) => [name, scheme] as const)),
  )('has no fault that axe-core finds: %s, %s', async (name, colorScheme) => {
    const { page } = await open(name, colorScheme === 'light' ? SIZES.phone : SIZES.laptop, { colorScheme });
    await page.evaluate('document.querySelectorAll("details").forEach((d) => (d.open = true))');
    const axe = await fs.readFile(require.resolve('axe-core/axe.min.js'), 'utf8');
    await page.evaluate(`${axe}; undefined`);
    const faults = await page.evaluate<string[]>(
      `axe.run(document, { resultTypes: ['violations'] }).then(({ violations }) =>
          violations.map((v) => v.id + ': ' + v.nodes.slice(0, 3).map((n) => n.html.slice(0, 120)).join(' | ')))`,
    );
    expect(faults).toEqual([]);
    await page.close();
  });

  it.each(PAGE_NAMES)('is white on paper whatever the screen likes: %s', async (name) => {
    const { page } = await open(name, SIZES.A4, { colorScheme: 'dark' });
    expect(await page.evaluate<string>('getComputedStyle(document.body).backgroundColor')).toBe(
      'rgb(255, 255, 255)',
    );
    await page.close();
  });
});
