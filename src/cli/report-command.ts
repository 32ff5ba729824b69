/** `trundle report RUN...`: writes page, pictures and PDF of measured runs anew from their files, without their clips. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { defineCommand, type ArgsDef, type ParsedArgs } from 'citty';
import type { LoggedRun } from '../log/index.js';
import { reportOf } from '../logged-report.js';
import { checkPlaceOfRun } from '../place-of-run.js';
import { readMeasured } from '../read-measured.js';
import { writeRun } from '../report/index.js';
import { restoreBundle } from '../restore-bundle.js';
import { EXIT, TrundleError, type ExitStatus, type RunDocument, type RunSeries } from '../run/index.js';
import { COMMAND_META } from './command-meta.js';
import { tell, type Io } from './io.js';
import { writeLogged } from './log-open.js';
import { DATA_ARGS, idsOf, withRuns } from './log-place.js';
import { paperOf, PDF_ARGS, printBeside, UNITS_ARGS, unitsOf } from './report-options.js';

/** What the number of a run in the log begins with. */
const LOG_PREFIX = 'log:';
const FRAME = 'frame.jpg';
const PAGE = 'report.html';
const PDF = 'report.pdf';

const ARGS = {
  run: {
    type: 'positional',
    required: true,
    valueHint: 'reports/hall',
    description:
      'measured run: report folder, its run.json, or its number in the log (log:12); several may be given',
  },
  ...PDF_ARGS,
  ...UNITS_ARGS,
  'out-dir': {
    type: 'string',
    valueHint: 'reports',
    description: 'write each report into a folder of its own in this one (the folder of the run)',
  },
  quiet: { type: 'boolean', description: 'no notes on standard error' },
  ...DATA_ARGS,
} as const satisfies ArgsDef;

type Values = ParsedArgs<typeof ARGS>;

/** The command; its `run` gives the exit status. */
export function reportCommand(io: Io) {
  return defineCommand({
    meta: COMMAND_META.report,
    args: ARGS,
    async run({ args }): Promise<ExitStatus> {
      paperOf(args);
      unitsOf(args.units);
      const taken = new Set<string>();
      let status: ExitStatus = EXIT.measured;
      for (const place of args._) {
        try {
          const written = place.startsWith(LOG_PREFIX)
            ? await reportOfLog(place, args, io)
            : await reportOfFolder(place, args, io, taken);
          if (written > status) status = written;
        } catch (error) {
          // One bad run does not cost the others.
          if (args._.length === 1 || !(error instanceof TrundleError)) throw error;
          const failed = tell(error, io);
          if (failed > status) status = failed;
        }
      }
      return status;
    },
  });
}

async function reportOfFolder(place: string, args: Values, io: Io, taken: Set<string>): Promise<ExitStatus> {
  checkPlaceOfRun(place, 'report');
  const { run, series } = await readMeasured(place);
  const isFolder = (await fs.stat(place)).isDirectory();
  const folder = path.resolve(isFolder ? place : path.dirname(place));
  const target =
    args['out-dir'] === undefined ? folder : freeName(args['out-dir'], path.basename(folder), taken);
  return write(target, run, series, await frameIn(folder), args, io);
}

/** A folder for each run, though runs of different places may go by one name. */
function freeName(outDir: string, name: string, taken: Set<string>): string {
  let folder = path.join(outDir, name);
  for (let i = 2; taken.has(folder); i++) folder = path.join(outDir, `${name}-${i}`);
  taken.add(folder);
  return folder;
}

function reportOfLog(place: string, args: Values, io: Io): Promise<ExitStatus> {
  const ids = idsOf([place.slice(LOG_PREFIX.length)]);
  if (ids.length === 0)
    throw new TrundleError(
      'argument-invalid',
      `"${place}" names no run; write the number of one, like log:12.`,
    );
  return withRuns(args['data-dir'], io, async (log) => {
    let status: ExitStatus = EXIT.measured;
    for (const id of ids) {
      const logged = log.get(id);
      const there = args['out-dir'] === undefined ? await reportOf(logged.row) : null;
      const written =
        there !== null && logged.series !== null
          ? await write(there.folder, logged.run, logged.series, logged.picture, args, io)
          : await writeAnew(logged, (wanted) => writeLogged(log, wanted, args['out-dir'], io), args, io);
      if (written > status) status = written;
    }
    return status;
  });
}

/** Where no report is left, one is made in a place of its own, and the log remembers it. */
async function writeAnew(
  logged: LoggedRun,
  make: (wanted: LoggedRun) => Promise<string>,
  args: Values,
  io: Io,
): Promise<ExitStatus> {
  const page = await make({ ...logged, run: inUnits(logged.run, args) });
  io.out(`Report: ${page}\n`);
  return printBeside(page, paperOf(args), io);
}

async function write(
  folder: string,
  run: RunDocument,
  series: RunSeries,
  jpeg: Uint8Array | null,
  args: Values,
  io: Io,
): Promise<ExitStatus> {
  const bundle = await restoreBundle(inUnits(run, args), series, jpeg);
  const { files, pdfFailure } = await writeRun(folder, bundle, { pdf: paperOf(args) });
  io.out(`Report: ${path.join(folder, PAGE)}\n`);
  if (files.includes(PDF)) io.out(`PDF: ${path.join(folder, PDF)}\n`);
  if (jpeg === null && !args.quiet)
    io.err(`There is no ${FRAME} of this run, so its report has no picture of the clip.\n`);
  return pdfFailure === null ? EXIT.measured : tell(pdfFailure, io);
}

/** The run as it is to be shown. */
function inUnits(run: RunDocument, args: Values): RunDocument {
  return { ...run, units: unitsOf(args.units) ?? run.units };
}

/** The frame of a report; null where there is none. */
async function frameIn(folder: string): Promise<Uint8Array | null> {
  try {
    return await fs.readFile(path.join(folder, FRAME));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}
