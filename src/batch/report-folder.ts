/** What a report folder is called and what is in it, for whoever looks for a place for a report. */
import fs from 'node:fs/promises';
import path from 'node:path';

/** Longest name of a report folder, bytes of UTF-8: files beside it are named after it. */
const LONGEST_BYTES = 180;

/** A name as long as the name of a folder may be; whole characters are left out at its end. */
export function fittingName(name: string): string {
  let kept = name;
  while (Buffer.byteLength(kept) > LONGEST_BYTES) kept = [...kept].slice(0, -1).join('');
  return kept;
}

/** What is in a folder; null for what is no folder. What cannot be looked into is told when the report is written. */
export async function entriesOf(folder: string): Promise<readonly string[] | null> {
  return fs.readdir(folder).catch((error: NodeJS.ErrnoException) => (error.code === 'ENOTDIR' ? null : []));
}

/** What tells one run from another. */
export interface RunMarks {
  readonly createdAt?: unknown;
  readonly clip?: { readonly sha256?: unknown };
}

/** Of the run document in a folder; null where there is none that can be read. */
export async function runMarksIn(folder: string): Promise<RunMarks | null> {
  try {
    return JSON.parse(await fs.readFile(path.join(folder, 'run.json'), 'utf8')) as RunMarks | null;
  } catch {
    return null;
  }
}
