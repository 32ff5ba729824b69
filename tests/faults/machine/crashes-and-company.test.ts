/** Power cuts and kills in the middle of writing, and two runs that write into one folder: what is there afterwards. */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { serialize } from 'node:v8';
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { clearLeft, holdPlace } from '../../../src/files/index.js';
import { openLog } from '../../../src/log/index.js';
import { reportOf } from '../../../src/logged-report.js';
import {
  RUN_FILES,
  checkRunFolder,
  runFiles,
  writeRun,
  type ReportBundle,
} from '../../../src/report/index.js';
import { writeComparison } from '../../../src/write-comparison.js';
import { writeWhole } from '../../../src/files/index.js';
import { corridorPicture, madeUpBundle } from '../../report/support/made-up-bundle.js';
import { madeUpComparison } from '../../report/support/made-up-comparison.js';

// What takes seconds on a quiet machine takes minutes on a busy one.
vi.setConfig({ testTimeout: 240_000 });

const root = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-crash-'));
afterAll(() => fs.rmSync(root, { recursive: true, force: true }));

/** Two passes whose reports differ in every file that is not a schema. */
const picture = corridorPicture(160, 90);
const FIRST: ReportBundle = { ...madeUpBundle(), picture };
const SECOND: ReportBundle = (() => {
  const createdAt = '2033-01-02T03:04:05.000Z';
  const { run, series } = madeUpBundle();
  return { ...FIRST, run: { ...run, createdAt }, series: { ...series, createdAt } };
})();

const digests: Record<'first' | 'second', Record<string, string>> = { first: {}, second: {} };
beforeAll(async () => {
  for (const [name, bundle] of [
    ['first', FIRST],
    ['second', SECOND],
  ] as const)
    for (const [file, content] of await runFiles(bundle)) digests[name][file] = digest(content);
});

function digest(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}

/** Which of the two stands in a folder, whole; 'mixed' for anything else. */
function standing(folder: string): 'first' | 'second' | 'mixed' {
  const there = Object.fromEntries(
    RUN_FILES.map((file) => {
      const place = path.join(folder, file);
      return [file, fs.existsSync(place) ? digest(fs.readFileSync(place)) : 'missing'];
    }),
  );
  const is = (name: 'first' | 'second'): boolean =>
    RUN_FILES.every((file) => there[file] === digests[name][file]);
  return is('first') ? 'first' : is('second') ? 'second' : 'mixed';
}

let parent = '';
let hall = '';
beforeEach(() => {
  parent = fs.mkdtempSync(path.join(root, 'reports-'));
  hall = path.join(parent, 'hall');
});

/** Names beside the reports. */
function hidden(folder = parent): string[] {
  return fs.readdirSync(folder).filter((name) => name.startsWith('.'));
}

const MACHINE = createHash('sha256').update(os.hostname()).digest('hex').slice(0, 6);

/** A mark of a process of this machine that is no more. */
async function deadMark(): Promise<string> {
  const child = spawn(process.execPath, ['--version'], { stdio: 'ignore' });
  await new Promise((resolve) => child.once('exit', resolve));
  return `${MACHINE}.${child.pid}.0badcafe`;
}

function put(folder: string, files: Readonly<Record<string, string>>): void {
  fs.mkdirSync(folder, { recursive: true });
  for (const [name, text] of Object.entries(files)) fs.writeFileSync(path.join(folder, name), text);
}

