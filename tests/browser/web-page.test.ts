/**
 * The local page in a real browser against the built program: one server and one measurement for all of it. The tests of one theme stand
 * in one file of web/; they run in this order, and only the first leaves something behind that others look at: the run of the sample clip.
 */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe } from 'vitest';
import { launchBrowser } from './support/launch.js';
import { servePage } from './support/served-page.js';
import type { Shared } from './support/watched-page.js';
import { asking } from './web/asking.js';
import { byKeyboard } from './web/by-keyboard.js';
import { comparing } from './web/comparing.js';
import { everyView } from './web/every-view.js';
import { measuring } from './web/measuring.js';
import { playing } from './web/playing.js';
import { queueing } from './web/queueing.js';
import { serving } from './web/serving.js';
import { writing } from './web/writing.js';

const launch = await launchBrowser();
if (launch.browser === null) process.stderr.write(`Page tests are left out. ${launch.reason}\n`);
const title = launch.browser === null ? `in a browser (left out: ${launch.reason})` : 'in a browser';

describe('the local page', () => {
  const shared = { browser: launch.browser as Browser } as Shared;
  beforeAll(async () => {
    shared.served = await servePage();
  });
  afterAll(async () => {
    await launch.browser?.close();
    await shared.served.remove();
  });

  describe.skipIf(launch.browser === null)(title, () => {
    measuring(shared);
    asking(shared);
    playing(shared);
    byKeyboard(shared);
    queueing(shared);
    comparing(shared);
    writing(shared);
    everyView(shared);
  });

  serving(shared);
});
