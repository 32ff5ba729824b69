/** What check-setup says of the binaries: whether they are the recorded ones, and who could replace them. */
import { createHash } from 'node:crypto';
import { chmodSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { carriedBinaries, describeBinary } from '../../src/cli/binaries.js';
import { RECORDED_BINARIES } from '../../src/cli/recorded-binaries.js';
import { clipFolder } from '../footage/made-clips.js';
import { runWords } from '../support/recorded-io.js';

const folder = clipFolder();
const PLATFORM = `${process.platform}-${process.arch}`;

/** An installed package of a name and version with one file of a few bytes. */
function installed(name: string, version: string, file: string): string {
  const at = path.join(folder, version, 'node_modules', name);
  mkdirSync(path.dirname(path.join(at, file)), { recursive: true });
  writeFileSync(path.join(at, 'package.json'), JSON.stringify({ name, version, license: 'MIT' }));
  writeFileSync(path.join(at, file), 'not the one', { mode: 0o755 });
  return path.join(at, file);
}

describe('a binary', () => {
  it('of a package is told apart from the recorded one', async () => {
    const sha256 = createHash('sha256').update('not the one').digest('hex');
    expect(await describeBinary(installed('@libsql/linux-x64-gnu', '0.5.29', 'index.node'))).toMatchObject({
      package: { name: '@libsql/linux-x64-gnu', version: '0.5.29' },
      licence: 'MIT',
      sha256,
      record: 'differs',
      replaceableBy: null,
    });
    expect(await describeBinary(installed('@libsql/linux-x64-gnu', '0.5.28', 'index.node'))).toMatchObject({
      record: 'not recorded',
    });
  });

  it('of this machine has no package and no record', async () => {
    const file = path.join(folder, 'own');
    writeFileSync(file, '', { mode: 0o755 });
    expect(await describeBinary(file)).toMatchObject({
      package: null,
      licence: null,
      record: 'not recorded',
    });
  });

  it.skipIf(process.platform === 'win32')('that others could replace is told as such', async () => {
    const place = path.join(folder, 'place');
    mkdirSync(place);
    const file = path.join(place, 'program');
    writeFileSync(file, '');
    const who = async (fileMode: number, folderMode: number): Promise<string | null> => {
      chmodSync(file, fileMode);
      chmodSync(place, folderMode);
      return (await describeBinary(file)).replaceableBy;
    };
    expect(await who(0o755, 0o755)).toBeNull();
    expect(await who(0o757, 0o755)).toBe('every user of this machine');
    expect(await who(0o755, 0o777)).toBe('every user of this machine');
    expect(await who(0o755, 0o1777)).toBeNull();
  });

  const isRecorded = Object.keys(RECORDED_BINARIES).some((name) => name.includes(PLATFORM));
  it.skipIf(!isRecorded)(
    'of every installed library is the one whose archive stands in the lock file',
    async () => {
      const carried = await carriedBinaries();
      expect(carried.map(({ what }) => what)).toEqual(
        expect.arrayContaining(['database', 'pictures', 'vision']),
      );
      for (const { file } of carried)
        expect(await describeBinary(file)).toMatchObject({ record: 'as recorded' });
    },
  );
});

describe('check-setup', () => {
  it('gives whole checksums as JSON and nothing else', { timeout: 180_000 }, async () => {
    const { out, err } = await runWords('check-setup', '--json');
    expect(err).toBe('');
    const { schema, rows } = JSON.parse(out) as {
      schema: string;
      rows: {
        what: string;
        state: string;
        binary: { sha256: string; record: string; file: string } | null;
      }[];
    };
    expect(schema).toBe('trundle-setup/1');
    expect(rows.map(({ what }) => what)).toEqual(
      expect.arrayContaining([
        'trundle',
        'Node.js',
        'ffmpeg',
        'ffprobe',
        'browser',
        'database',
        'pictures',
        'vision',
      ]),
    );
    const ffmpeg = rows.find(({ what }) => what === 'ffmpeg')!;
    expect(ffmpeg.binary!.sha256).toBe(
      createHash('sha256').update(readFileSync(ffmpeg.binary!.file)).digest('hex'),
    );
  });
});

describe('the records', () => {
  it('are of the versions that the lock file asks for', () => {
    const lock = JSON.parse(
      readFileSync(path.resolve(import.meta.dirname, '../../package-lock.json'), 'utf8'),
    ) as {
      packages: Record<string, { version: string }>;
    };
    for (const name of Object.keys(RECORDED_BINARIES)) {
      const [, from, version] = /^(@[^@]+)@([^/]+)\//.exec(name)!;
      expect(lock.packages[`node_modules/${from}`].version, from).toBe(version);
    }
  });
});
