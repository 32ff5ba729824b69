/** Reads the run document of another measurement from disk. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { TrundleError, runSchema, type RunDocument } from './run/index.js';

/**
 * Reads one run.
 *
 * @param place a run folder or its run.json
 * @throws TrundleError `run-unreadable` when there is no such run; `run-invalid` when it is none or is of another version
 */
export async function readRun(place: string): Promise<RunDocument> {
  let text: string;
  try {
    const isFolder = (await fs.stat(place)).isDirectory();
    text = await fs.readFile(isFolder ? path.join(place, 'run.json') : place, 'utf8');
  } catch (error) {
    throw new TrundleError(
      'run-unreadable',
      `No run can be read at "${place}"; give a report folder or the run.json in it.`,
      { cause: error },
    );
  }
  const run = runSchema.safeParse(jsonOf(text));
  if (!run.success)
    throw new TrundleError(
      'run-invalid',
      `"${place}" is no run of this version; measure that clip again and give its report folder.`,
    );
  return run.data;
}

/** The name that a run goes by: that of its clip. */
export function nameOfRun({ clip }: RunDocument): string {
  return clip.file.replace(/\.[^.]*$/, '');
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
