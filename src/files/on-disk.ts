/** Sees to it that what was written is on the disk and not merely on its way there, so that a power cut finds it. */
import fs from 'node:fs/promises';
import path from 'node:path';

/** Writes a new file and waits until its bytes are on the disk. @throws what the system says */
export async function writeToDisk(file: string, content: string | Uint8Array): Promise<void> {
  const handle = await fs.open(file, 'w');
  try {
    await handle.writeFile(content);
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** Waits until a file that somebody else wrote is on the disk. @throws what the system says */
export async function syncFile(file: string): Promise<void> {
  const handle = await fs.open(file, 'r+');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** Waits until the names in a folder are on the disk; some systems have no way to ask for that, and then it is left to them. */
export async function syncFolder(folder: string): Promise<void> {
  const handle = await fs.open(path.resolve(folder), 'r').catch(() => null);
  try {
    await handle?.sync();
  } catch {
    // Windows, and some file systems of networks.
  } finally {
    await handle?.close();
  }
}
