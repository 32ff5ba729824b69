/** `trundle log open ID`: where the report of a kept run is; written anew from the log when its files are gone. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { defineCommand, type ArgsDef } from 'citty';
import type { LogRow, LoggedRun, RunLog } from '../log/index.js';
import { writeRun } from '../report/index.js';
import { restoreBundle } from '../restore-bundle.js';
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
        const page = there ?? (await writeLogged(log, logged, args['out-dir'], io));
        io.out(`${page}\n`);
        const status = paper === undefined ? EXIT.measured : await printBeside(page, paper, io);
        if (args.view) await showInBrowser(page);
        return status;
      });
    },
  });
}

/** The page of a run whose report is where it was written, and is still of this run; null otherwise. */
export async function reportOf({ reportFolder, createdAt, clipSha256 }: LogRow): Promise<string | null> {
  if (reportFolder === null) return null;
  try {
    const text = await fs.readFile(path.join(reportFolder, 'run.json'), 'utf8');
    const run = JSON.parse(text) as { createdAt?: unknown; clip?: { sha256?: unknown } };
    const page = path.join(reportFolder, 'report.html');
    await fs.access(page);
    return run.createdAt === createdAt && run.clip?.sha256 === clipSha256 ? page : null;
  } catch {
    return null;
  }
}

/**
 * Writes the report of a kept run into a folder of its own, and has the log remember where.
 * @returns the page
 * @throws TrundleError `log-entry-unreadable` when it was kept without its series; `output-unwritable`
 */
export async function writeLogged(
  log: RunLog,
  { row, run, series, picture }: LoggedRun,
  outDir: string | undefined,
  io: Io,
): Promise<string> {
  if (series === null)
    throw new TrundleError(
      'log-entry-unreadable',
      `Run ${row.id} of the log was kept without its series, so its report cannot be written anew; measure "${row.clipFile}" again.`,
    );
  const name = `${path.basename(row.clipFile, path.extname(row.clipFile))}-run-${row.id}`;
  const folder = path.resolve(outDir ?? 'reports', name);
  await writeRun(folder, await restoreBundle(run, series, picture));
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
