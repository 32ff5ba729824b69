/** Starts a headless Chromium for page tests as the program itself does; or says why none can start. */
import type { Browser } from 'playwright-core';
import { launchChromium } from '../../../src/report/pdf/launch-chromium.js';

/** A running browser, or the reason why there is none and what to do about it. */
export type Launch = { readonly browser: Browser } | { readonly browser: null; readonly reason: string };

/** Starts it. Never throws. */
export async function launchBrowser(): Promise<Launch> {
  const launch = await launchChromium();
  if (launch.browser !== null) return { browser: launch.browser };
  return { browser: null, reason: `No browser can start: ${launch.reason}; ${launch.fix}.` };
}
