/** Disks that are full and disks that may only be read: what is written whole, what is told, and what stands that was there before. */
import { execFile } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { encodeClip, probeClip } from '../../../src/footage/index.js';
import { keepInLog } from '../../../src/keep-run.js';
import { openLog } from '../../../src/log/index.js';
import { checkRunFolder, writeRun, type ReportBundle } from '../../../src/report/index.js';
import { TrundleError } from '../../../src/run/index.js';
import { writeComparison } from '../../../src/write-comparison.js';
import { makeClip, tools } from '../../footage/made-clips.js';
import { madeUpEntry } from '../../log/support/made-up-entry.js';
import { corridorPicture, madeUpBundle } from '../../report/support/made-up-bundle.js';
import { madeUpComparison } from '../../report/support/made-up-comparison.js';
import { runWords } from '../../support/recorded-io.js';
import { CAN_MOUNT, SmallDisk } from './support/small-disk.js';

// What takes seconds on a quiet machine takes minutes on a busy one.
vi.setConfig({ testTimeout: 240_000 });

const own = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-disks-'));
afterAll(() => fs.rmSync(own, { recursive: true, force: true }));

const bundle: ReportBundle = { ...madeUpBundle(), picture: corridorPicture(160, 90) };

async function told(work: () => Promise<unknown>): Promise<string> {
  const outcome: unknown = await work().then(
    (value) => value,
    (error: unknown) => error,
  );
  expect(outcome).toBeInstanceOf(TrundleError);
  const { code, message } = outcome as TrundleError;
  expect(message).toMatch(/^[^\n]+\.$/);
  return `${message} [${code}]`;
}

/** Every file below a folder with its bytes. */
function contents(folder: string): Record<string, string> {
  const files = fs
    .readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((one) => one.isFile());
  return Object.fromEntries(
    files.map((one) => {
      const file = path.join(one.parentPath, one.name);
      return [path.relative(folder, file), fs.readFileSync(file, 'base64')];
    }),
  );
}

async function* frames(): AsyncGenerator<Uint8Array> {
  for (let i = 0; i < 50; i++) {
    await Promise.resolve();
    yield Uint8Array.from({ length: 160 * 120 }, (_, k) => (k * 7919 * (i + 1)) % 256);
  }
}
const CLIP = { widthPx: 160, heightPx: 120, fps: 25, crf: 0 };

