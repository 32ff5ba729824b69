/** Moves a log, or another file of the data folder, that cannot be read out of the way under a dated name, so that nothing of it is ever overwritten. */
import fs from 'node:fs';
import { holdPlaceNow } from '../files/index.js';

/** Files that belong to a database: itself, what was written last, and the index of that. */
const PARTS = ['', '-wal', '-shm'] as const;

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
 * Waits for the other at most `timeoutMs`; one that died holds nothing.
 * @returns what `work` gives; undefined when another held the lock the whole time
 */
export function whileMending<T>(file: string, timeoutMs: number, work: () => T): T | undefined {
  const hold = holdPlaceNow(`${file}.mending`, timeoutMs);
  if (!hold) return undefined;
  try {
    return work();
  } finally {
    hold.release();
  }
}

function stamp(now: Date): string {
  const two = (value: number): string => String(value).padStart(2, '0');
  const day = `${now.getFullYear()}${two(now.getMonth() + 1)}${two(now.getDate())}`;
  return `${day}-${two(now.getHours())}${two(now.getMinutes())}${two(now.getSeconds())}`;
}
