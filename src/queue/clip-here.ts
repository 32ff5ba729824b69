/** The clip of an order as a file of this machine: where it lies on a share, or fetched into a folder of its own that goes afterwards. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { clearLeft, isInside, unfinishedFolder } from '../files/index.js';
import { TrundleError, type ClipOrder } from '../run/index.js';
import { queueTexts } from '../texts/index.js';
import { pathHere, type ClipRules } from './clip-rules.js';
import { NotForThisWorker } from './failures.js';
import { fetchClip } from './fetch-clip.js';

/** A clip that can be measured. */
export interface ClipHere {
  readonly file: string;
  /** Removes it where it was fetched. */
  done(): Promise<void>;
}

/** What the way to a clip needs. */
export interface FetchPlace {
  /** Folder for clips while they are measured. */
  readonly tempFolder: string;
  readonly signal: AbortSignal;
  readonly onProgress: (doneBytes: number) => void;
  /** Told once, when it is there to be read: that this worker may was found out before. */
  readonly onFound?: () => void;
}

/** Takes away what crashed workers of this machine left. */
export function clearFetched(tempFolder: string): Promise<void> {
  return clearLeft(tempFolder);
}

/**
 * The clip of an order.
 * @throws NotForThisWorker outside of what is allowed here, or where no file is that a map leads to; TrundleError `clip-missing`, `clip-changed` where other bytes are there than were
 * ordered, `clip-not-fetched`, `output-unwritable`, `interrupted`
 */
export async function clipHere(order: ClipOrder, rules: ClipRules, place: FetchPlace): Promise<ClipHere> {
  if ('path' in order.place) {
    const file = await sharedFile(order.place.path, rules);
    const { size } = await fs.stat(file);
    if (size !== order.sizeBytes) throw changed(order.name);
    place.onFound?.();
    return { file, done: () => Promise.resolve() };
  }
  return fetched(order, order.place.url, rules, place);
}

/**
 * The real place of a shared clip.
 * @throws NotForThisWorker; TrundleError `place-not-allowed`, `clip-missing`
 */
async function sharedFile(given: string, rules: ClipRules): Promise<string> {
  const wanted = pathHere(given, rules.maps);
  const isAllowed = (found: string): boolean =>
    rules.folders.some(({ named, real }) => isInside(found, named) || isInside(found, real));
  if (wanted.includes('\0')) throw noFile(given);
  if (!path.isAbsolute(wanted)) throw outside(given);
  const real = await fs.realpath(wanted).catch(() => null);
  if (real === null) {
    // Whether there is anything outside is nobody's business.
    if (!isAllowed(path.normalize(wanted))) throw outside(given);
    // What a map leads to is of this worker; the same path at all of them is of the clip.
    const Kind = wanted === given ? TrundleError : NotForThisWorker;
    throw new Kind(
      'clip-missing',
      `There is no clip "${wanted}" on this worker; check that the share is there, and --map.`,
    );
  }
  if (!rules.folders.some((folder) => isInside(real, folder.real))) throw outside(given);
  if (!(await fs.stat(real)).isFile()) throw noFile(given);
  return real;
}

async function fetched(
  order: ClipOrder,
  url: string,
  rules: ClipRules,
  { tempFolder, signal, onProgress, onFound = () => undefined }: FetchPlace,
): Promise<ClipHere> {
  const folder = unfinishedFolder(path.join(tempFolder, 'clip'));
  const done = async (): Promise<void> => {
    await fs.rm(folder.path, { recursive: true, force: true });
    folder.done();
  };
  try {
    await fs.mkdir(folder.path, { recursive: true, mode: 0o700 });
    const file = path.join(folder.path, fileName(order.name));
    const handle = await fs.open(file, 'wx', 0o600);
    let isFound = false;
    try {
      const { sha256 } = await fetchClip(url, {
        ...{
          origins: rules.origins,
          mostBytes: rules.mostBytes,
          signal,
        },
        async onBytes(bytes, atByte) {
          if (atByte + bytes.length > (order.sizeBytes ?? Infinity)) throw changed(order.name);
          if (atByte === 0) await handle.truncate(0);
          if (!isFound) onFound();
          isFound = true;
          for (let from = 0; from < bytes.length;)
            from += (await handle.write(bytes, from, bytes.length - from, atByte + from)).bytesWritten;
          onProgress(atByte + bytes.length);
        },
      });
      if (sha256 !== order.sha256) throw changed(order.name);
    } finally {
      await handle.close();
    }
    return { file, done };
  } catch (error) {
    await done();
    throw asOurs(error, tempFolder);
  }
}

/** A name of an order as one of a file here: FFmpeg goes by the ending, the report by the rest. */
function fileName(name: string): string {
  const plain = name.replace(/[\u0000-\u001f/\\:*?"<>|]/g, '-').replace(/^\.+/, '');
  return [...plain].slice(-80).join('') || 'clip';
}

function asOurs(error: unknown, folder: string): unknown {
  const { code } = error as NodeJS.ErrnoException;
  if (error instanceof TrundleError || code === undefined) return error;
  const why = code === 'ENOSPC' ? queueTexts.diskFull : code;
  return new TrundleError(
    'output-unwritable',
    `The folder "${folder}" takes no clip (${why}); make room, or give another one with --temp-dir.`,
    { cause: error },
  );
}

function noFile(given: string): TrundleError {
  return new TrundleError('place-not-allowed', `The clip "${given}" is no file; order it by its path again.`);
}

function outside(given: string): TrundleError {
  return new NotForThisWorker(
    'place-not-allowed',
    `The clip "${given}" lies outside of the folders that this worker may read; allow its folder with --folder or --map.`,
  );
}

/** The clip that is there is not the one that was ordered. */
export function changed(name: string): TrundleError {
  return new TrundleError(
    'clip-changed',
    `The clip "${name}" is no longer the one that was ordered; order it again.`,
  );
}
