/** Starts a headless Chromium: the one named in TRUNDLE_CHROMIUM, else the packaged one, else one that is installed; or says why none can. */
import type { Browser } from 'playwright-core';
import { fileTexts } from '../../texts/index.js';
import { installedBrowsers } from './installed-browsers.js';
import { packagedBrowser } from './packaged-browser.js';

/** Where a browser was found. */
export type BrowserSource = keyof typeof fileTexts.browserFrom;

/** A running browser, or the reason why there is none and what to do about it. */
export type Launch =
  | { readonly browser: Browser; readonly from: BrowserSource; readonly path: string }
  | { readonly browser: null; readonly reason: string; readonly fix: string };

interface Candidate {
  readonly from: BrowserSource;
  /** As it is told when it does not start. */
  readonly name: string;
  /** Found when it is its turn: the packaged browser is unpacked by that. */
  readonly path: () => Promise<string>;
}

/**
 * Our own pages alone are shown, without scripts from elsewhere and without a network; a sandbox that many machines do not allow would
 * only keep the browser from starting.
 */
const ARGS = ['--no-sandbox', '--disable-gpu'];
/** The packaged browser is the headless shell alone. Its own set of arguments runs all in one process, which dies when a page closes. */
const PACKAGED_ARGS = [...ARGS, '--headless=shell'];
const START_WITHIN_MS = 30_000;

/**
 * Starts a browser. The caller closes it.
 *
 * Order: TRUNDLE_CHROMIUM when it is set, and then only that; the packaged browser (Linux); those installed under their usual names
 * and places. The libraries are loaded here, so that nothing else waits for them. Never throws.
 */
export async function launchChromium(
  environment: Readonly<Record<string, string | undefined>> = process.env,
): Promise<Launch> {
  const setting = environment['TRUNDLE_CHROMIUM'];
  const candidates = setting ? [settingOf(setting)] : await foundOnes(environment);
  const tried: string[] = [];
  for (const { from, name, path } of candidates) {
    try {
      const executablePath = await path();
      const { chromium } = await import('playwright-core');
      const args = from === 'packaged' ? PACKAGED_ARGS : ARGS;
      const browser = await chromium.launch({
        executablePath,
        args,
        headless: true,
        timeout: START_WITHIN_MS,
        // Signals are answered in one place, by the program: left to itself, the library would end the process in the middle of its work.
        handleSIGINT: false,
        handleSIGTERM: false,
        handleSIGHUP: false,
      });
      return { browser, from, path: executablePath };
    } catch (error) {
      tried.push(fileTexts.browserTried(name, firstLineOf(error)));
    }
  }
  return {
    browser: null,
    reason: tried.length === 0 ? fileTexts.browserNowhere : tried.join('; '),
    fix: setting ? fileTexts.browserFixSetting : fileTexts.browserFix,
  };
}

function settingOf(path: string): Candidate {
  return { from: 'setting', name: `TRUNDLE_CHROMIUM=${path}`, path: () => Promise.resolve(path) };
}

async function foundOnes(environment: Readonly<Record<string, string | undefined>>): Promise<Candidate[]> {
  const installed = await installedBrowsers(environment, process.platform);
  const others = installed.map((path): Candidate => ({
    from: 'installed',
    name: path,
    path: () => Promise.resolve(path),
  }));
  return process.platform === 'linux' ? [PACKAGED, ...others] : others;
}

/** Only built for Linux; an optional dependency, which an installation may have left out. */
const PACKAGED: Candidate = {
  from: 'packaged',
  name: fileTexts.browserFrom.packaged,
  path: packagedBrowser,
};

/** What a person can use of a failed start: the missing library where one is named, else the first line. */
function firstLineOf(error: unknown): string {
  const text = (error instanceof Error ? error.message : String(error)).replace(
    // Terminal colours of the library's own log.
    /\u001b\[[\d;]*m/g,
    '',
  );
  const missing = /error while loading shared libraries: (\S+?):?\s/.exec(text)?.[1];
  if (missing !== undefined) return missing;
  return text
    .split('\n')[0]
    .replace(/^\w+\.launch: /, '')
    .slice(0, 160);
}
