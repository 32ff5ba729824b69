/** Names, notes and messages of others in every page, in a real browser: nothing runs, nothing is asked of the network, all is read. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, describe, expect, it } from 'vitest';
import { whatIf } from '../../src/judge/index.js';
import { renderComparison, renderHtml, renderWhatIf, reportParts } from '../../src/report/index.js';
import { contactPicture } from '../../src/report/contact/contact-picture.js';
import { WHAT_IF_SCHEMA } from '../../src/run/index.js';
import { launchBrowser } from '../browser/support/launch.js';
import { clipFolder } from '../footage/made-clips.js';
import { rolledPass } from '../judge/advice/support/rolled-pass.js';
import { filesOf } from '../judge/what-if/support/rolled-run.js';
import { madeUpBundle } from '../report/support/made-up-bundle.js';
import { MADE_UP_COMPARISONS } from '../report/support/made-up-comparisons.js';
import { madeUpList, madeUpLogPage } from '../report/support/made-up-log.js';
import { HOSTILE, spoiled } from './support/hostile-text.js';

function bundleOfOthers(): ReturnType<typeof madeUpBundle> {
  const bundle = madeUpBundle();
  bundle.run.warnings = [{ code: 'clip-damaged', text: 'FFmpeg said this.', atS: 1 }];
  bundle.run.pass = {
    floor: 'hall',
    lane: '1',
    setup: 'wheels',
    notes: 'wet',
    slate: '27B',
    tags: ['night'],
    operator: 'Mara',
  };
  return { ...bundle, run: { ...spoiled(bundle.run, ['unit']), units: bundle.run.units } };
}

function whatIfOfOthers(): WhatIf {
  const pass = rolledPass({ seed: 3, speedMps: 0.2, durationS: 6 });
  const { run } = filesOf(pass);
  return spoiled(
    {
      schema: WHAT_IF_SCHEMA,
      tool: { version: '0.1.0', commit: null },
      run: {
        place: 'reports/hall',
        clip: 'hall.mp4',
        sha256: '0',
        createdAt: run.createdAt,
        pass: { floor: 'hall' },
      },
      ...whatIf(pass, { focalLengthMm: 75, speedMps: 0.16 }, { verdict: run.verdict }),
    } as unknown as WhatIf,
    ['unit'],
  );
}

/** Markup that the local page puts into itself; here without the policy that would forbid what runs. */
function partsAsPage(): string {
  const { advice, sections } = reportParts(bundleOfOthers());
  const put = JSON.stringify(advice + sections).replace(/</g, '\\u003c');
  return `<!doctype html><meta charset="utf-8"><body><script>document.body.innerHTML = ${put};</script>`;
}

type WhatIf = Parameters<typeof renderWhatIf>[0];

const PAGES = {
  report: () => renderHtml(bundleOfOthers(), null),
  comparison: () => renderComparison(spoiled(MADE_UP_COMPARISONS['threeSetups'](), ['unit'])),
  'what if': () => renderWhatIf(whatIfOfOthers()),
  log: () =>
    madeUpLogPage({
      runs: madeUpList()
        .slice(0, 4)
        .map((run) => ({ run: spoiled(run), reportHref: `run ${HOSTILE}/report.html`, thumbnailUri: null })),
      filter: HOSTILE,
      file: HOSTILE,
    }),
  'parts of the local page': partsAsPage,
};

/** Whether anything in the document could run that is not ours; and how much of the hostile text is there to read. */
const LOOK = `(() => {
  document.querySelectorAll('details').forEach((one) => (one.open = true));
  const all = [...document.querySelectorAll('*')];
  for (const one of all) for (const kind of ['mouseover', 'focus', 'error', 'click'])
    if (kind !== 'click' || one.tagName === 'BUTTON') one.dispatchEvent(new Event(kind));
  const bad = (one) => [...one.attributes].some(({ name, value }) => name.startsWith('on') || /^\\s*(javascript|data:text)/i.test(value) && name !== 'content')
    || one.tagName === 'IMG' && !one.src.startsWith('data:')
    || one.tagName === 'SCRIPT' && one.type !== 'application/json' && /^window\\.ran/.test(one.textContent);
  return {
    ran: window.ran ?? 0,
    bad: all.filter(bad).map((one) => one.outerHTML.slice(0, 200)),
    read: document.documentElement.textContent.split('<img src="http://127.0.0.1:9/x"').length - 1,
    steers: /[\\u0000-\\u0008\\u000e-\\u001f\\u007f-\\u009f\\u202a-\\u202e\\u2066-\\u2069]/.test(document.body.innerText + document.title),
  };
})()`;

const launch = await launchBrowser();
if (launch.browser === null) process.stderr.write(`Page tests are left out. ${launch.reason}\n`);

describe.skipIf(launch.browser === null)('text of others in a page', () => {
  const browser = launch.browser as Browser;
  const folder = clipFolder();
  afterAll(() => browser.close());

  it.each(Object.keys(PAGES) as (keyof typeof PAGES)[])('is only text: %s', async (name) => {
    const file = path.join(folder, `${name}.html`);
    await fs.writeFile(file, PAGES[name]());
    const address = pathToFileURL(file).href;
    const page = await browser.newPage();
    const noise: string[] = [];
    page.on('request', (request) => {
      if (request.url() !== address && !request.url().startsWith('data:')) noise.push(request.url());
    });
    page.on('console', (message) => noise.push(message.text()));
    page.on('pageerror', (error) => noise.push(error.message));
    page.on('dialog', (dialog) => noise.push(dialog.message()));
    await page.goto(address);
    const seen = await page.evaluate<{ ran: number; bad: string[]; read: number; steers: boolean }>(LOOK);
    await page.close();
    expect(noise).toEqual([]);
    expect({ ...seen, read: undefined }).toEqual({ ran: 0, bad: [], steers: false, read: undefined });
    expect(seen.read).toBeGreaterThan(3);
  });
});

describe('text of others in the picture to send', () => {
  it('is drawn, whatever it holds', async () => {
    const png = await contactPicture(bundleOfOthers());
    expect(Buffer.from(png).subarray(1, 4).toString('latin1')).toBe('PNG');
  });
});
