/** `trundle measure CLIP...`: measures each clip, writes its report folder, prints the verdict. */
import fs from 'node:fs';
import path from 'node:path';
import { defineCommand, type ParsedArgs } from 'citty';
import { measure } from '../measure.js';
import type { Stage } from '../measure-request.js';
import { checkRunFolder, terminalSummary, writeRun } from '../report/index.js';
import {
  EXIT,
  TrundleError,
  parseRigFile,
  type ExitStatus,
  type RigFile,
  type RunDocument,
} from '../run/index.js';
import { Progress, tell, type Io } from './io.js';
import { MEASURE_ARGS, analysisWidthPx, cutoffHz, rigFromOptions } from './measure-options.js';

const FAIL_ON = ['never', 'marginal', 'fail'] as const;

const ARGS = {
  clip: { type: 'positional', required: true, description: 'clip of a test pass; several may be given' },
  ...MEASURE_ARGS,
  'out-dir': { type: 'string', valueHint: 'reports', description: 'folder for the report folders' },
  'fail-on': {
    type: 'string',
    valueHint: 'fail',
    description: 'exit with 1 when the verdict is at or beyond: marginal, fail, or never',
  },
  json: { type: 'boolean', description: 'print the run document and nothing else on standard output' },
  quiet: { type: 'boolean', description: 'no progress' },
} as const;

const STAGES: Record<Stage, string> = {
  probe: 'Reading the clip',
  track: 'Following features, frame',
  split: 'Splitting the motion, step',
  judge: 'Spectra, crop and floor',
};

/** The command; its `run` gives the exit status. */
export function measureCommand(io: Io) {
  return defineCommand({
    meta: { name: 'measure', description: 'measure the clip of a test pass and write its report' },
    args: ARGS,
    async run({ args }): Promise<ExitStatus> {
      const failOn = (args['fail-on'] ?? 'never') as (typeof FAIL_ON)[number];
      if (!FAIL_ON.includes(failOn))
        throw new TrundleError(
          'argument-invalid',
          `"--fail-on ${failOn}" must be one of ${FAIL_ON.join(', ')}.`,
        );
      const outDir = args['out-dir'] ?? 'reports';
      const folders = reportFolders(args._, outDir);
      for (const folder of folders.values()) await checkRunFolder(folder);
      const several = args._.length > 1;
      let status: ExitStatus = EXIT.measured;
      for (const clip of args._) {
        try {
          const run = await measureOne(clip, folders.get(clip) ?? outDir, args, io);
          status = worse(status, statusOf(run, failOn));
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

async function measureOne(
  clip: string,
  folder: string,
  args: ParsedArgs<typeof ARGS>,
  io: Io,
): Promise<RunDocument> {
  const progress = new Progress(io, args.quiet === true);
  const setup = rigFromOptions(
    args,
    readRigFile(args.rig, clip, (text) => (args.quiet ? undefined : io.err(text))),
  );
  const bundle = await measure(
    {
      clip,
      ...setup,
      inPoint: args.in,
      outPoint: args.out,
      analysisWidthPx: analysisWidthPx(args.width),
      cutoffHz: cutoffHz(args.cutoff),
      motionLogFile: args['motion-log'],
    },
    { signal: io.signal, onProgress: (stage, done, total) => progress.show(STAGES[stage], done, total) },
  ).finally(() => progress.clear());
  await writeRun(folder, bundle);
  const report = path.join(folder, 'report.html');
  if (args.json) {
    io.out(`${JSON.stringify(bundle.run, null, args._.length > 1 ? 0 : 2)}\n`);
    io.err(`Report: ${report}\n`);
  } else {
    io.out(`${terminalSummary(bundle.run, { colour: io.colour })}\nReport: ${report}\n`);
  }
  return bundle.run;
}

/** One folder per clip, named after it; clips of the same name get a number. */
function reportFolders(clips: readonly string[], outDir: string): Map<string, string> {
  const taken = new Set<string>();
  return new Map(
    clips.map((clip) => {
      const name = path.basename(clip, path.extname(clip)) || 'clip';
      let folder = path.join(outDir, name);
      for (let i = 2; taken.has(folder); i++) folder = path.join(outDir, `${name}-${i}`);
      taken.add(folder);
      return [clip, folder];
    }),
  );
}

function readRigFile(given: string | undefined, clip: string, say: (text: string) => void): RigFile {
  const beside = `${clip.slice(0, clip.length - path.extname(clip).length)}.rig.json`;
  const file = given ?? (fs.existsSync(beside) ? beside : undefined);
  if (file === undefined) return { rig: {}, delivery: {} };
  let text: string;
  try {
    text = fs.readFileSync(file, 'utf8');
  } catch (error) {
    throw new TrundleError(
      'rig-unreadable',
      `The rig file "${file}" cannot be read; give the path of a JSON file.`,
      { cause: error },
    );
  }
  if (given === undefined) say(`Rig: ${file} (found beside the clip)\n`);
  return parseRigFile(text, file);
}

function statusOf(run: RunDocument, failOn: (typeof FAIL_ON)[number]): ExitStatus {
  const { grade } = run.verdict;
  if (grade === 'unmeasurable') return EXIT.unmeasurable;
  const reached = (failOn === 'fail' && grade === 'fail') || (failOn === 'marginal' && grade !== 'pass');
  return reached ? EXIT.verdictReached : EXIT.measured;
}

function worse(a: ExitStatus, b: ExitStatus): ExitStatus {
  return a > b ? a : b;
}
