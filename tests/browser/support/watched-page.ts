/** Opens the local page in a browser and writes down what it should not do: lines in the console, errors, dialogs, requests to elsewhere. */
import fs from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright-core';
import type { ServedPage } from './served-page.js';

/** What the themes of the tests share. */
export interface Shared {
  readonly browser: Browser;
  /** There once the tests run. */
  served: ServedPage;
}

/** How the page is opened. */
export interface WindowOptions {
  readonly widthPx?: number;
  readonly heightPx?: number;
  /** Dark where nothing was chosen. */
  readonly theme?: 'light';
  /** Of the page. */
  readonly path?: string;
}

/** A page that is let in. */
export interface WatchedPage {
  readonly page: Page;
  readonly noise: string[];
  /** Goes to an address of the page. */
  readonly goTo: (path: string) => Promise<void>;
  /** Closes it with all it keeps. */
  readonly close: () => Promise<void>;
}

/** A browser without graphics hardware tells so when a picture that it drew itself is read, as for a screenshot; no page can help it. */
const OWN_LINES = /GPU stall due to ReadPixels/;

/** Opens it at the address that was printed. */
export async function openWatched(
  { browser, served }: Shared,
  { widthPx = 1280, heightPx = 800, theme, path = '/' }: WindowOptions = {},
): Promise<WatchedPage> {
  const context = await browser.newContext({ viewport: { width: widthPx, height: heightPx } });
  if (theme !== undefined)
    await context.addInitScript({
      // The empty page that a window begins with keeps nothing.
      content: `if (location.protocol === 'http:') localStorage.setItem('trundle-theme', '${theme}')`,
    });
  const noise: string[] = [];
  context.on('console', (message) => {
    if (!OWN_LINES.test(message.text())) noise.push(`${message.type()}: ${message.text()}`);
  });
  context.on('weberror', (error) => noise.push(error.error().message));
  context.on('dialog', (dialog) => {
    noise.push(`dialog ${dialog.message()}`);
    void dialog.dismiss();
  });
  context.on('request', (request) => {
    const url = request.url();
    if (!/^(data|blob):/.test(url) && new URL(url).origin !== served.origin) noise.push(`request ${url}`);
  });
  const page = await context.newPage();
  await page.goto(served.address);
  const goTo = async (to: string): Promise<void> => {
    await page.goto(`${served.origin}${to}`);
  };
  if (path !== '/') await goTo(path);
  return { page, noise, goTo, close: () => context.close() };
}

/** A file to drop. */
export interface DroppedFile {
  readonly name: string;
  readonly bytes: Buffer;
}

/** Drops files on the window as the browser would: they are carried over it, held, and let go. */
export async function dropFiles(page: Page, files: readonly DroppedFile[]): Promise<void> {
  const listed = files.map(({ name, bytes }) => ({ name, base64: bytes.toString('base64') }));
  const dataTransfer = await page.evaluateHandle(
    `(() => {
      const data = new DataTransfer();
      for (const { name, base64 } of ${JSON.stringify(listed)})
        data.items.add(new File([Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0))], name));
      return data;
    })()`,
  );
  for (const event of ['dragenter', 'dragover', 'drop'])
    await page.dispatchEvent('#view', event, { dataTransfer });
}

const axe = fs.readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/**
 * Faults that axe-core finds by the rules of WCAG A and AA and its own, with every fold open. Sizes of targets are left to
 * `smallTargets`: for axe-core a control is as small as what a bar at the foot of the window leaves of it before one scrolls.
 */
export async function axeFaults(page: Page): Promise<string[]> {
  await page.evaluate('document.querySelectorAll("details:not([open])").forEach((one) => (one.open = true))');
  await page.evaluate(`if (!('axe' in window)) { ${axe} } undefined`);
  return page.evaluate<string[]>(
    `axe.run(document, { resultTypes: ['violations'] }).then(({ violations }) =>
      violations.map((v) => v.id + ': ' + v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)).join(' | ')))`,
  );
}

/** What reaches beyond the right edge, but inside boxes that scroll by themselves; empty where nothing does. */
export async function beyondEdge(page: Page): Promise<string[]> {
  return page.evaluate<string[]>(
    `(() => {
      const root = document.documentElement;
      const scrolls = (e) => {
        for (let box = e.parentElement; box && box !== document.body; box = box.parentElement)
          if (/auto|scroll|hidden|clip/.test(getComputedStyle(box).overflowX)) return true;
        return false;
      };
      const out = [...document.querySelectorAll('body *')].filter(
        (e) => e.getBoundingClientRect().right > innerWidth + 1 && e.getBoundingClientRect().width > 0 && !scrolls(e));
      const names = out.map((e) => e.tagName + '.' + e.getAttribute('class') + ' ' + e.textContent.slice(0, 60));
      return root.scrollWidth > root.clientWidth ? ['the window scrolls sideways', ...names] : names;
    })()`,
  );
}

/** Controls smaller than `leastPx` in either direction, but links in a line of text, which WCAG 2.2 excepts. */
export async function smallTargets(page: Page, leastPx: number): Promise<string[]> {
  return page.evaluate<string[]>(
    `[...document.querySelectorAll('a[href], button, input, select, textarea, summary, [role=slider]')]
      .filter((e) => e.checkVisibility({ visibilityProperty: true, opacityProperty: true }) && !e.closest('.skip, .unseen'))
      .filter((e) => !(e.tagName === 'A' && getComputedStyle(e).display === 'inline'))
      .map((e) => {
        const box = e.getBoundingClientRect();
        const label = /^(checkbox|radio|file)$/.test(e.type ?? '') ? e.closest('label')?.getBoundingClientRect() : undefined;
        return [e, Math.max(box.width, label?.width ?? 0), Math.max(box.height, label?.height ?? 0)];
      })
      .filter(([, width, height]) => width > 0 && (width < ${leastPx} - 0.5 || height < ${leastPx} - 0.5))
      .map(([e, width, height]) => e.outerHTML.slice(0, 100) + ' ' + width.toFixed(1) + ' x ' + height.toFixed(1))`,
  );
}