describe.skipIf(!CAN_MOUNT)('a full disk (where tests may mount one)', () => {
  it('report: says so, and the earlier report stands as it was', async () => {
    const disk = SmallDisk.of(6000);
    const folder = path.join(disk.folder, 'hall');
    await writeRun(folder, bundle);
    const before = contents(folder);
    disk.fill();
    expect(await told(() => writeRun(folder, bundle))).toMatch(
      /hall" cannot be written \(the disk is full\); choose another with --out-dir\. \[output-unwritable\]/,
    );
    expect(contents(folder)).toEqual(before);
    expect(disk.names()).toEqual(['hall']);
    disk.empty();
    await writeRun(folder, bundle);
    expect(disk.names()).toEqual(['hall']);
  });

  it('log: the run is not kept, the measurement stands, what was kept before is all there', async () => {
    const disk = SmallDisk.of(1500);
    const file = path.join(disk.folder, 'runs.db');
    const log = openLog(file);
    log.add(madeUpEntry({ pass: { floor: 'hall' } }));
    log.close();
    disk.fill();
    const kept = await keepInLog(bundle, { logFile: file, reportFolder: null, settingsKey: null });
    expect('failure' in kept && kept.failure).toMatchObject({
      code: 'log-unwritable',
      message: expect.stringMatching(/cannot grow: the disk is full|cannot be opened or written/) as string,
    });
    disk.empty();
    expect(await keepInLog(bundle, { logFile: file, reportFolder: null, settingsKey: null })).toMatchObject({
      id: 2,
    });
    const after = openLog(file, { onWarning: ({ text }) => expect.fail(text) });
    expect(after.list().map(({ id }) => id)).toContain(1);
    expect(after.get(1).run.pass.floor).toBe('hall');
    after.close();
  });

  it('proof or made-up clip: says so, nothing is left, an earlier clip stands', async () => {
    const disk = SmallDisk.of(300);
    const file = path.join(disk.folder, 'proof.mp4');
    fs.writeFileSync(file, 'an earlier proof');
    disk.fill();
    expect(await told(() => encodeClip(file, CLIP, frames(), tools))).toMatch(
      /proof\.mp4" could not be written \(.*\); check free disk space.* \[output-unwritable\]/,
    );
    expect(disk.names()).toEqual(['proof.mp4']);
    expect(fs.readFileSync(file, 'utf8')).toBe('an earlier proof');
  });

  it('synth: status 2, one sentence, no clip', async () => {
    const disk = SmallDisk.of(64);
    disk.fill();
    const words = ['--duration', '0.2s', '--size', '160x90', '--out-dir', path.join(disk.folder, 'made-up')];
    const { status, out, err } = await runWords('synth', ...words);
    expect([status, out]).toEqual([2, '']);
    expect(err).toMatch(/^trundle: [^\n]+ \[output-unwritable\]\n$/);
    expect(Object.keys(contents(disk.folder)).filter((name) => /mp4|json|part/.test(name))).toEqual([]);
  });

  it('list of the log as CSV: status 2, one sentence, an earlier list stands', async () => {
    const disk = SmallDisk.of(64);
    const data = path.join(own, 'data');
    const log = openLog(path.join(data, 'runs.db'));
    log.add(madeUpEntry());
    log.close();
    const file = path.join(disk.folder, 'runs.csv');
    fs.writeFileSync(file, 'an earlier list');
    disk.fill();
    const { status, err } = await runWords('log', '--data-dir', data, '--csv', '--out', file);
    expect(status).toBe(2);
    expect(err).toMatch(
      /^trundle: The file ".*runs\.csv" cannot be written; .*has room\. \[output-unwritable\]\n$/,
    );
    expect(disk.names()).toEqual(['runs.csv']);
    expect(fs.readFileSync(file, 'utf8')).toBe('an earlier list');
  });

  it('comparison: says so, and the earlier one stands', async () => {
    const disk = SmallDisk.of(2500);
    const folder = path.join(disk.folder, 'compare');
    await writeComparison(folder, madeUpComparison());
    const before = contents(folder);
    disk.fill();
    expect(await told(() => writeComparison(folder, madeUpComparison()))).toMatch(
      /compare" cannot be written.*\[output-unwritable\]/,
    );
    expect(contents(folder)).toEqual(before);
    expect(disk.names()).toEqual(['compare']);
  });
});

describe.skipIf(!CAN_MOUNT)('a disk that may only be read (where tests may mount one)', () => {
  it('report, comparison, proof and log: each said, the first before anything is measured', async () => {
    const disk = SmallDisk.of(2000);
    fs.mkdirSync(path.join(disk.folder, 'reports'));
    disk.lock();
    const at = (name: string): string => path.join(disk.folder, 'reports', name);
    expect(await told(() => checkRunFolder(at('hall')))).toMatch(
      /the disk is read-only.*\[output-unwritable\]/,
    );
    expect(await told(() => writeRun(at('hall'), bundle))).toMatch(
      /the disk is read-only.*\[output-unwritable\]/,
    );
    expect(await told(() => writeComparison(at('compare'), madeUpComparison()))).toMatch(
      /\[output-unwritable\]/,
    );
    expect(await told(() => encodeClip(at('proof.mp4'), CLIP, frames(), tools))).toMatch(
      /\[output-unwritable\]/,
    );
    const kept = await keepInLog(bundle, { logFile: at('runs.db'), reportFolder: null, settingsKey: null });
    expect('failure' in kept && kept.failure).toMatchObject({ code: 'log-unwritable' });
    expect(disk.names('reports')).toEqual([]);
  });

  it('a clip on it, and the log too: measured, nothing is written beside the clip, and the log is told of', async () => {
    const disk = SmallDisk.of(2000);
    const grey = [
      '-f',
      'lavfi',
      '-i',
      'color=0x808080:size=320x180:rate=25:duration=1',
      '-pix_fmt',
      'yuv420p',
    ];
    const clip = await makeClip(path.join(disk.folder, 'pass.mp4'), ...grey);
    // A copy: as long as this process holds a file itself, its disk cannot be locked.
    const log = openLog(path.join(own, 'kept', 'runs.db'));
    log.add(madeUpEntry());
    log.close();
    fs.copyFileSync(log.file, path.join(disk.folder, 'runs.db'));
    const before = contents(disk.folder);
    disk.lock();
    const words = ['--out-dir', path.join(own, 'reports'), '--data-dir', disk.folder, clip];
    const { status, err } = await runWords('measure', ...words);
    expect(status).toBe(4);
    expect(err).toMatch(/^Not kept in the log: .* \[log-unwritable\]$/m);
    expect(fs.existsSync(path.join(own, 'reports/pass/run.json'))).toBe(true);
    expect(contents(disk.folder)).toEqual(before);
    const listed = await runWords('log', '--data-dir', disk.folder);
    expect(listed.status).toBe(0);
    expect((await probeClip(clip, tools)).frameCount).toBe(25);
  });
});

