/** How long a report takes to open in the browser that comes along. */
import fs from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { median } from '../../src/numerics/index.js';
import { launchBrowser } from '../browser/support/launch.js';

const REPORTS = path.resolve(import.meta.dirname, '../../reports');
const TIMES = 5;

/** Opens each sample report some times. */
export async function printPageTable(write: (text: string) => void): Promise<void> {
  const launch = await launchBrowser();
  if (launch.browser === null) return write(`\nPages are left out: ${launch.reason}\n`);
  write('\n| report | size, kB | until it is loaded, ms |\n|---|---|---|\n');
  try {
    for (const name of fs.readdirSync(REPORTS)) {
      const file = path.join(REPORTS, name, 'report.html');
      if (!fs.existsSync(file)) continue;
      const tookMs: number[] = [];
      for (let n = 0; n < TIMES; n++) {
        const page = await launch.browser.newPage({ viewport: { width: 1280, height: 800 } });
        const startedMs = performance.now();
        await page.goto(pathToFileURL(file).href, { waitUntil: 'load' });
        tookMs.push(performance.now() - startedMs);
        await page.close();
      }
      const sizeKb = (fs.statSync(file).size / 1000).toFixed(0);
      write(`| ${name} | ${sizeKb} | ${median(Float64Array.from(tookMs)).toFixed(0)} |\n`);
    }
  } finally {
    await launch.browser.close();
  }
}
