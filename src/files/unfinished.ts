/**
 * Names of what is being written and not whole yet, which tell who writes: so that what a crash or a power cut left is known from what
 * somebody is still at work on.
 */
import { createHash, randomBytes } from 'node:crypto';
import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';

/** Longest that anything is written for, ms: what is older than this was left, whoever has its process number by now. */
const LONGEST_WRITING_MS = 24 * 3600_000;
/** Longest part of a name that is kept in the name of what is unfinished, bytes; names of files may have 255. */
const LONGEST_NAME_BYTES = 160;

/** A machine, a process on it, and a number drawn at random. */
const MARK = '[0-9a-f]{6}\\.\\d+\\.[0-9a-f]{8}';
const MARK_PARTS = /^([0-9a-f]{6})\.(\d+)\./;
const FOLDER = new RegExp(`^\\.(.+)-writing-(${MARK})(-old)?$`, 's');
const PART = new RegExp(`^\\.(.+)\\.(${MARK})\\.part$`, 's');

/** This machine, so that a disk that several share shows whose process is meant. */
const MACHINE = createHash('sha256').update(os.hostname()).digest('hex').slice(0, 6);

/** Marks of this process that are in use. */
const inUse = new Set<string>();

/** A name to write under, and its end. */
export interface Unfinished {
  /** Beside the file or folder that it will be; nothing is there yet. */
  readonly path: string;
  /** Says that nobody writes there any more. */
  done(): void;
}

/** A name for a folder that is being written, beside its place. */
export function unfinishedFolder(target: string): Unfinished {
  return begun(target, (name, mark) => `.${name}-writing-${mark}`);
}

/** A name for a file that is being written, beside its place. */
export function unfinishedFile(target: string): Unfinished {
  return begun(target, (name, mark) => `.${name}.${mark}.part`);
}

/** Where a folder stands while another takes its place. @param unfinished the path that `unfinishedFolder` gave for the other */
export function asideOf(unfinished: string): string {
  return `${unfinished}-old`;
}

function begun(target: string, name: (short: string, mark: string) => string): Unfinished {
  const mark = newMark();
  return {
    path: path.join(path.dirname(target), name(shortened(path.basename(target)), mark)),
    done: () => inUse.delete(mark),
  };
}

/** A mark of this process, in use until `letGo` is called with it. */
export function newMark(): string {
  const mark = `${MACHINE}.${process.pid}.${randomBytes(4).toString('hex')}`;
  inUse.add(mark);
  return mark;
}

/** Ends the use of a mark. */
export function letGo(mark: string): void {
  inUse.delete(mark);
}

/**
 * Whether whoever wrote a mark is gone: its process is no more, or it is older than anything is written for. Of another machine only age
 * tells.
 * @param modifiedMs when the marked thing was last touched, by the clock of its disk
 */
export function isLeft(mark: string, modifiedMs: number): boolean {
  if (inUse.has(mark)) return false;
  const [, machine, pid] = MARK_PARTS.exec(mark) ?? [];
  if (machine === MACHINE && !isAlive(Number(pid))) return true;
  return Date.now() - modifiedMs > LONGEST_WRITING_MS;
}

function isAlive(pid: number): boolean {
  // A mark of this process that is not in use was made by an earlier one of the same number.
  if (pid === process.pid) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== 'ESRCH';
  }
}

/**
 * Clears a folder of what crashed writers left in it: folders and files that were never whole go; a whole folder that had to make room for
 * another, which then never came, goes back to its place. What cannot be cleared stays: the folder may belong to somebody else.
 *
 * @returns the places that were put back
 */
export async function clearLeft(folder: string): Promise<readonly string[]> {
  const back: string[] = [];
  for (const entry of await fs.readdir(folder).catch(() => [] as string[])) {
    const [, name, mark, isOld] = FOLDER.exec(entry) ?? PART.exec(entry) ?? [];
    if (name === undefined || mark === undefined) continue;
    const place = path.join(folder, entry);
    const found = await fs.lstat(place).catch(() => null);
    if (!found || !isLeft(mark, found.mtimeMs)) continue;
    const target = path.join(folder, name);
    const isMissing = isOld !== undefined && (await fs.lstat(target).catch(() => null)) === null;
    try {
      if (isMissing) {
        await fs.rename(place, target);
        back.push(target);
      } else await fs.rm(place, { recursive: true, force: true });
    } catch {
      // Not ours to clear, or just cleared by somebody else.
    }
  }
  return back;
}

/** The name, cut between characters where it is too long to have anything put to it. */
function shortened(name: string): string {
  let kept = '';
  for (const character of name) {
    if (Buffer.byteLength(kept + character) > LONGEST_NAME_BYTES) break;
    kept += character;
  }
  return kept;
}