describe('what a crash left', () => {
  it('a half-written report folder: cleared at the next run, never taken for a run', async () => {
    put(path.join(parent, `.hall-writing-${await deadMark()}`), {
      'run.json': '{"schema":"trundle-run/1"',
      'motion.csv': '',
    });
    await checkRunFolder(hall);
    expect(fs.readdirSync(parent)).toEqual([]);
  });

  it('an earlier report that had made room for a new one that never came: back in its place', async () => {
    await writeRun(hall, FIRST);
    const mark = await deadMark();
    fs.renameSync(hall, path.join(parent, `.hall-writing-${mark}-old`));
    put(path.join(parent, `.hall-writing-${mark}`), { 'run.json': '{}' });
    // A run of another clip beside it is enough.
    await checkRunFolder(path.join(parent, 'loft'));
    expect(fs.readdirSync(parent)).toEqual(['hall']);
    expect(standing(hall)).toBe('first');
  });

  it('an earlier report that was already replaced: cleared, the new one stands', async () => {
    await writeRun(hall, FIRST);
    const mark = await deadMark();
    fs.renameSync(hall, path.join(parent, `.hall-writing-${mark}-old`));
    await writeRun(hall, SECOND);
    expect(fs.readdirSync(parent)).toEqual(['hall']);
    expect(standing(hall)).toBe('second');
  });

  it('files on their way among those of others: the rest gets there, and the report is whole', async () => {
    await writeRun(hall, FIRST);
    put(hall, { 'proof.mp4': 'a proof' });
    const moving = path.join(parent, `.hall-writing-${await deadMark()}-new`);
    await writeRun(path.join(parent, 'other'), SECOND);
    fs.renameSync(path.join(parent, 'other'), moving);
    for (const file of RUN_FILES.slice(0, 3)) fs.renameSync(path.join(moving, file), path.join(hall, file));
    expect(standing(hall)).toBe('mixed');
    await checkRunFolder(hall);
    expect(standing(hall)).toBe('second');
    expect(fs.readFileSync(path.join(hall, 'proof.mp4'), 'utf8')).toBe('a proof');
    expect(hidden()).toEqual([]);
  });

  it('parts of files and a hold: cleared by the next that writes there', async () => {
    const mark = await deadMark();
    put(hall, {
      [`.proof.mp4.${mark}.part`]: 'half',
      [`.compare.html.${mark}.part`]: '',
      'mine.txt': 'mine',
    });
    put(parent, { '.hall-writing.lock': mark });
    await writeComparison(hall, madeUpComparison());
    expect(hidden(hall)).toEqual([]);
    expect(fs.readFileSync(path.join(hall, 'mine.txt'), 'utf8')).toBe('mine');
    await writeRun(hall, FIRST);
    expect(hidden()).toEqual([]);
  });

  it('an empty folder of the name: taken', async () => {
    fs.mkdirSync(hall);
    await writeRun(hall, FIRST);
    expect(standing(hall)).toBe('first');
  });

  it('of a process that lives, or of another machine: left alone, unless it is older than a day', async () => {
    const living = path.join(parent, `.hall-writing-${MACHINE}.${process.ppid}.0badcafe`);
    const elsewhere = path.join(parent, '.hall-writing-000000.1.0badcafe');
    const old = path.join(parent, '.loft-writing-000000.1.0badcafe');
    for (const folder of [living, elsewhere, old]) put(folder, { 'run.json': '{}' });
    const twoDaysAgo = Date.now() / 1000 - 2 * 86_400;
    fs.utimesSync(old, twoDaysAgo, twoDaysAgo);
    await writeRun(hall, FIRST);
    expect(hidden().sort()).toEqual([path.basename(elsewhere), path.basename(living)].sort());
  });

  it("somebody else's hidden files: never touched", async () => {
    const names = ['.hall-writing-notes', '.hall.part', '.git', '.x-writing.lock'];
    put(parent, Object.fromEntries(names.map((name) => [name, 'mine'])));
    await writeRun(hall, FIRST);
    expect(hidden().sort()).toEqual([...names].sort());
  });

  it('a name as long as the file system takes: written, and nothing is left', async () => {
    const long = path.join(parent, `${'ü'.repeat(127)}`);
    await writeRun(long, FIRST);
    await writeRun(long, SECOND);
    await writeWhole(path.join(parent, `${'n'.repeat(250)}.csv`), 'a list');
    expect(standing(long)).toBe('second');
    expect(hidden()).toEqual([]);
  });
});

