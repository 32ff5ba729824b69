/** Prints one of our pages as PDF, as its print style has it: static, without scripts, without a network. */
import { TrundleError } from '../../run/index.js';
import { fileTexts } from '../../texts/index.js';
import { launchChromium } from './launch-chromium.js';

/** Paper that pages are printed on. */
export const PRINT_PAPERS = ['a4', 'letter'] as const;
export type PrintPaper = (typeof PRINT_PAPERS)[number];

/** How a page is printed. */
export interface PrintOptions {
  readonly paper: PrintPaper;
  /** Where TRUNDLE_CHROMIUM and the PATH are looked up; those of this process unless given. */
  readonly environment?: Readonly<Record<string, string | undefined>> | undefined;
  /** Stops the printing and ends the browser. */
  readonly signal?: AbortSignal | undefined;
}

const PRINT_WITHIN_MS = 60_000;
const HEAD_END = '</head>';

/**
 * Prints a page: tagged for screen readers, with an outline of its headings.
 *
 * @param html a page that stands alone; its margins and page numbers are those of its own style
 * @returns the PDF file
 * @throws TrundleError `no-browser` when no browser starts or it breaks off, with what to do; `interrupted`
 */
export async function printPage(
  html: string,
  { paper, environment, signal }: PrintOptions,
): Promise<Uint8Array> {
  const launch = await launchChromium(environment);
  if (launch.browser === null)
    throw new TrundleError('no-browser', fileTexts.noBrowser(launch.reason, launch.fix));
  const { browser } = launch;
  const stop = (): void => void browser.close().catch(() => undefined);
  signal?.addEventListener('abort', stop, { once: true });
  try {
    refuseIfStopped(signal);
    const context = await browser.newContext({
      javaScriptEnabled: false,
      colorScheme: 'light',
      offline: true,
    });
    await context.route('**/*', (route) => route.abort());
    const page = await context.newPage();
    page.setDefaultTimeout(PRINT_WITHIN_MS);
    await page.emulateMedia({ media: 'print' });
    await page.setContent(onPaper(html, paper), { waitUntil: 'load' });
    return await page.pdf({ preferCSSPageSize: true, printBackground: true, tagged: true, outline: true });
  } catch (cause) {
    refuseIfStopped(signal);
    const why = (cause instanceof Error ? cause.message : String(cause)).split('\n')[0].slice(0, 160);
    throw new TrundleError('no-browser', fileTexts.printFailed(why), { cause });
  } finally {
    signal?.removeEventListener('abort', stop);
    await browser.close().catch(() => undefined);
  }
}

/** @throws TrundleError `interrupted` */
function refuseIfStopped(signal: AbortSignal | undefined): void {
  if (signal?.aborted) throw new TrundleError('interrupted', fileTexts.printStopped);
}

/** The page with the size of its sheets, after its own style, which leaves that open. */
function onPaper(html: string, paper: PrintPaper): string {
  const at = html.indexOf(HEAD_END);
  const style = `<style>@page{size:${paper} portrait}</style>`;
  return at < 0 ? style + html : html.slice(0, at) + style + html.slice(at);
}