describe('a folder that this user may only read', () => {
  /** The superuser may write anywhere: the work is done as somebody who may not. */
  async function asNobody<T>(work: () => Promise<T>): Promise<T> {
    const superuser = process.geteuid?.() === 0;
    if (superuser) process.seteuid?.(65534);
    try {
      return await work();
    } finally {
      if (superuser) process.seteuid?.(0);
    }
  }

  it('report and comparison: said, and nothing is there', async () => {
    const place = path.join(own, 'locked');
    fs.mkdirSync(place);
    fs.chmodSync(own, 0o755);
    fs.chmodSync(place, 0o555);
    const failures = await asNobody(async () => [
      await told(() => checkRunFolder(path.join(place, 'hall'))),
      await told(() => writeRun(path.join(place, 'hall'), bundle)),
      await told(() => writeComparison(path.join(place, 'compare'), madeUpComparison())),
    ]);
    for (const failure of failures)
      expect(failure).toMatch(/cannot be written.*--out-dir\. \[output-unwritable\]/);
    expect(fs.readdirSync(place)).toEqual([]);
  });
});

describe('a file where the folder of the reports should be', () => {
  it('measure: status 2 before anything is measured, and the file is as it was', async () => {
    const blocked = path.join(own, 'blocked');
    fs.writeFileSync(blocked, 'a file where a folder should go');
    const { status, err } = await runWords(
      'measure',
      '--out-dir',
      blocked,
      'sample-clips/tiled-corridor.mp4',
    );
    expect(status).toBe(2);
    expect(err).toMatch(/^trundle: [^\n]*a part of the path is a file[^\n]* \[output-unwritable\]\n$/);
    expect(fs.readFileSync(blocked, 'utf8')).toBe('a file where a folder should go');
  });
});

describe.skipIf(!fs.existsSync('/dev/full'))('output that cannot be kept', () => {
  /** Runs the program as a process with its streams where a shell would lead them. */
  async function throughShell(redirection: string): Promise<{ status: number; err: string }> {
    const line = `"$0" dist/cli/main.js --help ${redirection}`;
    const [status, err] = await promisify(execFile)('sh', ['-c', line, process.execPath]).then(
      ({ stderr }) => [0, stderr] as const,
      (error: unknown) => {
        const { code, stderr } = error as { code: number; stderr: string };
        return [code, stderr] as const;
      },
    );
    return { status, err };
  }

  it('standard output on a full disk: status 2 and one sentence', async () => {
    const { status, err } = await throughShell('> /dev/full');
    expect(err).toMatch(
      /^trundle: What was to be printed .* \(the disk is full\); .* \[output-unwritable\]\n$/,
    );
    expect(status).toBe(2);
  });

  it('messages on a full disk: the work is done all the same', async () => {
    expect(await throughShell('> /dev/null 2> /dev/full')).toEqual({ status: 0, err: '' });
  });
});
