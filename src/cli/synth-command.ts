/** `trundle synth`: films a made-up hall with the motion asked for and writes the truth and the rig beside the clip. */
import fs from 'node:fs';
import path from 'node:path';
import { defineCommand } from 'citty';
import { findTools } from '../footage/index.js';
import { EXIT, TrundleError, type ExitStatus } from '../run/index.js';
import {
  frameCountOf,
  resolveSynthOptions,
  synthesise,
  type PartialSynthOptions,
  type SynthOptions,
} from '../synth/index.js';
import { COMMAND_META } from './command-meta.js';
import { Progress, type Io } from './io.js';
import { SYNTH_ARGS, settingsOfOptions, withOptions } from './synth-options.js';

/** The command; its `run` gives the exit status. */
export function synthCommand(io: Io) {
  return defineCommand({
    meta: COMMAND_META.synth,
    args: SYNTH_ARGS,
    async run({ args }): Promise<ExitStatus> {
      if (args._.length > 0)
        throw new TrundleError('argument-unknown', `"${args._[0]}" is too much: synth takes options only.`);
      const options = completed(withOptions(settingsFrom(args.settings), settingsOfOptions(args)));
      const folder = args['out-dir'] ?? 'made-up';
      const name = args.name ?? `${options.scene}-${options.move}`;
      try {
        fs.mkdirSync(folder, { recursive: true });
      } catch (error) {
        throw new TrundleError(
          'output-unwritable',
          `The folder "${folder}" cannot be made; name another with --out-dir.`,
          { cause: error },
        );
      }
      const files = {
        clipFile: path.join(folder, `${name}.mp4`),
        truthFile: path.join(folder, `${name}.truth.json`),
        rigFile: path.join(folder, `${name}.rig.json`),
      };
      const progress = new Progress(io, args.quiet === true);
      const frames = frameCountOf(options);
      await synthesise(options, files, await findTools(), {
        threads: 2,
        signal: io.signal,
        onFrame: (count) => progress.show('Filming, frame', count, frames),
      }).finally(() => progress.clear());
      for (const file of Object.values(files)) io.out(`${file}\n`);
      return EXIT.measured;
    },
  });
}

function settingsFrom(file: string | undefined): PartialSynthOptions {
  if (file === undefined) return {};
  try {
    return JSON.parse(fs.readFileSync(file, 'utf8')) as PartialSynthOptions;
  } catch (error) {
    throw new TrundleError(
      'rig-unreadable',
      `The settings "${file}" cannot be read as JSON: ${(error as Error).message}.`,
    );
  }
}

function completed(given: PartialSynthOptions): SynthOptions {
  try {
    return resolveSynthOptions(given);
  } catch (error) {
    if (error instanceof RangeError)
      throw new TrundleError('argument-invalid', `${error.message}.`, { cause: error });
    throw error;
  }
}
