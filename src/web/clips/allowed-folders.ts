/** Folders of this machine that clips may be taken from: every path is followed to its real place, which must lie inside. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { isInside } from '../../files/index.js';
import { holdsTransportStream, mayBeClip, mustBeSniffed } from '../../footage/index.js';
import { clipTexts } from '../../texts/index.js';
import type { AllowedFolder, FolderListing } from '../api.js';
import { WebProblem } from '../server/problem.js';
import { rigName } from './clip-names.js';

/** Names of a folder that are listed at most. */
const MOST_LISTED = 500;
const byName = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

/** A name in a folder, where it really is. */
interface Listed {
  readonly name: string;
  readonly isFolder: boolean;
  readonly real: string;
}

/** The allowed folder of this id. @throws WebProblem 404 `folder-unknown` */
export function allowedFolder(folders: readonly AllowedFolder[], id: string): AllowedFolder {
  const folder = folders.find((one) => one.id === id);
  if (!folder) throw new WebProblem(404, 'folder-unknown', clipTexts.folderUnknown);
  return folder;
}

/**
 * The real place of a path inside an allowed folder.
 *
 * @param given from the folder, with slashes; empty for itself
 * @param is what is looked for, for the sentence when it is not there
 * @throws WebProblem 403 `path-outside` for a path that climbs, is hidden, absolute, holds NUL, or leads outside by a link; 404 where nothing is
 *   there; 403 where it may not be looked into
 */
export async function realPlace(
  folder: AllowedFolder,
  given: string,
  is: 'folder' | 'file' = 'folder',
): Promise<string> {
  const parts = given.split('/').filter((part) => part !== '');
  // What is hidden is not listed, and not reached by its name either.
  const climbs = parts.some((part) => part.startsWith('.') || isForeign(part));
  if (climbs || given.startsWith('/') || given.includes('\0')) throw outside();
  try {
    const real = await fs.realpath(path.join(folder.path, ...parts));
    if (!isInside(real, await fs.realpath(folder.path))) throw outside();
    return real;
  } catch (cause) {
    if (cause instanceof WebProblem) throw cause;
    throw placeProblem(cause, shownPath(folder, given), is);
  }
}

/** On Windows a part of a path that names a drive, a stream or a way of its own. */
function isForeign(part: string): boolean {
  return path.sep === '\\' && /[\\:]/.test(part);
}

/**
 * What is in a folder: folders and files that may be clips; hidden ones and links that lead outside are left out.
 * @throws WebProblem as `realPlace`
 */
export async function listFolder(folder: AllowedFolder, given: string): Promise<FolderListing> {
  const real = await realPlace(folder, given);
  const { listed, rigs } = await namesIn(folder, real, shownPath(folder, given));
  listed.sort((a, b) => Number(b.isFolder) - Number(a.isFolder) || byName.compare(a.name, b.name));
  const shown = listed.slice(0, MOST_LISTED);
  const clips = await Promise.all(
    shown
      .filter(({ isFolder }) => !isFolder)
      .map(async ({ name, real: file }) => {
        const facts = await fs.stat(file).catch(() => null);
        if (facts === null || (mustBeSniffed(name) && !(await holdsTransportStream(file)))) return null;
        return {
          ...{ name, sizeBytes: facts.size, modifiedAt: facts.mtime.toISOString() },
          hasRig: rigs.has(rigName(name)),
        };
      }),
  );
  return {
    folder,
    path: given.split('/').filter(Boolean).join('/'),
    folders: shown.filter(({ isFolder }) => isFolder).map(({ name }) => name),
    clips: clips.filter((clip) => clip !== null),
    more: listed.length - shown.length,
  };
}

/** Folders and clips by their names, and the names of rig files. */
async function namesIn(
  folder: AllowedFolder,
  real: string,
  shown: string,
): Promise<{ readonly listed: Listed[]; readonly rigs: ReadonlySet<string> }> {
  let entries;
  let root: string;
  try {
    entries = await fs.readdir(real, { withFileTypes: true });
    root = await fs.realpath(folder.path);
  } catch (cause) {
    throw placeProblem(cause, shown, 'folder');
  }
  const found = await Promise.all(
    entries
      .filter(({ name }) => !name.startsWith('.'))
      .map(async (entry): Promise<Listed | null> => {
        const place = path.join(real, entry.name);
        if (!entry.isSymbolicLink()) return listed(entry.name, place, entry);
        const target = await fs.realpath(place).catch(() => null);
        if (target === null || !isInside(target, root)) return null;
        // It may go while it is looked at.
        const kind = await fs.stat(target).catch(() => null);
        return kind && listed(entry.name, target, kind);
      }),
  );
  return {
    listed: found.filter((one) => one !== null),
    rigs: new Set(entries.map(({ name }) => name).filter((name) => name.endsWith('.rig.json'))),
  };
}

function listed(
  name: string,
  real: string,
  kind: { isDirectory(): boolean; isFile(): boolean },
): Listed | null {
  if (kind.isDirectory()) return { name, isFolder: true, real };
  return kind.isFile() && mayBeClip(name) ? { name, isFolder: false, real } : null;
}

function shownPath(folder: AllowedFolder, given: string): string {
  return [folder.name, ...given.split('/').filter(Boolean)].join('/');
}

function outside(): WebProblem {
  return new WebProblem(403, 'path-outside', clipTexts.pathOutside);
}

function placeProblem(cause: unknown, shown: string, is: 'folder' | 'file'): WebProblem {
  const isBarred = ['EACCES', 'EPERM'].includes(String((cause as NodeJS.ErrnoException).code));
  const isFile = is === 'file';
  if (isBarred) {
    const sentence = isFile ? clipTexts.fileUnreadable(shown) : clipTexts.folderUnreadable(shown);
    return new WebProblem(403, `${is}-unreadable`, sentence, { cause });
  }
  const sentence = isFile ? clipTexts.fileMissing(shown) : clipTexts.folderMissing(shown);
  return new WebProblem(404, `${is}-missing`, sentence, { cause });
}
