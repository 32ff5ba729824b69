/** `trundle log open ID`: where the report of a kept run is; written anew from the log when its files are gone. */
import path from 'node:path';
import { defineCommand, type ArgsDef } from 'citty';
import type { LoggedRun, RunLog } from '../log/index.js';
import { bundleOfLogged, reportOf } from '../logged-report.js';
import { writeRun } from '../report/index.js';
import { EXIT, TrundleError, type ExitStatus } from '../run/index.js';
import type { Io } from './io.js';
import { DATA_ARGS, oneId, withRuns } from './log-place.js';
import { paperOf, PDF_ARGS, printBeside } from './report-options.js';
import { showInBrowser } from './show-in-browser.js';

const ARGS = {
  run: { type: 'positional', required: true, valueHint: '4', description: 'number of the run' },
  'out-dir': {
    type: 'string',
    valueHint: 'reports',
    description: 'write the report anew, into a folder of its own in this one',
  },
  view: { type: 'boolean', description: 'show the page with the browser of this machine' },
  ...PDF_ARGS,
  ...DATA_ARGS,
} as const satisfies ArgsDef;

/** The command; its `run` gives the exit status. */
export function logOpenCommand(io: Io) {
  return defineCommand({
    meta: { name: 'open', description: 'print the path of the report, written anew when it is gone' },
    args: ARGS,
    run: ({ args }): Promise<ExitStatus> => {
      const paper = paperOf(args);
      return withRuns(args['data-dir'], io, async (log) => {
        const logged = log.get(oneId(args._));
        const there = args['out-dir'] === undefined ? await reportOf(logged.row) : null;
        const page = there?.page ?? (await writeLogged(log, logged, args['out-dir'], io));
        io.out(`${page}\n`);
        const status = paper === undefined ? EXIT.measured : await printBeside(page, paper, io);
        if (args.view) await showInBrowser(page);
        return status;
      });
    },
  });
}

/**
 * Writes the report of a kept run into a folder of its own, and has the log remember where.
 * @returns the page
 * @throws TrundleError `log-entry-unreadable` when it was kept without its series; `output-unwritable`
 */
export async function writeLogged(
  log: RunLog,
  logged: LoggedRun,
  outDir: string | undefined,
  io: Io,
): Promise<string> {
  const { row } = logged;
  const bundle = await bundleOfLogged(logged);
  const name = `${path.basename(row.clipFile, path.extname(row.clipFile))}-run-${row.id}`;
  const folder = path.resolve(outDir ?? 'reports', name);
  await writeRun(folder, bundle);
  io.err(`The report of run ${row.id} was written anew from the log.\n`);
  try {
    log.movedTo(row.id, folder);
  } catch (error) {
    // The report is there all the same.
    if (!(error instanceof TrundleError && error.code === 'log-unwritable')) throw error;
    io.err('The log may only be read by this user, so it does not remember where the report is now.\n');
  }
  return path.join(folder, 'report.html');
}
