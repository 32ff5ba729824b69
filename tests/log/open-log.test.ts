import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { openLog } from '../../src/log/index.js';
import { Database } from '../../src/log/database.js';
import { APPLICATION_ID, MIGRATIONS } from '../../src/log/migrations.js';
import { pack } from '../../src/log/packed.js';
import { madeUpEntry } from './support/made-up-entry.js';
import { temporaryFolder } from './support/temporary-folder.js';

const { folder, fresh } = temporaryFolder();

/** A log with two runs, closed. */
function filled(): string {
  const file = fresh();
  const log = openLog(file);
  log.add(madeUpEntry({ pass: { floor: 'hall' }, picture: new Uint8Array(50_000) }));
  log.add(madeUpEntry({ pass: { floor: 'loft' }, picture: new Uint8Array(50_000) }));
  log.close();
  return file;
}

/** Opens a log and tells what was warned of. */
function openWarned(file: string): { ids: number[]; warnings: string[] } {
  const warnings: string[] = [];
  const log = openLog(file, { onWarning: ({ code, text }) => warnings.push(`${code}: ${text}`) });
  const ids = log.list().map(({ id }) => id);
  log.add(madeUpEntry());
  log.close();
  return { ids, warnings };
}

/** The databases that were set aside, without their companions. */
function asideOf(file: string): string[] {
  return fs
    .readdirSync(path.dirname(file))
    .filter((name) => name.startsWith('runs.db.damaged-') && !/-(wal|shm)$/.test(name));
}

describe('opening the log', () => {
  it('makes folder and file, in write-ahead mode and marked as ours', () => {
    const file = path.join(folder, 'deep', 'er', 'runs.db');
    const log = openLog(file);
    log.add(madeUpEntry());
    const database = new Database(file, 1000);
    expect(database.first('PRAGMA journal_mode')).toMatchObject({ journal_mode: 'wal' });
    expect(database.pragma('application_id')).toBe(APPLICATION_ID);
    expect(database.pragma('user_version')).toBe(MIGRATIONS.length);
    database.close();
    log.close();
  });

  it('takes a file of no bytes, as a crash at the very start leaves it, for a new log', () => {
    const file = fresh();
    fs.mkdirSync(path.dirname(file));
    fs.writeFileSync(file, '');
    expect(openWarned(file)).toEqual({ ids: [], warnings: [] });
  });

  it('refuses a log of a newer version and leaves it byte for byte', () => {
    const file = filled();
    const database = new Database(file, 1000);
    database.script(`PRAGMA user_version = ${MIGRATIONS.length + 1}`);
    database.close();
    const before = fs.readFileSync(file);
    expect(() => openLog(file)).toThrow(
      expect.objectContaining({
        code: 'log-newer',
        message: expect.stringMatching(/written by a newer version.*update this program/) as string,
      }),
    );
    expect(fs.readFileSync(file).equals(before)).toBe(true);
    expect(asideOf(file)).toEqual([]);
  });

  it('says so when another process holds the log for longer than it waits', () => {
    const file = filled();
    const other = new Database(file, 1000);
    other.script('BEGIN IMMEDIATE');
    const log = openLog(file, { timeoutMs: 60 });
    expect(log.list()).toHaveLength(2);
    expect(() => log.add(madeUpEntry())).toThrow(
      expect.objectContaining({
        code: 'log-busy',
        message: expect.stringMatching(/more than 0.06 s/) as string,
      }),
    );
    other.script('ROLLBACK');
    expect(log.add(madeUpEntry()).id).toBe(3);
    other.close();
    log.close();
  });

  it('says so when the folder cannot be made or the file cannot be opened', () => {
    const inTheWay = path.join(folder, 'a-file');
    fs.writeFileSync(inTheWay, 'mine');
    for (const file of [path.join(inTheWay, 'runs.db'), folder])
      expect(() => openLog(file)).toThrow(expect.objectContaining({ code: 'log-unwritable' }));
    expect(fs.readFileSync(inTheWay, 'utf8')).toBe('mine');
  });
});

