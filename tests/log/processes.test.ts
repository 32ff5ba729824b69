/** The log in the hands of several processes, and of one that is killed. */
import { spawn, type ChildProcess } from 'node:child_process';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { openLog } from '../../src/log/index.js';
import { Database } from '../../src/log/database.js';
import { temporaryFolder } from './support/temporary-folder.js';

const { fresh } = temporaryFolder();
const WRITER = path.join(import.meta.dirname, 'support/writer.ts');

/** A writing process, and the runs that it has reported as kept so far. */
function startWriter(...words: string[]): {
  child: ChildProcess;
  kept: number[];
  ended: Promise<number | null>;
} {
  const child = spawn(process.execPath, ['--import', 'tsx', WRITER, ...words], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const kept: number[] = [];
  let rest = '';
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    const lines = (rest + text).split('\n');
    rest = lines.pop() ?? '';
    kept.push(...lines.map(Number));
  });
  const ended = new Promise<number | null>((resolve) => child.on('close', resolve));
  return { child, kept, ended };
}

function soundness(file: string): unknown {
  const database = new Database(file, 5000);
  const [answer] = Object.values(database.first('PRAGMA integrity_check') ?? {});
  database.close();
  return answer;
}

describe('a process that is killed in the middle of writing', () => {
  it('loses nothing that it reported as kept, and the log is sound', { timeout: 60_000 }, async () => {
    const file = fresh();
    const { child, kept, ended } = startWriter(file, '0', 'Ives');
    // Killed at an arbitrary moment some writes later: whichever part of a write that falls into.
    const enough = new Promise<void>((resolve) =>
      child.stdout?.on('data', () => {
        if (kept.length >= 25) resolve();
      }),
    );
    await Promise.race([enough, ended]);
    child.kill('SIGKILL');
    await ended;
    expect(kept.length).toBeGreaterThanOrEqual(25);
    const log = openLog(file, { onWarning: ({ text }) => expect.fail(text) });
    const ids = new Set(log.list({ operator: 'Ives', tags: ['written'] }).map(({ id }) => id));
    expect(kept.filter((id) => !ids.has(id))).toEqual([]);
    // At most the one that was written but not yet reported is there besides.
    expect(ids.size - kept.length).toBeLessThanOrEqual(1);
    expect(log.get(kept.at(-1) ?? 0).picture).toHaveLength(60_000);
    log.close();
    expect(soundness(file)).toBe('ok');
  });
});

describe('two processes at once', () => {
  it(
    'both keep all their runs, beginning with a log that neither finds made',
    { timeout: 60_000 },
    async () => {
      const file = fresh();
      const writers = ['Ives', 'Mara'].map((operator) => startWriter(file, '15', operator));
      expect(await Promise.all(writers.map(({ ended }) => ended))).toEqual([0, 0]);
      const log = openLog(file);
      for (const [n, operator] of ['Ives', 'Mara'].entries())
        expect(
          log
            .list({ operator })
            .map(({ id }) => id)
            .sort((a, b) => a - b),
        ).toEqual(writers[n].kept);
      expect(log.list()).toHaveLength(30);
      log.close();
      expect(soundness(file)).toBe('ok');
    },
  );
});
