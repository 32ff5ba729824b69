/** The clips that places on a command line stand for: files by themselves, and folders with what they hold. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { holdsPictureRow, picturesRefused } from '../footage/index.js';
import { TrundleError } from '../run/index.js';
import { batchTexts } from '../texts/index.js';
import type { BatchClip } from './batch.js';
import { findClips, type FindOptions, type FoundClip } from './find-clips.js';
import { unnamedClips } from './unnamed-clips.js';

/** Places sorted by what they are. */
export interface SortedPlaces {
  /** Files, and what is not there: that is told when it is to be measured. */
  readonly files: readonly BatchClip[];
  readonly folders: readonly string[];
}

/** Clips, and places that give none. */
export interface ClipList {
  readonly clips: readonly BatchClip[];
  /** Files of the folders that hold what clips hold, but are not called like clips. */
  readonly unnamed: readonly string[];
  readonly failures: readonly { readonly path: string; readonly failure: TrundleError }[];
}

/** Sorts places by what they are. */
export async function sortPlaces(places: readonly string[]): Promise<SortedPlaces> {
  const files: BatchClip[] = [];
  const folders: string[] = [];
  for (const place of places) {
    const facts = await fs.stat(place).catch(() => null);
    if (facts?.isDirectory()) folders.push(place);
    else files.push({ path: place, relative: path.basename(place), sizeBytes: facts?.size ?? 0 });
  }
  return { files, folders };
}

/** The clips of places, each once; a folder that holds none is told. */
export async function listClips({ files, folders }: SortedPlaces, options: FindOptions): Promise<ClipList> {
  const clips: BatchClip[] = [...files];
  const failures: ClipList['failures'][number][] = [];
  const others: string[] = [];
  for (const folder of folders) {
    const found = await findClips(folder, options);
    failures.push(...found.barred);
    others.push(...found.others);
    clips.push(...found.clips.map((clip) => inBatch(clip, folder, folders)));
    const isBarred = found.barred.length > 0 || options.signal?.aborted;
    if (found.clips.length === 0 && !isBarred)
      failures.push({ path: folder, failure: await withoutClips(folder, options.recursive) });
  }
  const once = [...new Map(clips.map((clip) => [path.resolve(clip.path), clip])).values()];
  return { clips: once, unnamed: await unnamedClips(others, options.signal), failures };
}

/** A found clip as one of the batch: of several folders each has a place of its own, by its name. */
export function inBatch(
  { path: place, relative, sizeBytes }: FoundClip,
  folder: string,
  folders: readonly string[],
): BatchClip {
  const name = path.basename(path.resolve(folder));
  return {
    path: place,
    relative: folders.length > 1 && name !== '' ? `${name}/${relative}` : relative,
    sizeBytes,
  };
}

async function withoutClips(folder: string, recursive: boolean): Promise<TrundleError> {
  if (await holdsPictureRow(folder)) return picturesRefused(folder, 'row');
  return new TrundleError('clip-missing', batchTexts.noClips(folder, recursive));
}