/** Writes reports into one folder, one after the other, until it is killed: two passes by turns. Words: folder, file of the two passes. */
const WRITER = `
  import fs from 'node:fs';
  import { deserialize } from 'node:v8';
  import { writeRun } from './dist/report/index.js';
  const [folder, file] = process.argv.slice(1);
  const bundles = deserialize(fs.readFileSync(file));
  await writeRun(folder, bundles[0]);
  process.stdout.write('at work');
  for (let n = 1; n < 200; n++) await writeRun(folder, bundles[n % 2]);`;

describe('a run that is killed while it writes, again and again', () => {
  it('leaves one whole report of the two, however it is killed', { timeout: 120_000 }, async () => {
    const file = path.join(root, 'passes');
    fs.writeFileSync(file, serialize([FIRST, SECOND]));
    const seen = new Set<string>();
    for (const [n, afterMs] of [9, 47, 121].entries()) {
      // From the second round on a file of somebody else is there, so that files are replaced one by one.
      if (n === 1) put(hall, { 'proof.mp4': 'a proof' });
      const child = spawn(process.execPath, ['--input-type=module', '-e', WRITER, hall, file], {
        stdio: ['ignore', 'pipe', 'inherit'],
      });
      const ended = new Promise((resolve) => child.once('exit', resolve));
      await Promise.race([ended, new Promise((resolve) => child.stdout.once('data', resolve))]);
      await new Promise((resolve) => setTimeout(resolve, afterMs));
      child.kill('SIGKILL');
      await ended;
      await clearLeft(parent);
      expect(['first', 'second'], `round ${n}`).toContain(standing(hall));
      seen.add(standing(hall));
      expect(hidden()).toEqual([]);
    }
    expect(fs.readFileSync(path.join(hall, 'proof.mp4'), 'utf8')).toBe('a proof');
    expect(seen.size).toBeGreaterThan(0);
  });
});

describe('two runs into one folder at once', () => {
  it.each([
    ['an empty place', {}],
    ['a folder with files of somebody else', { 'proof.mp4': 'a proof' }],
  ] as const)(
    '%s: one whole report of one of them stands, and both are told where it is',
    async (_, others) => {
      if (Object.keys(others).length > 0) put(hall, others);
      for (let round = 0; round < 2; round++) {
        const written = await Promise.all([FIRST, SECOND, FIRST].map((bundle) => writeRun(hall, bundle)));
        for (const { files } of written) expect([...files].sort()).toEqual([...RUN_FILES].sort());
        expect(['first', 'second']).toContain(standing(hall));
      }
      expect(fs.readdirSync(hall).sort()).toEqual([...RUN_FILES, ...Object.keys(others)].sort());
      expect(hidden()).toEqual([]);
    },
  );

  it('whichever the log says last: a report is shown for the run that it is of, and no other', async () => {
    const log = openLog(path.join(parent, 'data', 'runs.db'));
    const entry = ({ run, series }: ReportBundle) => ({
      ...{ run, series, picture: null, thumbnail: null, reportFolder: hall },
    });
    await writeRun(hall, FIRST);
    await writeRun(hall, SECOND);
    // The run whose report was replaced is kept last.
    const second = log.add(entry(SECOND));
    const first = log.add(entry(FIRST));
    expect(first.replaced).toEqual([second.id]);
    expect(await reportOf(log.rows([first.id])[0])).toBeNull();
    log.close();
  });

  it('a folder that another is just writing: waited for, then written; the folder beside it is not held', async () => {
    const hold = await holdPlace(path.join(parent, '.hall-writing.lock'), 10);
    let isDone = false;
    const waiting = writeRun(hall, FIRST).then(() => (isDone = true));
    await writeRun(path.join(parent, 'loft'), SECOND);
    expect(isDone).toBe(false);
    hold?.release();
    await waiting;
    expect(standing(hall)).toBe('first');
    expect(hidden()).toEqual([]);
  });

  it('a report that somebody has open elsewhere: replaced, and what was open reads on', async () => {
    await writeRun(hall, FIRST);
    const open = fs.openSync(path.join(hall, 'report.html'), 'r');
    await writeRun(hall, SECOND);
    expect(digest(fs.readFileSync(open))).toBe(digests.first['report.html']);
    fs.closeSync(open);
    expect(standing(hall)).toBe('second');
  });
});
