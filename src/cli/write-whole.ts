/** Writes one file whole or not at all. */
import { randomUUID } from 'node:crypto';
import fs from 'node:fs/promises';
import path from 'node:path';
import { TrundleError } from '../run/index.js';

/**
 * Writes under another name in the same folder and renames, so that a reader sees the old file or the new one.
 * @throws TrundleError `output-unwritable`
 */
export async function writeWhole(file: string, content: string | Uint8Array): Promise<void> {
  const partial = path.join(path.dirname(file), `.${path.basename(file)}.${randomUUID().slice(0, 8)}.part`);
  try {
    await fs.writeFile(partial, content);
    await fs.rename(partial, file);
  } catch (cause) {
    await fs.rm(partial, { force: true });
    throw unwritable(file, cause);
  }
}

/** Finds out, before long work, whether the folder of a file may be written to. @throws TrundleError `output-unwritable` */
export async function checkCanWrite(file: string): Promise<void> {
  try {
    await fs.access(path.dirname(path.resolve(file)), fs.constants.W_OK);
  } catch (cause) {
    throw unwritable(file, cause);
  }
}

function unwritable(file: string, cause: unknown): TrundleError {
  return new TrundleError(
    'output-unwritable',
    `The file "${file}" cannot be written; check that its folder exists, may be written to and has room.`,
    { cause },
  );
}
