/** Where the files of a job go: folders named after clips by safe characters, never in another run's place, and cleared after a sudden end. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { clearLeft } from '../../files/index.js';
import { TrundleError } from '../../run/index.js';

/** Longest name, bytes of UTF-8: file systems take 255, and files beside the folder are named after it. */
const LONGEST_BYTES = 180;
/** Names that Windows keeps for devices. */
const DEVICES = /^(con|prn|aux|nul|com\d|lpt\d)$/i;

/**
 * A name for a folder out of that of a clip: letters and figures of any script, blanks, dots, dashes and underscores inside; its ending goes.
 * @example folderName('../Flur 2/pass.mov') // "Flur 2-pass"
 */
export function folderName(clipName: string): string {
  const words = clipName
    .normalize('NFC')
    .replace(/\.[\p{L}\p{N}]{1,5}$/u, '')
    .replace(/[^\p{L}\p{M}\p{N} ._-]+/gu, '-');
  let name = trimmed(words);
  while (Buffer.byteLength(name) > LONGEST_BYTES) name = trimmed([...name].slice(0, -1).join(''));
  if (name === '') return 'clip';
  return DEVICES.test(name) ? `${name}-clip` : name;
}

function trimmed(name: string): string {
  return name.replace(/^[\p{M} ._-]+|[ ._-]+$/gu, '');
}

/**
 * Makes a folder that was not there: `name`, or `name-2` and so on. Two that ask at once get one each.
 * @returns its path
 * @throws TrundleError `output-unwritable`
 */
export async function makeOwnFolder(outDir: string, name: string): Promise<string> {
  for (let i = 1; ; i++) {
    const folder = path.join(outDir, i === 1 ? name : `${name}-${i}`);
    try {
      await fs.mkdir(outDir, { recursive: true });
      await fs.mkdir(folder);
      return folder;
    } catch (cause) {
      const isTaken = (cause as NodeJS.ErrnoException).code === 'EEXIST' && (await isFolder(outDir));
      if (!isTaken) throw unmade(folder, cause);
    }
  }
}

/** As `makeOwnFolder` for a folder that may be there. @returns whether it was made */
export async function makeFolder(folder: string): Promise<boolean> {
  try {
    return (await fs.mkdir(folder, { recursive: true })) !== undefined;
  } catch (cause) {
    throw unmade(folder, cause);
  }
}

/** Whether there is a folder. */
export async function isFolder(place: string): Promise<boolean> {
  return (await fs.stat(place).catch(() => null))?.isDirectory() ?? false;
}

function unmade(folder: string, cause: unknown): TrundleError {
  return new TrundleError(
    'output-unwritable',
    `The folder "${folder}" cannot be made; start the program with another --out-dir.`,
    { cause },
  );
}

/** Takes a folder away when nothing is in it. */
export async function removeIfEmpty(folder: string): Promise<void> {
  await fs.rmdir(folder).catch(() => undefined);
}

/**
 * Clears what a worker left that was ended while writing: the folder being written beside its place, the clip being written, and the
 * place itself where it was made for it and is empty.
 */
export async function clearHalfWritten(folder: string, made: boolean): Promise<void> {
  for (const place of [path.dirname(folder), folder]) await clearLeft(place);
  if (made) await removeIfEmpty(folder);
}
