/** Moves a log, or another file of the data folder, that cannot be read out of the way under a dated name, so that nothing of it is ever overwritten. */
import fs from 'node:fs';

/** Files that belong to a database: itself, what was written last, and the index of that. */
const PARTS = ['', '-wal', '-shm'] as const;

/** A lock of this age belongs to a process that died, ms. */
const STALE_MS = 10_000;

/**
 * Moves the file and its companions to `FILE.damaged-YYYYMMDD-HHMMSS` (local time), with a number behind it when that name is taken.
 * @returns the new name of the file
 */
export function setAside(file: string, now: Date): string {
  const base = `${file}.damaged-${stamp(now)}`;
  let name = base;
  for (let n = 2; PARTS.some((part) => fs.existsSync(name + part)); n++) name = `${base}-${n}`;
  for (const part of PARTS) if (fs.existsSync(file + part)) fs.renameSync(file + part, name + part);
  return name;
}

/**
 * Runs `work` while no other process mends the same log: without this, the second of two would move away what the first has begun anew.
 * Waits for the other at most `timeoutMs`, and no longer than a process that died would hold it.
 * @returns what `work` gives; undefined when another held the lock the whole time
 */
export function whileMending<T>(file: string, timeoutMs: number, work: () => T): T | undefined {
  const lock = `${file}.mending`;
  const until = Date.now() + timeoutMs;
  while (!take(lock)) {
    if (Date.now() > until) return undefined;
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 20);
  }
  try {
    return work();
  } finally {
    fs.rmSync(lock, { recursive: true, force: true });
  }
}

function take(lock: string): boolean {
  try {
    fs.mkdirSync(lock);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    const made = fs.statSync(lock, { throwIfNoEntry: false })?.mtimeMs;
    if (made !== undefined && Date.now() - made > STALE_MS) fs.rmSync(lock, { recursive: true, force: true });
    return false;
  }
}

function stamp(now: Date): string {
  const two = (value: number): string => String(value).padStart(2, '0');
  const day = `${now.getFullYear()}${two(now.getMonth() + 1)}${two(now.getDate())}`;
  return `${day}-${two(now.getHours())}${two(now.getMinutes())}${two(now.getSeconds())}`;
}
