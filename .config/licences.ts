/**
 * The licences of all that an installation of this program holds: writes .config/licences.md (`npm run licences`), or with --check only
 * fails when a package has a licence outside the list, nobody has said what it is for, or the table is not of today.
 */
import fs from 'node:fs';
import path from 'node:path';
import { format, resolveConfig } from 'prettier';

const root = path.resolve(import.meta.dirname, '..');
const TABLE = path.join(import.meta.dirname, 'licences.md');

/** Licences under which a package may be a part of this program. */
const ALLOWED = [
  '0BSD',
  'Apache-2.0',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'ISC',
  'MIT',
  'LGPL-2.1-or-later',
  'LGPL-3.0-or-later',
  'Bitstream-Vera',
];
/** And under which it may be a program of its own, which is started and talked to, never linked. */
const NON_FREE = 'GPL-3.0-or-later with non-free parts';
const ALLOWED_PROGRAMS = [...ALLOWED, 'GPL-3.0', 'GPL-3.0-or-later', 'LGPL-2.1', NON_FREE];

/** Packages whose lock entry says nothing, or nothing in SPDX words; where it was read is said behind. */
const READ: Readonly<Record<string, string>> = {
  '@ffmpeg-installer/ffmpeg': 'LGPL-2.1-or-later', // LGPL-2.1 in its package.json: a few lines that tell a path
  '@ffprobe-installer/ffprobe': 'LGPL-2.1-or-later', // the same
  async: 'MIT', // its LICENSE
  'dejavu-fonts-ttf': 'Bitstream-Vera', // its LICENSE; changes of DejaVu are in the public domain
  'parse-cache-control': 'BSD-3-Clause', // its LICENSE, as published
};

