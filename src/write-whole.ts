/** Writes a file whole or not at all: under another name in its folder, then renamed, so that a reader sees the old file or the new one. */
import { randomUUID } from 'node:crypto';
import fs from 'node:fs/promises';
import path from 'node:path';

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
  const part = path.join(path.dirname(file), `.${path.basename(file)}.${randomUUID().slice(0, 8)}${PART}`);
  try {
    const handle = await fs.open(part, 'w');
    try {
      await handle.writeFile(content);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await fs.rename(part, file);
  } catch (error) {
    await fs.rm(part, { force: true });
    throw error;
  }
}