describe('a folder that may only be read', () => {
  /** The superuser may write anywhere: the work is done as somebody who may not. */
  function asNobody(work: () => void): void {
    const superuser = process.geteuid?.() === 0;
    if (superuser) process.seteuid?.(65534);
    try {
      work();
    } finally {
      if (superuser) process.seteuid?.(0);
    }
  }

  it('has its log read, and tells every change to it as such; nothing in it changes', () => {
    // A copy: as long as this process holds the file itself, it may be written through that.
    const file = fresh();
    const place = path.dirname(file);
    fs.mkdirSync(place);
    fs.copyFileSync(filled(), file);
    fs.chmodSync(folder, 0o755);
    fs.chmodSync(file, 0o444);
    fs.chmodSync(place, 0o555);
    const before = fs.readFileSync(file);
    asNobody(() => {
      const log = openLog(file, { onWarning: ({ text }) => expect.fail(text) });
      expect(log.list().map(({ pass }) => pass.floor)).toEqual(['loft', 'hall']);
      expect(log.get(1).picture).toHaveLength(50_000);
      for (const change of [() => log.add(madeUpEntry()), () => log.tag(1, ['wet']), () => log.remove([1])])
        expect(change).toThrow(expect.objectContaining({ code: 'log-unwritable' }));
      log.close();
      for (const name of ['other.db', 'deeper/runs.db'])
        expect(() => openLog(path.join(place, name)), name).toThrow(
          expect.objectContaining({ code: 'log-unwritable' }),
        );
    });
    fs.chmodSync(place, 0o755);
    expect(fs.readdirSync(place)).toEqual(['runs.db']);
    expect(fs.readFileSync(file).equals(before)).toBe(true);
  });

  it('has what was written last read too, while the one who writes has the log open', () => {
    const file = fresh();
    const writer = openLog(file);
    writer.add(madeUpEntry({ pass: { floor: 'hall' } }));
    const copy = fresh();
    const place = path.dirname(copy);
    fs.cpSync(path.dirname(file), place, { recursive: true });
    writer.close();
    fs.chmodSync(folder, 0o755);
    for (const name of fs.readdirSync(place)) fs.chmodSync(path.join(place, name), 0o444);
    fs.chmodSync(place, 0o555);
    asNobody(() => {
      const log = openLog(copy);
      expect(log.list().map(({ pass }) => pass.floor)).toEqual(['hall']);
      log.close();
    });
    fs.chmodSync(place, 0o755);
  });
});

describe('steps from version to version', () => {
  const VERSION_1 = fs.readFileSync(path.join(import.meta.dirname, 'support/version-1.sql'), 'utf8');
  const NEXT = [...MIGRATIONS, 'ALTER TABLE run ADD COLUMN weather TEXT; UPDATE run SET weather = floor;'];

  /** A log as version 1 of the log left it, with two runs. */
  function versionOne(): string {
    const file = fresh();
    fs.mkdirSync(path.dirname(file));
    const database = new Database(file, 1000);
    database.script(VERSION_1);
    for (const [id, floor] of [
      [1, 'hall'],
      [2, 'loft'],
    ])
      database.run(
        `INSERT INTO run (id, created_at, clip_file, clip_sha256, range_start_s, range_end_s, floor, delivery_width_px,
           delivery_height_px, grade, crop_percent, coverable, tool_version, document_schema)
         VALUES (?, '2031-03-14T09:26:53.000Z', 'a.mov', '00', 0, 6, ?, 1920, 1080, 'pass', 2.5, 1, '0.1.0', 'trundle-run/1')`,
        [id, floor],
      );
    database.close();
    return file;
  }

  it('read what version 1 of the log wrote', () => {
    expect(openWarned(versionOne())).toEqual({ ids: [2, 1], warnings: [] });
  });

  it('give the list the limits out of the documents that were kept before it had them', () => {
    const file = versionOne();
    const before = new Database(file, 1000);
    const document = pack({ delivery: { maxCropPercent: 5, maxResidualPx: 0.83 } });
    before.run('INSERT INTO stored (run_id, document) VALUES (1, ?), (2, ?)', [
      document,
      new Uint8Array([7]),
    ]);
    before.close();
    const log = openLog(file);
    const limits = log.list().map(({ delivery }) => [delivery.maxCropPercent, delivery.maxResidualPx]);
    expect(limits).toEqual([
      [null, null],
      [5, 0.83],
    ]);
    log.close();
  });

  it('bring an older log up to date with all that is in it', () => {
    const file = versionOne();
    const log = openLog(file, { migrations: NEXT });
    expect(log.list().map(({ pass }) => pass.floor)).toEqual(['loft', 'hall']);
    log.close();
    const database = new Database(file, 1000);
    expect(database.pragma('user_version')).toBe(MIGRATIONS.length + 1);
    expect(database.all('SELECT weather FROM run ORDER BY id')).toEqual([
      { weather: 'hall' },
      { weather: 'loft' },
    ]);
    database.close();
  });

  it('are whole or not at all: a step that fails half-way leaves the version before it', () => {
    const file = filled();
    const broken = [
      ...MIGRATIONS,
      'ALTER TABLE run ADD COLUMN weather TEXT; INSERT INTO nowhere VALUES (1);',
    ];
    expect(() => openLog(file, { migrations: broken })).toThrow(/nowhere/);
    const database = new Database(file, 1000);
    expect(database.pragma('user_version')).toBe(MIGRATIONS.length);
    expect(database.all("SELECT name FROM pragma_table_info('run') WHERE name = 'weather'")).toEqual([]);
    database.close();
    expect(openWarned(file)).toEqual({ ids: [2, 1], warnings: [] });
  });
});

