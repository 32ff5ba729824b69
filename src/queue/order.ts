/** Makes the order of a clip: finds out which bytes it is, wherever it lies. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { settingsKey } from '../batch/index.js';
import { sha256OfFile } from '../footage/index.js';
import type { MeasureRequest } from '../measure-request.js';
import { CLIP_ORDER_SCHEMA, TrundleError, type ClipOrder } from '../run/index.js';
import { toolVersion } from '../tool-version.js';
import { clipAddress, fetchClip } from './fetch-clip.js';
import { MOST_FETCHED_BYTES } from './clip-rules.js';

/** A clip to be ordered, with what it is measured with. */
export interface OrderedClip {
  /** Path of this machine, or address of a web server; `#sha256=...` behind it saves reading the clip to find out which it is. */
  readonly clip: string;
  /** What it is called, at most 1000 characters: its path below the folder that was added, with slashes; its own name unless given. */
  readonly name?: string;
  /** Without what is named by its place: other runs and logs of angular rates are on this machine alone. */
  readonly request: Omit<MeasureRequest, 'clip' | 'motionLogFile' | 'otherRun' | 'otherSurfaces'>;
}

const SUM = /^#sha256=([0-9a-f]{64})$/i;

/** Whether a clip is named by the address of a server, not by a path. */
export function isAddress(clip: string): boolean {
  return /^[a-z][a-z\d+.-]+:\/\//i.test(clip);
}

/**
 * The order of a clip.
 *
 * @param origins of servers that may be read
 * @throws TrundleError `clip-missing`, `clip-unreadable`, `place-not-allowed`, `clip-not-fetched`, `interrupted`
 */
export async function orderOf(
  { clip, name, request }: OrderedClip,
  origins: readonly string[],
  signal: AbortSignal,
): Promise<ClipOrder> {
  const {
    rig = {},
    delivery = {},
    pass = {},
    stabilise = {},
    units,
    inPoint,
    outPoint,
    ...figures
  } = request;
  const wish = {
    ...{ rig, delivery, pass, stabilise, units, inPoint, outPoint },
    ...{ analysisWidthPx: figures.analysisWidthPx, cutoffHz: figures.cutoffHz },
  };
  const found = isAddress(clip) ? await onServer(clip, origins, signal) : await onDisk(clip, signal);
  return {
    schema: CLIP_ORDER_SCHEMA,
    version: toolVersion().version,
    ...found,
    ...(name && { name }),
    settingsKey: settingsKey(wish),
    request: wish,
  };
}

type Found = Pick<ClipOrder, 'name' | 'place' | 'sizeBytes' | 'sha256'>;

async function onDisk(clip: string, signal: AbortSignal): Promise<Found> {
  const sha256 = await sha256OfFile(clip, signal);
  const file = path.resolve(clip);
  const { size } = await fs.stat(file);
  return { name: path.basename(file), place: { path: file }, sizeBytes: size, sha256 };
}

async function onServer(clip: string, origins: readonly string[], signal: AbortSignal): Promise<Found> {
  const { href, hash, pathname } = clipAddress(clip, origins);
  const url = href.slice(0, href.length - hash.length);
  const place = { name: nameIn(pathname), place: { url } };
  if (hash === '')
    return { ...place, ...(await fetchClip(url, { origins, mostBytes: MOST_FETCHED_BYTES, signal })) };
  const [, sum] = SUM.exec(hash) ?? [];
  if (sum === undefined)
    throw new TrundleError(
      'place-not-allowed',
      `What follows "#" in "${clip}" must be sha256= and 64 hex digits, or nothing.`,
    );
  return { ...place, sizeBytes: null, sha256: sum.toLowerCase() };
}

/** The last part of a path of an address, as people would read it. */
function nameIn(pathname: string): string {
  const last = pathname.split('/').filter(Boolean).at(-1) ?? 'clip';
  try {
    return decodeURIComponent(last).slice(0, 200) || 'clip';
  } catch {
    return last.slice(0, 200);
  }
}
