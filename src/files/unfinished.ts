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
const FOLDER = new RegExp(`^\\.(.+)-writing-(${MARK})(-old|-new)?$`, 's');
const HOLD = /^\..+-writing\.lock$/s;
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

/** Where a whole folder stands while its files are put among others, one by one. @param unfinished as `unfinishedFolder` gave it */
export function movingInOf(unfinished: string): string {
  return `${unfinished}-new`;
}

/** The file that holds the place of a folder, for `holdPlace`. */
export function holdOf(target: string): string {
  return path.join(path.dirname(target), `.${shortened(path.basename(target))}-writing.lock`);
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
 * another, which then never came, goes back to its place; files that were on their way into a folder get there. What cannot be cleared
 * stays: the folder may belong to somebody else.
 */
export async function clearLeft(folder: string): Promise<void> {
  for (const entry of await namesIn(folder)) {
    const place = path.join(folder, entry);
    const [, name = '', mark, suffix] = FOLDER.exec(entry) ?? PART.exec(entry) ?? [];
    const writer = mark ?? (HOLD.test(entry) ? await fs.readFile(place, 'utf8').catch(() => '') : '');
    const found = writer === '' ? null : await fs.lstat(place).catch(() => null);
    if (!found || !isLeft(writer, found.mtimeMs)) continue;
    // What cannot be moved or removed is not ours to clear, or was just cleared by somebody else.
    await clear(place, path.join(folder, name), suffix).catch(() => undefined);
  }
}

async function clear(place: string, target: string, suffix: string | undefined): Promise<void> {
  if (suffix === '-new') {
    await fs.mkdir(target, { recursive: true });
    for (const file of await fs.readdir(place))
      await fs.rename(path.join(place, file), path.join(target, file));
    return fs.rmdir(place);
  }
  const isMissing = suffix === '-old' && (await fs.lstat(target).catch(() => null)) === null;
  return isMissing ? fs.rename(place, target) : fs.rm(place, { recursive: true, force: true });
}

async function namesIn(folder: string): Promise<string[]> {
  return fs.readdir(folder).catch(() => []);
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
