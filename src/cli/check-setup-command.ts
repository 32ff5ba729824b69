/** `trundle check-setup`: what was found on this machine, its versions, and the fix for what is missing. */
import { defineCommand } from 'citty';
import { describeTools, lookForTools } from '../footage/index.js';
import { launchChromium } from '../report/index.js';
import { EXIT, type ExitStatus } from '../run/index.js';
import { fileTexts } from '../texts/index.js';
import { toolVersion } from '../tool-version.js';
import type { Io } from './io.js';

/** The command; its `run` gives the exit status. */
export function checkSetupCommand(io: Io) {
  return defineCommand({
    meta: { name: 'check-setup', description: 'show what was found on this machine and what is missing' },
    args: {},
    async run(): Promise<ExitStatus> {
      const { version, commit } = toolVersion();
      const rows = [
        {
          what: 'trundle',
          version: commit ? `${version} (${commit})` : version,
          from: 'this program',
          ok: true,
          fix: '',
        },
        {
          what: 'Node.js',
          version: process.versions.node,
          from: process.execPath,
          ok: Number(process.versions.node.split('.')[0]) >= 20,
          fix: 'install Node.js 20 or newer',
        },
        ...describeTools(await lookForTools()),
      ];
      for (const row of rows) io.out(rowText(row, row.ok ? 'ok' : 'MISSING'));
      const printer = await browserRow();
      // Without it everything is measured and written all the same.
      io.out(rowText(printer, printer.ok ? 'ok' : 'without'));
      return rows.every((row) => row.ok) ? EXIT.measured : EXIT.clipUnusable;
    },
  });
}

interface Row {
  readonly what: string;
  readonly version: string;
  readonly from: string;
  readonly ok: boolean;
  readonly fix: string;
}

function rowText({ what, version, from, ok, fix }: Row, state: string): string {
  return `${state.padEnd(7)} ${what.padEnd(9)} ${version || '-'}  ${from}${ok ? '' : `  -> ${fix}`}\n`;
}

/** The browser that prints reports; it is started to see whether it does. */
async function browserRow(): Promise<Row> {
  const launch = await launchChromium();
  if (launch.browser === null) {
    const { reason, fix } = launch;
    return { what: 'browser', version: '', from: `for --pdf alone (${reason})`, ok: false, fix };
  }
  const version = launch.browser.version();
  await launch.browser.close();
  const from = `${fileTexts.browserFrom[launch.from]}: ${launch.path}, for --pdf`;
  return { what: 'browser', version, from, ok: true, fix: '' };
}
