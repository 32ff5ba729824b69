/** Where each binary that this program runs came from: package, licence, SHA-256, whether that is the recorded one, and who could replace it. */
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import fs from 'node:fs/promises';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';
import { fileURLToPath } from 'node:url';
import { RECORDED_BINARIES } from './recorded-binaries.js';

/** How a binary stands to what was recorded of the archives in package-lock.json. */
export type RecordState = 'as recorded' | 'differs' | 'not recorded';

/** What can be told of one binary from its files. */
export interface Binary {
  /** With links followed. */
  readonly file: string;
  /** The package that it came in; null for one of this machine. */
  readonly package: { readonly name: string; readonly version: string } | null;
  /** As its package states it, or as it is known of what is in there; null for one of this machine. */
  readonly licence: string | null;
  readonly sha256: string;
  readonly record: RecordState;
  /** Who besides this user and the administrator could replace it; null for nobody. */
  readonly replaceableBy: string | null;
}

/** Licences of what the packages carry, where that is not the licence of the package itself. */
const CARRIED: readonly (readonly [name: RegExp, licence: string])[] = [
  [/^@ffmpeg-installer\/|^ffmpeg-static$/, 'GPL-3.0-or-later'],
  [/^@ffprobe-installer\//, 'GPL-3.0-or-later'],
  [/^@sparticuz\/chromium$/, 'BSD-3-Clause'],
];

/** A binary that is part of a package of this program. */
export interface CarriedBinary {
  readonly what: 'database' | 'pictures' | 'vision';
  readonly name: string;
  readonly file: string;
}

/** The libraries with machine code that this machine loads, as far as their packages are installed. */
export async function carriedBinaries(): Promise<CarriedBinary[]> {
  const here = `${process.platform}-${process.arch}`;
  const libc = process.platform !== 'linux' ? '' : (await isMusl()) ? 'musl' : 'gnu';
  const picturesOf = libc === 'musl' ? here.replace('linux', 'linuxmusl') : here;
  const ending = libc === '' ? (process.platform === 'win32' ? '-msvc' : '') : `-${libc}`;
  const wanted = [
    { what: 'database', name: 'libsql', package: `@libsql/${here}${ending}`, file: /^index\.node$/ },
    { what: 'pictures', name: 'sharp', package: `@img/sharp-${picturesOf}`, file: /^lib\/[^/]*\.node$/ },
    {
      what: 'pictures',
      name: 'libvips',
      package: `@img/sharp-libvips-${picturesOf}`,
      file: /^lib\/libvips-cpp[^/]*$/,
    },
    { what: 'vision', name: 'OpenCV', package: '@techstark/opencv-js', file: /^dist\/opencv\.js$/ },
  ] as const;
  const found = await Promise.all(
    wanted.map(async (one) => {
      const folder = await packageFolder(one.package);
      if (folder === null) return [];
      const names = (await fs.readdir(folder, { recursive: true })).map((name) =>
        name.split(path.sep).join('/'),
      );
      const file = names.find((name) => one.file.test(name));
      return file === undefined ? [] : [{ what: one.what, name: one.name, file: path.join(folder, file) }];
    }),
  );
  return found.flat();
}

/** Whether the C library of this machine is musl, whose loader has a name of its own. */
async function isMusl(): Promise<boolean> {
  return (await fs.readdir('/lib').catch((): string[] => [])).some((name) => name.startsWith('ld-musl-'));
}

/** The nearest installed package of a name, seen from here. */
async function packageFolder(name: string): Promise<string | null> {
  for (let at = path.dirname(fileURLToPath(import.meta.url)); ; at = path.dirname(at)) {
    const folder = path.join(at, 'node_modules', name);
    if ((await fs.stat(folder).catch(() => null))?.isDirectory()) return folder;
    if (at === path.dirname(at)) return null;
  }
}

/**
 * Looks at one binary.
 *
 * @param unpackedFrom the package, for one that was unpacked to elsewhere
 * @throws Error when the file cannot be read
 */
export async function describeBinary(file: string, unpackedFrom?: string): Promise<Binary> {
  const real = await fs.realpath(file);
  const folder = unpackedFrom === undefined ? packageAround(real) : await packageFolder(unpackedFrom);
  const about = folder === null ? null : await aboutPackage(folder);
  const sha256 = await sha256Of(real);
  if (folder === null || about === null)
    return {
      file: real,
      package: null,
      licence: null,
      sha256,
      record: 'not recorded',
      replaceableBy: await replaceableBy(real),
    };
  const { name, version } = about;
  const within =
    unpackedFrom === undefined ? path.relative(folder, real).split(path.sep).join('/') : path.basename(real);
  const recorded = RECORDED_BINARIES[`${name}@${version}/${within}`];
  return {
    file: real,
    package: { name, version },
    licence: CARRIED.find(([pattern]) => pattern.test(name))?.[1] ?? about.license ?? null,
    sha256,
    record: recorded === undefined ? 'not recorded' : recorded === sha256 ? 'as recorded' : 'differs',
    replaceableBy: await replaceableBy(real),
  };
}

/** The folder of the package that a file lies in; null outside of node_modules. */
function packageAround(file: string): string | null {
  const parts = file.split(path.sep);
  const at = parts.lastIndexOf('node_modules');
  if (at < 0) return null;
  return parts.slice(0, at + (parts[at + 1]?.startsWith('@') ? 3 : 2)).join(path.sep);
}

async function aboutPackage(
  folder: string,
): Promise<{ name: string; version: string; license?: string } | null> {
  const text = await fs.readFile(path.join(folder, 'package.json'), 'utf8').catch(() => null);
  return text === null ? null : (JSON.parse(text) as { name: string; version: string; license?: string });
}

async function sha256Of(file: string): Promise<string> {
  const hash = createHash('sha256');
  await pipeline(createReadStream(file, { highWaterMark: 1 << 20 }), hash);
  return hash.digest('hex');
}

/**
 * Who could put another file in its place: whoever may write to it or owns it, or may write to its folder (unless that keeps the files of
 * each user apart, as a folder for temporary files does). Not told on Windows, whose permissions are of another kind.
 */
async function replaceableBy(file: string): Promise<string | null> {
  if (process.getuid === undefined) return null;
  const trusted = [0, process.getuid()];
  for (const place of [file, path.dirname(file)]) {
    const { mode, uid, gid } = await fs.stat(place);
    const keepsApart = place !== file && (mode & 0o1000) !== 0;
    if (!keepsApart && (mode & 0o002) !== 0) return 'every user of this machine';
    if (!keepsApart && (mode & 0o020) !== 0 && gid !== process.getgid?.() && gid !== 0) return `group ${gid}`;
    if (!trusted.includes(uid)) return `user ${uid}`;
  }
  return null;
}
