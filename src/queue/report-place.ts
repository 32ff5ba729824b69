/**
 * Where the report of a collected clip goes: below the folder of reports as the clip lies below the folder that was added, as `measure`
 * puts it. What is on the disk decides, so whoever collects, and whenever, comes to the same place.
 */
import fs from 'node:fs/promises';
import path from 'node:path';
import type { RunDocument } from '../run/index.js';

/** Longest name of a folder, bytes of UTF-8: files beside it are named after it. */
const LONGEST_BYTES = 180;

/**
 * The folder for the report of a run: with a number where another run, or something else, has it. So one clip with two settings has two
 * reports, and a run that is collected again finds its own.
 *
 * @param name of the clip below the folder that was added, with slashes; text of others, and held below `outDir` whatever it says
 * @returns an absolute path
 */
export async function reportPlace(
  outDir: string,
  name: string,
  run: Pick<RunDocument, 'createdAt' | 'clip'>,
): Promise<string> {
  const parts = name.split('/').filter((part) => part !== '');
  const last = parts.pop() ?? '';
  let above = path.resolve(outDir);
  // Not in the report of a clip that is called like the folder.
  for (const part of parts) above = await firstFit(above, safe(part), isNoReport);
  const stem = last.slice(0, last.length - path.extname(last).length);
  return firstFit(above, safe(stem), (folder) => isFreeFor(folder, run));
}

async function firstFit(
  above: string,
  name: string,
  fits: (folder: string) => Promise<boolean>,
): Promise<string> {
  for (let i = 1; ; i++) {
    const folder = path.join(above, i === 1 ? name : `${name}-${i}`);
    if (await fits(folder)) return folder;
  }
}

/** A part of a path that leads nowhere else and can be made on every system. */
function safe(part: string): string {
  let name = part.replace(/[\u0000-\u001f\\:*?"<>|]/g, '-').replace(/^\.+|[. ]+$/g, '');
  while (Buffer.byteLength(name) > LONGEST_BYTES) name = [...name].slice(0, -1).join('');
  return name === '' ? 'clip' : name;
}

async function isNoReport(folder: string): Promise<boolean> {
  const entries = await entriesOf(folder);
  return entries !== null && !entries.includes('run.json');
}

/** Whether nothing is there, or this very run. */
async function isFreeFor(folder: string, run: Pick<RunDocument, 'createdAt' | 'clip'>): Promise<boolean> {
  const entries = await entriesOf(folder);
  if (entries === null || entries.length === 0) return entries !== null;
  try {
    const there = JSON.parse(
      await fs.readFile(path.join(folder, 'run.json'), 'utf8'),
    ) as Partial<RunDocument>;
    return there.createdAt === run.createdAt && there.clip?.sha256 === run.clip.sha256;
  } catch {
    return false;
  }
}

/** What is in a folder; null for what is no folder. What cannot be looked into is told when the report is written. */
async function entriesOf(folder: string): Promise<readonly string[] | null> {
  return fs.readdir(folder).catch((error: NodeJS.ErrnoException) => (error.code === 'ENOTDIR' ? null : []));
}
