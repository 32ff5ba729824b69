/** Where a worker may take clips from: folders, how paths of the machine with the log are called here, and origins of addresses. */
import fs from 'node:fs';
import path from 'node:path';
import { TrundleError } from '../run/index.js';

/** How a folder of the coordinator is called on this machine. */
export interface FolderMap {
  /** As the coordinator sees it, with slashes, without one at its end. */
  readonly from: string;
  /** Here; absolute. */
  readonly to: string;
}

/** A folder with all below it. */
export interface AllowedFolder {
  /** As it was given; absolute. */
  readonly named: string;
  /** Where that really is, all links followed. */
  readonly real: string;
}

/** What a worker may read; everything else is refused. */
export interface ClipRules {
  readonly maps: readonly FolderMap[];
  /** What a clip leads to must lie in one of them. */
  readonly folders: readonly AllowedFolder[];
  /** Scheme, host and port, as `URL.origin` gives them. */
  readonly origins: readonly string[];
  /** Longest clip that is fetched, bytes. */
  readonly mostBytes: number;
}

/** Longest clip that is fetched unless set, bytes: an hour of a camera original. */
export const MOST_FETCHED_BYTES = 1e12;

/**
 * The rules out of what was typed; the folders that maps lead to are allowed, too.
 * @throws TrundleError `argument-invalid`
 */
export function clipRulesOf(given: {
  readonly maps: readonly string[];
  readonly folders: readonly string[];
  readonly origins: readonly string[];
  readonly mostBytes?: number | undefined;
}): ClipRules {
  const maps = given.maps.map(mapOf);
  const folders = [
    ...given.folders.map((one) => folderOf(one, '--folder')),
    ...maps.map(({ to }) => folderOf(to, '--map')),
  ];
  const origins = given.origins.map(originOf);
  if (folders.length + origins.length === 0)
    throw new TrundleError(
      'argument-invalid',
      'A worker reads only what it is allowed to: give the folders of clips with --folder or --map, or servers with --allow.',
    );
  return {
    ...{ maps, folders, origins },
    mostBytes: given.mostBytes ?? MOST_FETCHED_BYTES,
  };
}

function mapOf(text: string): FolderMap {
  const [, from, to] = /^([^=]+)=(.+)$/s.exec(text) ?? [];
  if (from === undefined || to === undefined || !isAbsolute(from))
    throw new TrundleError(
      'argument-invalid',
      `"--map ${text}" must name a folder as the machine that adds clips calls it and the same one as it is called here, like /footage=/mnt/footage.`,
    );
  return { from: slashed(from).replace(/\/+$/, ''), to: path.resolve(to) };
}

/**
 * A folder that was named by an option.
 * @throws TrundleError `argument-invalid` where there is none
 */
export function folderOf(text: string, option: string): AllowedFolder {
  if (fs.statSync(text, { throwIfNoEntry: false })?.isDirectory())
    return { named: path.resolve(text), real: fs.realpathSync(text) };
  throw new TrundleError('argument-invalid', `"${option} ${text}" leads to no folder; check the path.`);
}

/** The origin of an address. @throws TrundleError `argument-invalid` */
export function originOf(text: string): string {
  const url = URL.canParse(text) ? new URL(text) : null;
  const isBare = url?.pathname === '/' && `${url.search}${url.hash}${url.username}${url.password}` === '';
  if (url && isBare && /^https?:$/.test(url.protocol)) return url.origin;
  throw new TrundleError(
    'argument-invalid',
    `"--allow ${text}" must be a server with its scheme and no path, like https://media.example or http://10.0.0.5:8080.`,
  );
}

/** A path of the coordinator as this machine calls it; the longest folder that fits decides. */
export function pathHere(given: string, maps: readonly FolderMap[]): string {
  const slashes = slashed(given);
  const fitting = maps.filter(({ from }) => slashes.startsWith(`${from}/`));
  const [map] = fitting.sort((a, b) => b.from.length - a.from.length);
  return map ? path.join(map.to, ...slashes.slice(map.from.length).split('/')) : given;
}

/** Paths of Windows have two kinds of strokes. */
function slashed(given: string): string {
  return /^([a-z]:|\\\\)/i.test(given) ? given.replaceAll('\\', '/') : given;
}

function isAbsolute(given: string): boolean {
  return path.posix.isAbsolute(given) || path.win32.isAbsolute(given);
}
