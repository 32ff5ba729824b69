/** Where the files of a job go: folders named after clips by safe characters, never in another run's place, and cleared after a sudden end. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { clearLeft, folderName } from '../../files/index.js';
import { TrundleError } from '../../run/index.js';

export { folderName };

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
