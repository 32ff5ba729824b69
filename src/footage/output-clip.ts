/** Writes a clip through FFmpeg from raw frames, whole or not at all: under another name beside it, renamed once done. */
import { constants } from 'node:fs';
import { access, rename, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import { Readable } from 'node:stream';
import { clearLeft, syncFile, unfinishedFile } from '../files/index.js';
import { TrundleError } from '../run/index.js';
import { ffmpegPath, quoted } from './clip-path.js';
import {
  faultIn,
  refuseIfAborted,
  refuseIfBrokenOff,
  startFfmpeg,
  stopOnAbort,
  type SideInput,
} from './ffmpeg-job.js';
import type { Tools } from './types.js';

/** What FFmpeg is given to write a clip. */
export interface ClipRecipe {
  /** FFmpeg's name of the container, see `containerOf`. */
  readonly container: string;
  readonly inputOptions: readonly string[];
  /** Pieces of raw frames; must not be changed after they are handed over. */
  readonly chunks: AsyncIterable<Uint8Array>;
  readonly sideInputs?: readonly SideInput[];
  readonly outputOptions: readonly string[];
}

const CONTAINERS: Readonly<Record<string, string>> = { '.mp4': 'mp4', '.mov': 'mov', '.mkv': 'matroska' };

/** No dates and versions: the same frames give the same file. */
export const REPEATABLE: readonly string[] = [
  '-map_metadata',
  '-1',
  '-fflags',
  '+bitexact',
  '-flags:v',
  '+bitexact',
];

/** Old versions of FFmpeg report success although the end of the file did not fit on the disk. */
const LOSES_THE_END = /Error writing trailer|No space left on device/;

/** FFmpeg's name of the container for a file name. @throws RangeError for other endings than .mp4, .mov and .mkv */
export function containerOf(file: string): string {
  const container = CONTAINERS[path.extname(file).toLowerCase()];
  if (!container) throw new RangeError(`file must end in .mp4, .mov or .mkv, got ${quoted(file)}`);
  return container;
}

/**
 * Writes `file`, replacing what is there. Chunks are pulled no faster than the encoder takes them; after a failure
 * nothing is left behind, nor is what a writer that was killed left in this folder.
 *
 * @throws TrundleError 'output-unwritable', 'ffmpeg-broke-off', 'interrupted'
 * @throws whatever `chunks` throws
 */
export async function writeClip(
  file: string,
  recipe: ClipRecipe,
  tools: Tools,
  signal?: AbortSignal,
): Promise<void> {
  refuseIfAborted(signal, file);
  await checkFolder(file);
  await clearLeft(path.dirname(path.resolve(file)));
  const unfinished = unfinishedFile(file);
  const partial = unfinished.path;
  let frameError: unknown;
  let said: string | null = null;
  let lost: string | null = null;
  const source = Readable.from(recipe.chunks, { highWaterMark: 1 });
  const job = startFfmpeg(
    {
      inputOptions: recipe.inputOptions,
      input: source,
      sideInputs: recipe.sideInputs ?? [],
      outputOptions: [...recipe.outputOptions, '-f', recipe.container],
      output: ffmpegPath(partial),
      onLine(line) {
        const fault = faultIn(line);
        said ??= fault;
        if (fault !== null && LOSES_THE_END.test(fault)) lost ??= fault;
      },
    },
    tools,
  );
  // Left to itself, FFmpeg would wait for the rest of its input.
  source.on('error', (error) => {
    frameError = error;
    job.stop();
  });
  const untie = stopOnAbort(job, signal);
  try {
    const failure = await job.done;
    if (frameError instanceof Error) throw frameError;
    refuseIfAborted(signal, file);
    if (lost === null && said === null) refuseIfBrokenOff(job, file);
    const why: string | null = lost ?? (failure === null ? null : (said ?? failure));
    if (why !== null) throw unwritten(file, lastLine(why).replace(partial, file));
    await syncFile(partial)
      .then(() => rename(partial, file))
      .catch((cause: Error) => {
        throw unwritten(file, cause.message, { cause });
      });
  } finally {
    untie();
    source.destroy();
    await rm(partial, { force: true });
    unfinished.done();
  }
}

/**
 * Finds out, before long work, whether a clip made from `source` may be written to `file`.
 * @throws TrundleError 'output-unwritable'
 */
export async function checkOutput(file: string, source: string): Promise<void> {
  await refuseSource(file, source);
  await checkFolder(file);
  const there = await stat(file).catch(() => null);
  if (there?.isDirectory())
    throw new TrundleError('output-unwritable', `${quoted(file)} is a folder; name a file in it.`);
}

/** @throws TrundleError 'output-unwritable' when `file` is the clip `source` itself, by whatever name */
export async function refuseSource(file: string, source: string): Promise<void> {
  const [target, origin] = await Promise.all([file, source].map((one) => stat(one).catch(() => null)));
  const isSame = target && origin && target.ino === origin.ino && target.dev === origin.dev;
  if (!isSame && path.resolve(file) !== path.resolve(source)) return;
  throw new TrundleError(
    'output-unwritable',
    `${quoted(file)} is the clip itself and is not written over; choose another name or folder.`,
  );
}

/** @throws TrundleError 'output-unwritable' when the folder of `file` is not there or may not be written to */
export async function checkFolder(file: string): Promise<void> {
  const folder = path.dirname(path.resolve(file));
  try {
    if (!(await stat(folder)).isDirectory()) throw new Error(`${folder} is no folder`);
    await access(folder, constants.W_OK);
  } catch (cause) {
    throw new TrundleError(
      'output-unwritable',
      `The file ${quoted(file)} cannot be written: the folder "${folder}" does not exist or may not be written to; create it or choose another.`,
      { cause },
    );
  }
}

/** The failure to write a clip, and why. */
export function unwritten(file: string, why: string, options?: ErrorOptions): TrundleError {
  const text = `The clip ${quoted(file)} could not be written (${why}); check free disk space and the folder's permissions.`;
  return new TrundleError('output-unwritable', text, options);
}

function lastLine(text: string): string {
  return text.trim().split('\n').at(-1) ?? text;
}
