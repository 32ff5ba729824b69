/** Writes a file whole or not at all: under another name in its folder, then renamed, so that a reader sees the old file or the new one. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { syncFolder, writeToDisk } from './on-disk.js';
import { unfinishedFile } from './unfinished.js';

/** Ending of files that are being written; what bears it when nobody writes was left by a crash. */
export const PART = '.part';

/** Removes what a crash left of a file that was being written; for the one program that writes it. */
export async function clearParts(file: string): Promise<void> {
  const folder = path.dirname(file);
  for (const name of await fs.readdir(folder).catch(() => []))
    if (name.startsWith(`.${path.basename(file)}.`) && name.endsWith(PART))
      await fs.rm(path.join(folder, name), { force: true });
}

/**
 * Writes it; of several writers at once the last one stands. The bytes are on the disk before the name stands for them: after a power cut
 * the file is the old one or the new one, never an empty one.
 * @throws what the system says
 */
export async function writeWhole(file: string, content: string | Uint8Array): Promise<void> {
  const part = unfinishedFile(file);
  try {
    await writeToDisk(part.path, content);
    await fs.rename(part.path, file);
    await syncFolder(path.dirname(file));
  } catch (error) {
    await fs.rm(part.path, { force: true });
    throw error;
  } finally {
    part.done();
  }
}