/** Programs and libraries in packages: what is in there, and its licence where that is another one than the package states. */
const CARRIES: readonly (readonly [name: RegExp, what: string, licence: string | null])[] = [
  // The options that the programs of linux-x64, win32-x64 and darwin-arm64 were built with were read out of them.
  [
    /^@ffmpeg-installer\/darwin-arm64$/,
    'FFmpeg, a program of its own, built with --enable-nonfree: to use, not to pass on',
    NON_FREE,
  ],
  [/^@ffmpeg-installer\/darwin-x64$/, 'FFmpeg, a program of its own', null],
  [/^@ffmpeg-installer\/.*-/, 'FFmpeg with x264 (GPL), a program of its own', 'GPL-3.0-or-later'],
  [/^@ffprobe-installer\/.*-/, 'ffprobe of FFmpeg, a program of its own', null],
  [/^ffmpeg-static$/, 'downloads FFmpeg when it is installed, a program of its own', 'GPL-3.0-or-later'],
  [
    /^@sparticuz\/chromium$/,
    'Chromium (BSD-3-Clause, parts under other free licences), a program of its own',
    null,
  ],
  [/^@img\/sharp-libvips-/, 'libvips and its libraries, linked dynamically: may be replaced by others', null],
  [/^@img\/sharp-win32-|^@img\/sharp-.*wasm32$/, 'sharp with libvips', null],
  [/^@img\/sharp-/, 'sharp, machine code', null],
  [/^@libsql\//, 'SQLite (public domain) as libSQL, machine code', null],
  [/^@msgpackr-extract\//, 'reading of strings for msgpackr, machine code', null],
  [/^@techstark\/opencv-js$/, 'OpenCV 4.12 as WebAssembly', null],
  [/^dejavu-fonts-ttf$/, 'fonts of the picture to send', null],
];

/** What each direct dependency is for. */
const PURPOSE: Readonly<Record<string, string>> = {
  '@ffmpeg-installer/ffmpeg': 'FFmpeg where the machine has none',
  '@ffprobe-installer/ffprobe': 'ffprobe where the machine has none',
  '@hono/node-server': 'server of the local page',
  '@preact/signals': 'local page, bundled',
  '@sparticuz/chromium': 'PDF on Linux',
  '@techstark/opencv-js': 'tracking, boards, resampling',
  bullmq: 'queue over Redis, loaded by trundle queue alone',
  citty: 'command line',
  'd3-array': 'charts, also bundled into pages',
  'd3-format': 'charts, also bundled into pages',
  'd3-scale': 'charts, also bundled into pages',
  'd3-shape': 'charts, also bundled into pages',
  'dejavu-fonts-ttf': 'picture to send',
  'ffmpeg-static': 'a newer FFmpeg, where its download was let run',
  'fft.js': 'spectra, also bundled into the page',
  'fluent-ffmpeg': 'runs FFmpeg',
  hono: 'server of the local page',
  ioredis: 'client of Redis, loaded by trundle queue alone',
  libsql: 'log of runs',
  'playwright-core': 'drives the browser that prints',
  preact: 'local page, bundled',
  sharp: 'pictures',
  zod: 'schemas, also bundled into the page',
};
/** Development packages whose code is bundled into what is installed. */
const BUNDLED = ['preact', '@preact/signals', '@preact/signals-core', '@sparticuz/chromium'];

interface Locked {
  readonly version: string;
  readonly license?: string;
  readonly dev?: boolean;
  readonly os?: readonly string[];
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly optionalDependencies?: Readonly<Record<string, string>>;
  readonly devDependencies?: Readonly<Record<string, string>>;
}

/** The table as text, and what is wrong with it. @param lock a package-lock.json (version 3) */
export function licenceTable(lock: { readonly packages: Readonly<Record<string, Locked>> }): {
  readonly text: string;
  readonly faults: readonly string[];
} {
  const faults: string[] = [];
  const top = lock.packages[''];
  const direct = new Set([
    ...Object.keys(top.dependencies ?? {}),
    ...Object.keys(top.optionalDependencies ?? {}),
  ]);
  const named = Object.entries(lock.packages)
    .filter(([place]) => place !== '')
    .map(([place, one]) => ({ ...one, place, name: place.replace(/^.*node_modules\//, '') }));
  const shipped = named.filter(({ name, dev }) => dev !== true || BUNDLED.includes(name) || direct.has(name));
  const isDirect = ({ name, place }: { readonly name: string; readonly place: string }): boolean =>
    place === `node_modules/${name}` && (direct.has(name) || name in (top.devDependencies ?? {}));
  const rows = new Map<string, readonly [string, string, string, string]>();
  for (const one of shipped) {
    const { name, version } = one;
    const carried = CARRIES.find(([pattern]) => pattern.test(name));
    const licence = carried?.[2] ?? READ[name] ?? one.license ?? '';
    const allowed = carried === undefined ? ALLOWED : ALLOWED_PROGRAMS;
    if (!licence.split(' AND ').every((part) => allowed.includes(part)))
      faults.push(`${name} ${version}: the licence "${licence}" is not on the list of .config/licences.ts`);
    if (isDirect(one) && PURPOSE[name] === undefined)
      faults.push(`${name} ${version}: .config/licences.ts does not say what it is for`);
    // Packages of one family that differ by the machine stand in one line.
    const family =
      one.os === undefined || name === 'libsql'
        ? name
        : name.replace(/(darwin|freebsd|linux(musl)?|win32)-.*$/, '*');
    const users = shipped.filter((other) => name in { ...other.dependencies, ...other.optionalDependencies });
    const purpose =
      PURPOSE[name] ?? `for ${[...new Set(users.map((other) => other.name))].sort().slice(0, 3).join(', ')}`;
    rows.set(`${family} ${version} ${licence}`, [
      family,
      version,
      licence,
      carried ? `${purpose}: ${carried[1]}` : purpose,
    ]);
  }
  const lines = [...rows.entries()]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, row]) => `| ${row.join(' | ')} |`);
  const text = `# Licences

Everything that an installation holds, from package-lock.json. Written by \`npm run licences\`; not by hand. Programs of their own (FFmpeg, ffprobe, Chromium) are started and talked to, never linked; whoever passes an installation on passes them on under their own licences. Scripts bundled into pages and reports carry the notices of their packages at their head.

| package | version | licence | what for |
|---|---|---|---|
${lines.join('\n')}
`;
  return { text, faults };
}

async function main(): Promise<void> {
  const lock = JSON.parse(fs.readFileSync(path.join(root, 'package-lock.json'), 'utf8')) as {
    packages: Record<string, Locked>;
  };
  const { text, faults } = licenceTable(lock);
  const table = await format(text, { ...(await resolveConfig(TABLE)), filepath: TABLE });
  const isOfToday = fs.existsSync(TABLE) && fs.readFileSync(TABLE, 'utf8') === table;
  const told = [...faults];
  if (!process.argv.includes('--check')) fs.writeFileSync(TABLE, table);
  else if (!isOfToday) told.push('.config/licences.md is not of today: npm run licences');
  for (const fault of told) process.stderr.write(`${fault}\n`);
  process.exitCode = told.length > 0 ? 1 : 0;
}

if (process.argv[1] === import.meta.filename) await main();
