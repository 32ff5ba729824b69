/** Logs that a bad disk has damaged: what of them is saved, and what is said of the rest. */
import fs from 'node:fs';
import { describe, expect, it, vi } from 'vitest';
import { openLog, type RunLog } from '../../../src/log/index.js';
import { Database } from '../../../src/log/database.js';
import { madeUpEntry } from '../../log/support/made-up-entry.js';
import { temporaryFolder } from '../../log/support/temporary-folder.js';

// What takes seconds on a quiet machine takes minutes on a busy one.
vi.setConfig({ testTimeout: 240_000 });

const { fresh } = temporaryFolder();
const PAGE = 4096;
const RUNS = 12;

/** A JPEG by its first and last bytes, with noise between. */
const PICTURE = Uint8Array.from({ length: 30_000 }, (_, i) => (i * 2_654_435_761) >>> 24);
PICTURE.set([0xff, 0xd8]);
PICTURE.set([0xff, 0xd9], PICTURE.length - 2);

/** A log of twelve runs, closed. */
function filled(): string {
  const file = fresh();
  const log = openLog(file);
  for (let n = 1; n <= RUNS; n++)
    log.add(
      madeUpEntry({
        pass: { floor: `floor ${n}`, tags: ['kept', `lane-${n}`] },
        picture: PICTURE,
        clipSha256: `${n}`.padStart(64, '0'),
      }),
    );
  log.remove([5]);
  log.close();
  return file;
}

/** Pages of a table or index, by number from 1. */
function pagesOf(file: string, name: string): number[] {
  const database = new Database(file, 1000);
  const rows = database.all('SELECT pageno FROM dbstat WHERE name = ? ORDER BY pageno', [name]);
  database.close();
  return rows.map(({ pageno }) => Number(pageno));
}

function spoil(file: string, page: number): void {
  const bytes = fs.readFileSync(file);
  fs.writeFileSync(file, bytes.fill(0x5a, (page - 1) * PAGE, page * PAGE));
}

function opened(file: string, checkedBytes?: number): { log: RunLog; warnings: string[] } {
  const warnings: string[] = [];
  const onWarning = ({ code, text }: { code: string; text: string }) => warnings.push(`${code}: ${text}`);
  return { log: openLog(file, { onWarning, ...(checkedBytes !== undefined && { checkedBytes }) }), warnings };
}

/** Numbers of the runs that can be listed and read back whole, with the sheet that they were kept with. */
function readable(log: RunLog): number[] {
  return log
    .list()
    .map(({ id }) => id)
    .sort((a, b) => a - b)
    .filter((id) => {
      const { run, series } = log.get(id);
      expect(run.pass).toMatchObject({ floor: `floor ${id}`, tags: ['kept', `lane-${id}`] });
      // A series that cannot be read costs the series only.
      if (series) expect(series.clipSha256).toBe(`${id}`.padStart(64, '0'));
      return true;
    });
}

const ALL = [1, 2, 3, 4, 6, 7, 8, 9, 10, 11, 12];

describe('a log with a page that the disk has spoilt', () => {
  it.each([
    ['of an index', 'run_by_time', ALL],
    ['of another index', 'run_by_folder', ALL],
  ])('%s: every run is saved, under its number', (_, index, ids) => {
    const file = filled();
    spoil(file, pagesOf(file, index)[0]);
    const { log, warnings } = opened(file);
    expect(warnings).toEqual([
      expect.stringMatching(
        /^log-damaged: .*set aside as "runs\.db\.damaged-.*" and a new one begun with the 11 runs that could be read\.$/,
      ),
    ]);
    expect(readable(log)).toEqual(ids);
    expect(log.get(12).picture).toHaveLength(PICTURE.length);
    log.close();
    expect(opened(file).warnings).toEqual([]);
  });

  it('of a document or picture: that run is lost or loses its picture, all others are saved, and the count is told', () => {
    const counts = new Set<number>();
    for (const place of [0.3, 0.6, 0.95]) {
      const file = filled();
      const pages = pagesOf(file, 'stored');
      spoil(file, pages[Math.floor(place * pages.length)]);
      const { log, warnings } = opened(file);
      const ids = readable(log);
      counts.add(ids.length);
      expect(ids.length).toBeGreaterThanOrEqual(8);
      const [, saved] = /with the (\d+) runs that could be read/.exec(warnings[0]) ?? [];
      const [, lost = 0] = /; (\d+) could not be read/.exec(warnings[0]) ?? [];
      expect(Number(saved)).toBe(ids.length);
      expect(ids.length + Number(lost)).toBeGreaterThanOrEqual(ALL.length);
      // A number that was ever given is not given to another run.
      expect(log.add(madeUpEntry()).id).toBe(RUNS + 1);
      log.close();
    }
    expect(Math.max(...counts)).toBeGreaterThanOrEqual(10);
  });

  it('of the list: what other pages hold is saved', () => {
    const file = filled();
    spoil(file, pagesOf(file, 'run').at(-1) ?? 0);
    const { log, warnings } = opened(file);
    expect(warnings[0]).toMatch(
      /^log-damaged: .*(could be read; \d+ could not be read|no run of it could be read)\.$/,
    );
    readable(log);
    expect(log.add(madeUpEntry()).id).toBe(RUNS + 1);
    log.close();
  });
});

describe('a log that was cut short, as by a copy', () => {
  it('gives back the runs that are in front of the cut', () => {
    const file = filled();
    fs.truncateSync(file, Math.floor((fs.statSync(file).size * 0.7) / PAGE) * PAGE);
    const { log, warnings } = opened(file);
    const ids = readable(log);
    expect(ids.length).toBeGreaterThanOrEqual(4);
    expect(warnings[0]).toMatch(
      new RegExp(`with the ${ids.length} runs that could be read; \\d+ could not be read\\.$`),
    );
    log.close();
  });
});

describe('a log too large to be read through at opening', () => {
  it('has its list read through all the same: damage there is met at once', () => {
    const file = filled();
    spoil(file, pagesOf(file, 'run_by_time')[0]);
    const { log, warnings } = opened(file, 0);
    expect(warnings).toHaveLength(1);
    expect(readable(log)).toEqual(ALL);
    log.close();
  });

  it('shows damage of a document when that is asked for: said, and all others can be read', () => {
    const file = filled();
    const pages = pagesOf(file, 'stored');
    spoil(file, pages[Math.floor(0.6 * pages.length)]);
    const { log, warnings } = opened(file, 0);
    expect(warnings).toEqual([]);
    expect(log.list()).toHaveLength(ALL.length);
    const codes = ALL.map((id) => {
      try {
        log.get(id);
        return 'read';
      } catch (error) {
        return (error as { code?: string }).code;
      }
    });
    expect(codes.filter((code) => code === 'read').length).toBeGreaterThanOrEqual(8);
    expect(
      codes.filter((code) => code !== 'read' && code !== 'log-damaged' && code !== 'log-entry-unreadable'),
    ).toEqual([]);
    log.close();
  });
});
