/** Reads the surface of another measured run from disk: boards or a rail that could be laid over this floor. */
import { nameOfRun, readRun } from './read-run.js';
import { TrundleError, type SurfaceSection } from './run/index.js';

/** A surface with the name it goes by: that of the clip it was measured on. */
export interface OtherSurface {
  readonly name: string;
  readonly surface: SurfaceSection;
}

/**
 * Reads one run's surface.
 *
 * @param place a run folder or its run.json
 * @throws TrundleError `run-unreadable` when there is no such run; `run-invalid` when it is none, is of another version, or holds
 *   no grade of its surface
 */
export async function readOtherSurface(place: string): Promise<OtherSurface> {
  const run = await readRun(place);
  const { surface } = run;
  // A bound is read as well: its row then says that nothing can be foretold from it.
  if (!surface.observable)
    throw new TrundleError(
      'run-invalid',
      `The run at "${place}" holds no figure of its surface${surface.reason === null ? '' : ` (${surface.reason})`}; nothing can be foretold from it.`,
    );
  return { name: nameOfRun(run), surface };
}
