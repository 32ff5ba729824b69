/** Keeps the folder of packs within its room on the disk: those that were not used for longest go first. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { PART } from '../../files/index.js';

/** Takes away what a crash left of packs that were being written, and pictures without their index. */
export async function sweepPacks(folder: string): Promise<void> {
  const names = new Set(await fs.readdir(folder).catch(() => []));
  for (const name of names) {
    const isLost = name.endsWith('.jpegs') && !names.has(name.replace(/\.jpegs$/, '.json'));
    if (name.endsWith(PART) || isLost) await fs.rm(path.join(folder, name), { force: true });
  }
}

/**
 * Removes packs until the others take at most `mostBytes`.
 * @param inUse keys that stay whatever they take
 */
export async function keepWithin(
  folder: string,
  mostBytes: number,
  inUse: ReadonlySet<string>,
): Promise<void> {
  const packs = [];
  for (const name of await fs.readdir(folder).catch(() => [])) {
    if (!name.endsWith('.json')) continue;
    const key = name.slice(0, -'.json'.length);
    const [index, pictures] = await Promise.all(
      [name, `${key}.jpegs`].map((file) => fs.stat(path.join(folder, file)).catch(() => null)),
    );
    packs.push({
      key,
      usedMs: index?.mtimeMs ?? 0,
      bytes: (index?.size ?? 0) + (pictures?.size ?? 0),
    });
  }
  packs.sort((a, b) => b.usedMs - a.usedMs);
  let bytes = 0;
  for (const pack of packs) {
    bytes += pack.bytes;
    if (bytes <= mostBytes || inUse.has(pack.key)) continue;
    bytes -= pack.bytes;
    // The index first: without it the pack counts as not there.
    await fs.rm(path.join(folder, `${pack.key}.json`), { force: true });
    await fs.rm(path.join(folder, `${pack.key}.jpegs`), { force: true });
  }
}
