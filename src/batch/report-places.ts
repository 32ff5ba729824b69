/** Where the reports of many clips go: folders below one another as the clips are, one for each clip and never in that of another. */
import path from 'node:path';
import { entriesOf, fittingName, runMarksIn } from './report-folder.js';

/** Gives places, and remembers which are given. */
export class ReportPlaces {
  readonly #given = new Map<string, string>();
  /** Folders that hold further ones. */
  readonly #above = new Set<string>();

  /** @param outDir folder of all of them */
  constructor(private readonly outDir: string) {}

  /** Tells of a clip that will come, so that no report is put where the reports of a whole folder go. */
  expect(relative: string): void {
    for (let above = path.posix.dirname(relative); above !== '.'; above = path.posix.dirname(above))
      this.#above.add(alike(above));
  }

  /**
   * The folder for the report of a clip: `outDir` and what lies between the folder that was asked for and the clip, then its name without
   * ending, with a number where that is taken. It is the one that an earlier run of the same bytes has there.
   *
   * @param relative of the clip, with slashes
   * @param sha256 of its bytes
   */
  async of(relative: string, sha256: string): Promise<string> {
    this.expect(relative);
    const above = path.posix.dirname(relative);
    const name = stemOf(path.posix.basename(relative));
    for (let i = 1; ; i++) {
      const below = path.posix.join(above, i === 1 ? name : `${name}-${i}`);
      const folder = path.join(this.outDir, below);
      const holder = this.#given.get(alike(below));
      if (holder !== undefined && holder !== sha256) continue;
      if (this.#above.has(alike(below)) || !(await isFreeFor(folder, sha256))) continue;
      this.#given.set(alike(below), sha256);
      return folder;
    }
  }
}

function stemOf(name: string): string {
  const stem = name.slice(0, name.length - path.extname(name).length);
  // "...mp4" would be the folder above.
  return fittingName(/^\.*$/.test(stem) ? 'clip' : stem);
}

/** Some disks take names for the same that differ in case, or in the way accents are written. */
function alike(name: string): string {
  return name.normalize('NFC').toLowerCase();
}

/** Whether nothing is there, or a run of these bytes. */
async function isFreeFor(folder: string, sha256: string): Promise<boolean> {
  const entries = await entriesOf(folder);
  if (entries === null || entries.length === 0) return entries !== null;
  return (await runMarksIn(folder))?.clip?.sha256 === sha256;
}
