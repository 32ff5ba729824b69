/** A folder for the files of one test file, gone when it is done. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll } from 'vitest';

/** Makes the folder and gives names of files in it that nobody has used yet. */
export function temporaryFolder(): { readonly folder: string; readonly fresh: () => string } {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-log-'));
  let count = 0;
  afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));
  return { folder, fresh: () => path.join(folder, `log-${++count}`, 'runs.db') };
}
