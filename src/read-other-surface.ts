/** Reads the surface of another measured run from disk: boards or a rail that could be laid over this floor. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { TrundleError, runSchema, type SurfaceSection } from './run/index.js';

/** A surface with the name it goes by: that of the clip it was measured on. */
export interface OtherSurface {
  readonly name: string;
  readonly surface: SurfaceSection;
}

/**
 * Reads one run.
 *
 * @param place a run folder or its run.json
 * @throws TrundleError `run-unreadable` when there is no such run; `run-invalid` when it is none, is of another version, or holds
 *   no grade of its surface
 */
export async function readOtherSurface(place: string): Promise<OtherSurface> {
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
  const { surface, clip } = run.data;
  // A bound is read as well: its row then says that nothing can be foretold from it.
  if (!surface.observable)
    throw new TrundleError(
      'run-invalid',
      `The run at "${place}" holds no figure of its surface${surface.reason === null ? '' : ` (${surface.reason})`}; nothing can be foretold from it.`,
    );
  return { name: clip.file.replace(/\.[^.]*$/, ''), surface };
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
