/**
 * Writes src/cli/recorded-binaries.ts: the SHA-256 of every binary that this program runs out of a package, taken from the very archives
 * whose checksums stand in package-lock.json. `npm run record-binaries` after a package with a binary was changed; it needs the registry.
 */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { brotliDecompressSync } from 'node:zlib';
import { format, resolveConfig } from 'prettier';

const root = path.resolve(import.meta.dirname, '..');
const TARGET = path.join(root, 'src/cli/recorded-binaries.ts');
const PLATFORMS = ['linux-x64', 'darwin-arm64', 'win32-x64'];

/** Packages, and which of their files are run; "br" files are run as they are once unpacked. */
const WANTED: readonly (readonly [name: RegExp, file: RegExp])[] = [
  [/^@ffmpeg-installer\/(PLATFORM)$/, /^ffmpeg(\.exe)?$/],
  [/^@ffprobe-installer\/(PLATFORM)$/, /^ffprobe(\.exe)?$/],
  [/^@libsql\/(PLATFORM)(-gnu|-musl|-msvc)?$/, /^index\.node$/],
  [/^@img\/sharp-(PLATFORM)$/, /^lib\/[^/]*\.(node|dll)$/],
  [/^@img\/sharp-libvips-(PLATFORM)$/, /^lib\/libvips-cpp[^/]*$/],
  [/^@techstark\/opencv-js$/, /^dist\/opencv\.js$/],
  [/^@sparticuz\/chromium$/, /^bin\/chromium\.br$/],
].map(([name, file]) => [new RegExp(name.source.replace('PLATFORM', PLATFORMS.join('|'))), file]);

interface Locked {
  readonly version: string;
  readonly integrity?: string;
}

const lock = JSON.parse(fs.readFileSync(path.join(root, 'package-lock.json'), 'utf8')) as {
  packages: Record<string, Locked>;
};
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'record-binaries-'));
const records: Record<string, string> = {};
try {
  for (const [place, { version, integrity }] of Object.entries(lock.packages)) {
    const name = place.replace(/^.*node_modules\//, '');
    const wanted = WANTED.find(([pattern]) => pattern.test(name));
    if (!wanted || place !== `node_modules/${name}`) continue;
    for (const [file, bytes] of filesOf(name, version, integrity)) {
      if (!wanted[1].test(file)) continue;
      const isPacked = file.endsWith('.br');
      const told = isPacked ? path.basename(file, '.br') : file;
      records[`${name}@${version}/${told}`] = sha256(isPacked ? brotliDecompressSync(bytes) : bytes);
    }
  }
} finally {
  fs.rmSync(folder, { recursive: true, force: true });
}
const sorted = Object.fromEntries(Object.entries(records).sort(([a], [b]) => (a < b ? -1 : 1)));
const text = `/** Written by .config/record-binaries.ts from the archives of package-lock.json; not by hand. */

/** SHA-256 of the binaries that are run out of packages, by "package@version/file"; the packaged browser as it is unpacked. */
export const RECORDED_BINARIES: Readonly<Record<string, string>> = ${JSON.stringify(sorted)};
`;
fs.writeFileSync(TARGET, await format(text, { ...(await resolveConfig(TARGET)), filepath: TARGET }));

/** The files of the archive of a package, once its checksum is the one of the lock file. */
function filesOf(name: string, version: string, integrity: string | undefined): Map<string, Buffer> {
  const words = ['pack', `${name}@${version}`, '--silent', '--prefer-offline', '--pack-destination', folder];
  const archive = path.join(
    folder,
    execFileSync('npm', words, { encoding: 'utf8', cwd: folder }).trim().split('\n').at(-1) ?? '',
  );
  const sum = `sha512-${createHash('sha512').update(fs.readFileSync(archive)).digest('base64')}`;
  if (sum !== integrity)
    throw new Error(`${name}@${version}: the archive is not the one of package-lock.json`);
  const at = fs.mkdtempSync(path.join(folder, 'unpacked-'));
  execFileSync('tar', ['-xzf', archive, '-C', at]);
  const [top] = fs.readdirSync(at);
  const names = fs.readdirSync(path.join(at, top), { recursive: true, encoding: 'utf8' });
  const files = names.filter((one) => fs.statSync(path.join(at, top, one)).isFile());
  return new Map(
    files.map((one) => [one.split(path.sep).join('/'), fs.readFileSync(path.join(at, top, one))]),
  );
}

function sha256(bytes: Buffer): string {
  return createHash('sha256').update(bytes).digest('hex');
}
