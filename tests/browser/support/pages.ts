/** Every kind of page that the program writes, from made-up runs: what the browser tests look at. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { whatIf } from '../../../src/judge/index.js';
import {
  dataUri,
  encodePicture,
  renderComparison,
  renderHtml,
  renderWhatIf,
} from '../../../src/report/index.js';
import { WHAT_IF_SCHEMA, parseWhatIf } from '../../../src/run/index.js';
import { rolledPass } from '../../judge/advice/support/rolled-pass.js';
import { filesOf } from '../../judge/what-if/support/rolled-run.js';
import { madeUpBundle } from '../../report/support/made-up-bundle.js';
import { MADE_UP_COMPARISONS } from '../../report/support/made-up-comparisons.js';
import { madeUpLogPage } from '../../report/support/made-up-log.js';
import type { Change } from '../../report/support/made-up-run.js';

/** A page with a hostile name, over both limits. */
const LONG_AND_HOSTILE =
  '"><img src=x onerror=alert(1)> a rather long name of a clip, with spaces, pass 03 of the tiled corridor.mp4';

const FAILING: Change = (run) => {
  run.stabilise.cropPercent = 8;
  run.stabilise.residual.rmsPx = 1.9;
  run.clip.file = LONG_AND_HOSTILE;
};

/** The pages, by name. */
export const PAGES = {
  pass: () => report(),
  fail: () => report(FAILING),
  unmeasurable: () => report((run) => (run.tracking.featuresMedian = 12)),
  comparison: () => renderComparison(MADE_UP_COMPARISONS['threeSetups']()),
  'what-if': () => whatIfPage(),
  log: () => madeUpLogPage(),
} as const satisfies Record<string, () => string | Promise<string>>;

/** Name of a page. */
export type PageName = keyof typeof PAGES;

/** The names in order. */
export const PAGE_NAMES = Object.keys(PAGES) as PageName[];

/** Writes every page into `folder` as NAME.html. */
export async function writePages(folder: string): Promise<void> {
  for (const name of PAGE_NAMES) await fs.writeFile(path.join(folder, `${name}.html`), await PAGES[name]());
}

async function report(change?: Change): Promise<string> {
  const bundle = madeUpBundle(change);
  const uri = bundle.picture && dataUri(await encodePicture(bundle.picture), 'image/jpeg');
  return renderHtml(bundle, uri);
}

function whatIfPage(): string {
  const pass = rolledPass({ seed: 3, speedMps: 0.2, durationS: 6 });
  const { run } = filesOf(pass);
  return renderWhatIf(
    parseWhatIf({
      schema: WHAT_IF_SCHEMA,
      tool: { version: '0.1.0', commit: null },
      run: { place: 'reports/hall', clip: 'hall.mp4', sha256: '0', createdAt: run.createdAt, pass: run.pass },
      ...whatIf(pass, { focalLengthMm: 75, speedMps: 0.16 }, { verdict: run.verdict }),
    }),
  );
}
