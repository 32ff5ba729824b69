/** `trundle lens`: prints the calibration board, or finds focal length and distortion from a clip of it. */
import path from 'node:path';
import { defineCommand, type ArgsDef, type ParsedArgs } from 'citty';
import { calibrateLens } from '../calibrate-lens.js';
import { sensorWidthMm } from '../optics/index.js';
import { printBoard } from '../print-board.js';
import { PAPERS, RULER_MM, type PaperName } from '../report/index.js';
import { EXIT, TrundleError, parseLengthM, type ExitStatus, printableJson } from '../run/index.js';
import { COMMAND_META } from './command-meta.js';
import { Progress, type Io } from './io.js';
import { readRigToUpdate, updateRigFile } from './lens-rig-file.js';
import { lensSummary, rigLine } from './lens-summary.js';
import { checkCanWrite, writeWhole } from './write-whole.js';

const ARGS = {
  clip: { type: 'positional', required: false, description: 'clip of the printed board' },
  print: { type: 'boolean', description: 'make the board to print, instead of reading a clip' },
  paper: { type: 'string', valueHint: 'a4', description: 'with --print: a4, a3 or letter' },
  square: {
    type: 'string',
    valueHint: '25mm',
    description: 'side of the squares: with --print as wanted, with a clip as measured (for distances only)',
  },
  out: {
    type: 'string',
    valueHint: 'lens-board.pdf',
    description: 'file of the board (.pdf or .png); with a clip, file of the result (.json)',
  },
  sensor: {
    type: 'string',
    valueHint: 'full-frame',
    description: 'sensor width in mm, or a format name, to tell millimetres',
  },
  rig: {
    type: 'string',
    valueHint: 'rig.json',
    description: 'rig file to put the lens into; made when missing',
  },
  json: { type: 'boolean', description: 'print the result as JSON and nothing else on standard output' },
  quiet: { type: 'boolean', description: 'no progress' },
} as const satisfies ArgsDef;

type Values = ParsedArgs<typeof ARGS>;

/** The command; its `run` gives the exit status. */
export function lensCommand(io: Io) {
  return defineCommand({
    meta: COMMAND_META.lens,
    args: ARGS,
    async run({ args }): Promise<ExitStatus> {
      return args.print ? print(args, io) : calibrate(args, io);
    },
  });
}

async function print(args: Values, io: Io): Promise<ExitStatus> {
  refuse(args, ['sensor', 'rig', 'json'], 'goes with a clip, not with --print');
  if (args._.length > 0)
    throw new TrundleError('argument-invalid', `"${args._[0]}" is too much: --print reads no clip.`);
  const file = args.out ?? 'lens-board.pdf';
  const format = formatOf(file);
  const { page, bytes } = await printBoard({
    format,
    paper: paperOf(args.paper ?? 'a4'),
    squareMm: args.square === undefined ? undefined : 1000 * squareM(args.square),
  });
  await writeWhole(file, bytes);
  io.out(`${file}\n`);
  io.err(
    `Squares of ${Number(page.squareMm.toFixed(3))} mm. Print at 100 % (the line on the sheet must be ${RULER_MM} mm long), glue the sheet to something flat and film it from 15 to 25 places, in the corners of the picture and tilted too. Measure a square and give it with --square; focal length and distortion do not depend on it.\n`,
  );
  return EXIT.measured;
}

async function calibrate(args: Values, io: Io): Promise<ExitStatus> {
  const [clip, ...more] = args._;
  if (clip === undefined)
    throw new TrundleError(
      'argument-invalid',
      'Give a clip of the printed board, or --print to make the board first.',
    );
  if (more.length > 0)
    throw new TrundleError('argument-invalid', `"${more[0]}" is too much: one clip is read at a time.`);
  refuse(args, ['paper'], 'goes with --print');
  const sensor = args.sensor === undefined ? undefined : sensorWidthMm(args.sensor);
  const square = args.square === undefined ? undefined : squareM(args.square);
  // A rig file that cannot be taken is told before the clip is read, not after.
  if (args.rig !== undefined) await readRigToUpdate(args.rig);
  for (const file of [args.rig, args.out]) if (file !== undefined) await checkCanWrite(file);

  const progress = new Progress(io, args.quiet === true);
  const lens = await calibrateLens(
    { clip, sensorWidthMm: sensor, squareM: square },
    {
      signal: io.signal,
      onProgress: (stage, done, total) =>
        progress.show(stage === 'look' ? 'Looking for the board, frame' : 'Fitting the lens', done, total),
    },
  ).finally(() => progress.clear());

  const json = `${printableJson(lens, 2)}\n`;
  if (args.out !== undefined) await writeWhole(args.out, json);
  if (args.rig !== undefined) await updateRigFile(args.rig, lens);
  const say = (text: string): void => (args.json ? io.err(text) : io.out(text));
  if (args.json) io.out(json);
  else io.out(`${lensSummary(lens)}\n`);
  if (args.out !== undefined) say(`Result: ${args.out}\n`);
  say(
    args.rig === undefined
      ? `For a rig file: ${rigLine(lens)}\n`
      : `Rig: ${args.rig} (for clips ${lens.clip.widthPx} px wide from the same lens, zoom and focus)\n`,
  );
  return EXIT.measured;
}

/** Refuses options that do not go with the way the command is used. */
function refuse(args: Values, names: readonly (keyof typeof ARGS)[], why: string): void {
  for (const name of names)
    if (args[name] !== undefined && args[name] !== false)
      throw new TrundleError('argument-invalid', `"--${name}" ${why}.`);
}

function formatOf(file: string): 'pdf' | 'png' {
  const ending = path.extname(file).toLowerCase();
  if (ending === '.pdf' || ending === '.png') return ending === '.pdf' ? 'pdf' : 'png';
  throw new TrundleError('argument-invalid', `"--out ${file}" must end in .pdf or .png.`);
}

function paperOf(word: string): PaperName {
  const name = word.toLowerCase();
  if (Object.hasOwn(PAPERS, name)) return name as PaperName;
  throw new TrundleError(
    'argument-invalid',
    `"--paper ${word}" must be one of ${Object.keys(PAPERS).join(', ')}.`,
  );
}

/** Largest square that is taken for one. */
const LARGEST_SQUARE_M = 1;

function squareM(text: string): number {
  const side = parseLengthM(text);
  if (side > 0 && side <= LARGEST_SQUARE_M) return side;
  throw new TrundleError('argument-invalid', `"--square ${text}" must be more than 0 and at most 1m.`);
}
