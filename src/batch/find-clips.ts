/**
 * The clips of a folder, and of all folders below it when asked: those that a camera left, in the order in which people list them, and
 * nothing that this program made itself.
 */
import fs from 'node:fs/promises';
import path from 'node:path';
import { holdsTransportStream, mayBeClip, mustBeSniffed } from '../footage/index.js';
import { RUN_SCHEMA, TrundleError } from '../run/index.js';

/** A clip that was found. */
export interface FoundClip {
  /** As it can be opened: the folder as it was named, and what lies below it. */
  readonly path: string;
  /** From the folder, with slashes. */
  readonly relative: string;
  /** Size, bytes; 0 where the file cannot be looked at. */
  readonly sizeBytes: number;
  /** When it was last changed, ms since 1970 by the clock of its disk; 0 where it cannot be looked at. */
  readonly modifiedMs: number;
}

/** What a folder holds. */
export interface FoundClips {
  readonly clips: readonly FoundClip[];
  /** Files that are not called like clips, nor hidden, empty or made by this program. */
  readonly others: readonly string[];
  /** Folders that cannot be looked into (code `clip-unreadable`). */
  readonly barred: readonly { readonly path: string; readonly failure: TrundleError }[];
}

/** Where to look. */
export interface FindOptions {
  /** Whether folders below are looked into. */
  readonly recursive: boolean;
  /** Folders that are passed by, as they were named: where reports go. */
  readonly leaveOut?: readonly string[];
  /** Ends the search: what was found until then is given. */
  readonly signal?: AbortSignal | undefined;
}

/** The name that this program gives to the stabilised clip in a report folder; no camera calls its clips so. */
const PROOF = /^proof\.(mp4|mkv|mov)$/i;
const DOCUMENT = 'run.json';
/** A run document begins with its schema. */
const DOCUMENT_HEAD_BYTES = 200;
const FORMAT = RUN_SCHEMA.replace(/\d+$/, '');
const byName = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

/**
 * Finds them: files of a folder before those of the folders in it, each by name with numbers by their value.
 *
 * Hidden files and folders, report folders, proofs and empty names are passed by. Links are followed; a folder that was looked into by another
 * way already is not looked into again, so that a circle of links ends.
 */
export async function findClips(folder: string, options: FindOptions): Promise<FoundClips> {
  const clips: FoundClip[] = [];
  const others: string[] = [];
  const barred: { path: string; failure: TrundleError }[] = [];
  const left = await Promise.all((options.leaveOut ?? []).map(realOrItself));
  const seen = new Set<string>();
  const look = async (relative: string): Promise<void> => {
    const place = path.join(folder, relative);
    const real = await realOrItself(place);
    // Where reports go may be the very folder that is asked for.
    if (options.signal?.aborted || seen.has(real) || (relative !== '' && left.includes(real))) return;
    seen.add(real);
    let names: string[];
    try {
      names = await fs.readdir(place);
    } catch (cause) {
      barred.push({ path: place, failure: barredFolder(place, cause) });
      return;
    }
    if (names.includes(DOCUMENT) && (await isRunDocument(path.join(place, DOCUMENT)))) return;
    const folders: string[] = [];
    for (const name of names.filter(isShown).sort(inOrder)) {
      const below = relative === '' ? name : `${relative}/${name}`;
      const facts = await fs.stat(path.join(folder, below)).catch(() => null);
      if (facts?.isDirectory()) folders.push(below);
      else if (await isClip(path.join(folder, below), name, facts?.isFile() ?? true))
        clips.push({
          ...{ path: path.join(folder, below), relative: below },
          ...{ sizeBytes: facts?.size ?? 0, modifiedMs: facts?.mtimeMs ?? 0 },
        });
      else if (facts?.isFile() && facts.size > 0 && !mayBeClip(name)) others.push(path.join(folder, below));
    }
    if (options.recursive) for (const below of folders) await look(below);
  };
  await look('');
  return { clips, others, barred };
}

function isShown(name: string): boolean {
  return !name.startsWith('.');
}

/** Names that are read alike stand in the order of their letters, so that the order is always the same. */
function inOrder(a: string, b: string): number {
  return byName.compare(a, b) || (a < b ? -1 : 1);
}

/** A link that leads nowhere counts by its name: that its clip is missing is worth a word. */
async function isClip(file: string, name: string, isFile: boolean): Promise<boolean> {
  if (!isFile || !mayBeClip(name) || PROOF.test(name)) return false;
  return !mustBeSniffed(name) || (await holdsTransportStream(file));
}

async function isRunDocument(file: string): Promise<boolean> {
  const handle = await fs.open(file).catch(() => null);
  if (handle === null) return false;
  try {
    const { buffer, bytesRead } = await handle.read(
      Buffer.alloc(DOCUMENT_HEAD_BYTES),
      0,
      DOCUMENT_HEAD_BYTES,
      0,
    );
    return buffer.subarray(0, bytesRead).toString('utf8').includes(FORMAT);
  } catch {
    return false;
  } finally {
    await handle.close();
  }
}

async function realOrItself(place: string): Promise<string> {
  return fs.realpath(place).catch(() => path.resolve(place));
}

function barredFolder(place: string, cause: unknown): TrundleError {
  const isMissing = (cause as NodeJS.ErrnoException).code === 'ENOENT';
  return isMissing
    ? new TrundleError('clip-missing', `There is no folder "${place}"; check the path.`, { cause })
    : new TrundleError(
        'clip-unreadable',
        `The folder "${place}" cannot be looked into; check its permissions.`,
        { cause },
      );
}
