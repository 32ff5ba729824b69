/**
 * Where the report of a collected clip goes: below the folder of reports as the clip lies below the folder that was added, as `measure`
 * puts it. What is on the disk decides, so whoever collects, and whenever, comes to the same place.
 */
import path from 'node:path';
import { entriesOf, fittingName, runMarksIn } from '../batch/index.js';
import type { RunDocument } from '../run/index.js';

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
  const name = fittingName(part.replace(/[\u0000-\u001f\\:*?"<>|]/g, '-').replace(/^\.+|[. ]+$/g, ''));
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
  const there = await runMarksIn(folder);
  return there?.createdAt === run.createdAt && there.clip?.sha256 === run.clip.sha256;
}
