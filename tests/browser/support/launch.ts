/** Starts a headless Chromium for page tests: the packaged one, else one that is installed; or says why none can start. */
import fs from 'node:fs';
import { chromium, type Browser } from 'playwright-core';
import packaged from '@sparticuz/chromium';

/** A running browser, or the reason why there is none and what to do about it. */
export type Launch = { readonly browser: Browser } | { readonly browser: null; readonly reason: string };

const INSTALLED = ['/usr/bin/chromium', '/usr/bin/chromium-browser'];
// The packaged set of arguments runs everything in one process, which dies when a page closes; these are enough.
const ARGS = ['--no-sandbox', '--disable-gpu', '--headless=shell'];
const FIX =
  'Install the libraries it needs (Debian and Ubuntu: apt-get install libnss3 libnspr4), or a chromium package.';

/** Tries the packaged Chromium, then installed ones. Never throws. */
export async function launchBrowser(): Promise<Launch> {
  const reasons: string[] = [];
  try {
    const executablePath = await packaged.executablePath();
    return { browser: await chromium.launch({ executablePath, args: ARGS, headless: true }) };
  } catch (error) {
    reasons.push(`packaged Chromium: ${firstLines(error)}`);
  }
  for (const executablePath of INSTALLED.filter((file) => fs.existsSync(file))) {
    try {
      return { browser: await chromium.launch({ executablePath, args: ARGS, headless: true }) };
    } catch (error) {
      reasons.push(`${executablePath}: ${firstLines(error)}`);
    }
  }
  return { browser: null, reason: `No browser can start. ${reasons.join(' | ')} ${FIX}` };
}

function firstLines(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  return text.split('\n').slice(0, 3).join(' ').slice(0, 400);
}
