/** `trundle proof CLIP`: measures a clip and renders it stabilised at the crop that was foretold, the original beside it. */
import fs from 'node:fs';
import path from 'node:path';
import { defineCommand, type ArgsDef, type ParsedArgs } from 'citty';
import { prove, type ProofWish } from '../prove.js';
import { checkRunFolder } from '../report/index.js';
import { EXIT, printable, printableJson, TrundleError, type ExitStatus } from '../run/index.js';
import { COMMAND_META } from './command-meta.js';
import { requestFor, reportFolders, STAGE_WORDS } from './clip-request.js';
import { DELIVERY_ARGS } from './delivery-options.js';
import { Progress, type Io } from './io.js';
import { MEASURE_ARGS } from './measure-options.js';
import { proofSummary } from './proof-summary.js';
import { STABILISE_ARGS } from './stabilise-options.js';

const ARGS = {
  clip: { type: 'positional', required: true, description: 'clip of a test pass' },
  file: {
    type: 'string',
    valueHint: 'proof.mp4',
    description: 'file to write: .mp4 or .mkv for H.264, .mov for ProRes (reports/<clip>/proof.mp4)',
  },
  layout: {
    type: 'string',
    valueHint: 'beside',
    description: 'beside: original left, stabilised right; above; split: one half each; alone',
  },
  window: {
    type: 'string',
    valueHint: 'centred',
    description: 'centred: one crop; off-centre: where most picture is left; moving: a crop that breathes',
  },
  ...MEASURE_ARGS,
  ...DELIVERY_ARGS,
  ...STABILISE_ARGS,
  'out-dir': { type: 'string', valueHint: 'reports', description: 'folder for the folder of the clip' },
  json: {
    type: 'boolean',
    description: 'print the record of the proof as JSON and nothing else on standard output',
  },
  quiet: { type: 'boolean', description: 'no progress' },
} as const satisfies ArgsDef;

const LAYOUTS: Record<string, ProofWish['layout']> = {
  beside: 'beside',
  above: 'above',
  split: 'split',
  alone: 'alone',
};

const WINDOWS: Record<string, ProofWish['window']> = {
  centred: 'centred',
  'off-centre': 'offCentre',
  moving: 'moving',
};

/** The command; its `run` gives the exit status. */
export function proofCommand(io: Io) {
  return defineCommand({
    meta: COMMAND_META.proof,
    args: ARGS,
    async run({ args }): Promise<ExitStatus> {
      const [clip, ...more] = args._;
      if (clip === undefined) throw new TrundleError('argument-invalid', 'Give the clip to render.');
      if (more.length > 0)
        throw new TrundleError(
          'argument-invalid',
          `"${more[0]}" is too much: one clip is rendered at a time.`,
        );
      const place = await placeFor(clip, args);
      const wish: ProofWish = {
        file: place.file,
        layout: oneOf('--layout', args.layout ?? 'beside', LAYOUTS),
        window: oneOf('--window', args.window ?? 'centred', WINDOWS),
      };
      let progress = new Progress(io, args.quiet === true);
      let rendering = false;
      const proof = await prove(requestFor(clip, args, io), wish, {
        signal: io.signal,
        onProgress: (stage, done, total) => progress.show(STAGE_WORDS[stage], done, total),
        onWarning: ({ text }) => (args.quiet ? undefined : io.err(`${printable(text)}\n`)),
        onRendered: (done, total) => {
          // The time left counts from the first frame rendered.
          if (!rendering) {
            progress.clear();
            progress = new Progress(io, args.quiet === true);
          }
          rendering = true;
          progress.show('Rendering, frame', done, total);
        },
      })
        .catch((error: unknown) => {
          place.undo();
          throw error;
        })
        .finally(() => progress.clear());
      io.out(args.json ? `${printableJson(proof.record, 2)}\n` : `${proofSummary(proof)}\n`);
      return EXIT.measured;
    },
  });
}

/** Where a proof goes. */
interface Place {
  readonly file: string;
  /** Takes back the folders that were made for it, as far as they are empty. */
  undo(): void;
}

/** The file named, else one in the folder of the clip, which is made. */
async function placeFor(clip: string, args: ParsedArgs<typeof ARGS>): Promise<Place> {
  if (args.file !== undefined) {
    if (!/\.(mp4|mkv|mov)$/i.test(args.file))
      throw new TrundleError(
        'argument-invalid',
        `"--file ${args.file}" must end in .mp4 or .mkv (H.264) or .mov (ProRes).`,
      );
    return { file: args.file, undo: () => {} };
  }
  const folder = reportFolders([clip], args['out-dir'] ?? 'reports').get(clip) ?? '.';
  // A clip that is not there must not leave a folder behind; what else is wrong with it is told later.
  if (!fs.existsSync(clip))
    throw new TrundleError('clip-missing', `There is no file "${clip}"; check the path.`);
  await checkRunFolder(folder);
  let made: string | undefined;
  try {
    made = fs.mkdirSync(folder, { recursive: true });
  } catch (cause) {
    throw new TrundleError(
      'output-unwritable',
      `The folder "${folder}" cannot be made; name another with --out-dir, or a file with --file.`,
      { cause },
    );
  }
  return {
    file: path.join(folder, 'proof.mp4'),
    undo() {
      if (made === undefined) return;
      const first = path.resolve(made);
      try {
        // Goes up from the folder of the clip; one that holds anything stops it.
        for (let at = path.resolve(folder); at.length >= first.length; at = path.dirname(at))
          fs.rmdirSync(at);
      } catch {
        // Somebody put something there meanwhile: it stays.
      }
    },
  };
}

function oneOf<T>(option: string, word: string, known: Record<string, T>): T {
  const found = known[word.toLowerCase()];
  if (found === undefined)
    throw new TrundleError(
      'argument-invalid',
      `"${option} ${word}" must be one of ${Object.keys(known).join(', ')}.`,
    );
  return found;
}