describe('a file that is not a sound log', () => {
  const DAMAGES: readonly (readonly [string, (file: string) => void])[] = [
    ['garbage', (file) => fs.writeFileSync(file, 'no database at all '.repeat(500))],
    ['cut short', (file) => fs.truncateSync(file, 3 * 4096 + 100)],
    [
      'overwritten in the middle',
      (file) => {
        const bytes = fs.readFileSync(file);
        fs.writeFileSync(file, bytes.fill(0x5a, 4096, bytes.length - 4096));
      },
    ],
    [
      'a database of somebody else',
      (file) => {
        fs.rmSync(file);
        const other = new Database(file, 1000);
        other.script('CREATE TABLE recipes (name TEXT); INSERT INTO recipes VALUES (1);');
        other.close();
      },
    ],
  ];

  it.each(DAMAGES)('is set aside byte for byte and a new log begun: %s', (_, damage) => {
    const file = filled();
    damage(file);
    const before = fs.readFileSync(file);
    const { ids, warnings } = openWarned(file);
    expect(ids).toEqual([]);
    expect(warnings).toEqual([
      expect.stringMatching(
        /^log-damaged: .*set aside as "runs\.db\.damaged-\d{8}-\d{6}" and a new one begun, for no run of it could be read\.$/,
      ),
    ]);
    const [aside] = asideOf(file);
    expect(fs.readFileSync(path.join(path.dirname(file), aside)).equals(before)).toBe(true);
    expect(openWarned(file).warnings).toEqual([]);
    expect(fs.readdirSync(path.dirname(file)).filter((name) => /mend/.test(name))).toEqual([]);
  });

  it('never takes the place of one that was set aside before', () => {
    const file = filled();
    for (const text of ['first '.repeat(400), 'second '.repeat(400)]) {
      fs.writeFileSync(file, text);
      openWarned(file);
    }
    const contents = asideOf(file).map((name) =>
      fs.readFileSync(path.join(path.dirname(file), name), 'utf8').slice(0, 5),
    );
    expect(contents.sort()).toEqual(['first', 'secon']);
  });

  it('takes along what was written last beside it', () => {
    const file = fresh();
    fs.mkdirSync(path.dirname(file));
    fs.writeFileSync(file, 'broken '.repeat(1000));
    fs.writeFileSync(`${file}-wal`, 'last words');
    openWarned(file);
    const [aside] = asideOf(file);
    expect(fs.readFileSync(path.join(path.dirname(file), `${aside}-wal`), 'utf8')).toBe('last words');
  });

  it('is set aside when its damage shows only while a run is kept, and the run is in the new log', () => {
    const file = filled();
    const warnings: string[] = [];
    const log = openLog(file, { onWarning: ({ code }) => warnings.push(code) });
    // Somebody else writes, so that what the open log has read already no longer counts; then the disk goes bad.
    const other = new Database(file, 1000);
    other.run('UPDATE run SET notes = ?', ['read again']);
    other.close();
    fs.writeFileSync(file, fs.readFileSync(file).fill(0x5a, 4096));
    log.add(madeUpEntry({ pass: { floor: 'barn' } }));
    expect(log.list().map(({ pass }) => pass.floor)).toEqual(['barn']);
    expect(warnings).toEqual(['log-damaged']);
    log.close();
  });
});
