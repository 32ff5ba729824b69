/** Writes a file whole or not at all: under another name beside it, then renamed. */
import fs from 'node:fs/promises';

/** Ending of files that are being written; what bears it at the start was left by a crash. */
export const PART = '.part';

/** Writes it; one writer at a time for each file. @throws what the system says */
export async function writeWhole(file: string, content: string): Promise<void> {
  const part = `${file}${PART}`;
  try {
    await fs.writeFile(part, content);
    await fs.rename(part, file);
  } catch (error) {
    await fs.rm(part, { force: true });
    throw error;
  }
}
