/** `trundle measure CLIP...`: measures each clip, writes its report folder, prints the verdict; of folders, see `measure-many.ts`. */
import fs from 'node:fs';
import path from 'node:path';
import { defineCommand, type ParsedArgs } from 'citty';
import { settingsKeyOf } from '../batch/index.js';
import { measure } from '../measure.js';
import { checkRunFolder, terminalSummary, writeRun } from '../report/index.js';
import { EXIT, TrundleError, type ExitStatus, printableJson } from '../run/index.js';
import { COMMAND_META } from './command-meta.js';
import { requestFor, reportFolders, STAGE_WORDS } from './clip-request.js';
import { parseFailOn, statusOfGrade } from './fail-on.js';
import { Progress, tell, type Io } from './io.js';
import { keepRun } from './keep-run.js';
import { MEASURE_COMMAND_ARGS, type MeasureCommandArgs } from './measure-args.js';
import { measureManyClips } from './measure-many.js';
import { paperOf } from './report-options.js';

/** The command; its `run` gives the exit status. */
export function measureCommand(io: Io) {
  return defineCommand({
    meta: COMMAND_META.measure,
    args: MEASURE_COMMAND_ARGS,
    async run({ args }): Promise<ExitStatus> {
      const failOn = parseFailOn(args['fail-on']);
      paperOf(args);
      if (isForMany(args)) return measureManyClips(args, failOn, io);
      const outDir = args['out-dir'] ?? 'reports';
      const folders = reportFolders(args._, outDir);
      for (const folder of folders.values()) await checkRunFolder(folder);
      const several = args._.length > 1;
      let status: ExitStatus = EXIT.measured;
      for (const clip of args._) {
        try {
          const { grade, printed } = await measureOne(clip, folders.get(clip) ?? outDir, args, io);
          status = worse(worse(status, statusOfGrade(grade, failOn)), printed);
        } catch (error) {
          // One bad clip does not cost the others; a rig that cannot be read concerns them all.
          const clipOnly = error instanceof TrundleError && error.exitStatus === EXIT.clipUnusable;
          if (!several || !clipOnly) throw error;
          status = worse(status, tell(error, io));
        }
      }
      return status;
    },
  });
}

/** Whether a folder is named, or an option that is for folders. */
function isForMany(args: ParsedArgs<MeasureCommandArgs>): boolean {
  const isAsked = args.recursive || args.watch || args.again || args.jobs !== undefined;
  return isAsked || args._.some((place) => fs.statSync(place, { throwIfNoEntry: false })?.isDirectory());
}

async function measureOne(
  clip: string,
  folder: string,
  args: ParsedArgs<MeasureCommandArgs>,
  io: Io,
): Promise<{ grade: VerdictGrade; printed: ExitStatus }> {
  const progress = new Progress(io, args.quiet === true);
  const request = requestFor(clip, args, io);
  const settingsKey = await settingsKeyOf(request);
  const bundle = await measure(request, {
    signal: io.signal,
    onProgress: (stage, done, total) => progress.show(STAGE_WORDS[stage], done, total),
  }).finally(() => progress.clear());
  const { files, pdfFailure } = await writeRun(folder, bundle, { pdf: paperOf(args), signal: io.signal });
  const pdf = files.includes('report.pdf') ? `PDF: ${path.join(folder, 'report.pdf')}\n` : '';
  const report = `Report: ${path.join(folder, 'report.html')}\n${pdf}`;
  if (args.json) {
    io.out(`${printableJson(bundle.run, args._.length > 1 ? 0 : 2)}\n`);
    io.err(report);
  } else {
    io.out(`${terminalSummary(bundle.run, { colour: io.colour, columns: io.columns })}\n${report}`);
  }
  const place = { folder, dataDir: args['data-dir'], settingsKey };
  if (!args.unlogged) io.err(`${await keepRun(bundle, place, io)}\n`);
  const printed = pdfFailure === null ? EXIT.measured : tell(pdfFailure, io);
  return { grade: bundle.run.verdict.grade, printed };
}

type VerdictGrade = Parameters<typeof statusOfGrade>[0];

function worse(a: ExitStatus, b: ExitStatus): ExitStatus {
  return a > b ? a : b;
}
