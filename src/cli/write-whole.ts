/** Writes files that a command is asked for, and tells failures in a sentence. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { TrundleError } from '../run/index.js';
import { writeWhole as write } from '../files/index.js';

/** Writes a file whole or not at all. @throws TrundleError `output-unwritable` */
export async function writeWhole(file: string, content: string | Uint8Array): Promise<void> {
  try {
    await write(file, content);
  } catch (cause) {
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
