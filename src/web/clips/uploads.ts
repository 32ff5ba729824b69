/** Copies of clips in the data folder, each in a folder of its own; halves that a crash left go, whole copies stay. */
import { randomBytes } from 'node:crypto';
import fs from 'node:fs/promises';
import path from 'node:path';
import { clipTexts } from '../../texts/index.js';
import { WebProblem } from '../server/problem.js';
import { storedName } from './clip-names.js';
import {
  isDiskFull,
  receiveFile,
  refuseTooLarge,
  refuseWithoutRoom,
  type Delivery,
  type Received,
} from './receive-file.js';
import { PART } from '../../files/index.js';

const UPLOADS = 'uploads';
/** Names of the folders of copies: as `newId` makes them. */
const ID = /^[0-9a-f]{16}$/;
/** A copy that is being received changes more often than this, ms. */
const FRESH_MS = 2 * 60_000;

/** A copy that is complete, and what was found out about it. */
export interface Upload<Found> extends Received {
  readonly id: string;
  readonly path: string;
  readonly found: Found;
}

/** A name that nobody can guess. */
export function newId(): string {
  return randomBytes(8).toString('hex');
}

/** The folder of copies. */
export class Uploads {
  readonly #folder: string;
  /** Folders of what is coming in. */
  readonly #taking = new Set<string>();

  constructor(dataDir: string) {
    this.#folder = path.join(dataDir, UPLOADS);
  }

  /**
   * Takes a file in: under another name until it is complete and found good; whatever fails leaves nothing behind.
   * @param check looks at the complete copy, and throws what is wrong with it
   * @throws WebProblem as `receiveFile`; what `check` throws
   */
  async take<Found>(delivery: Delivery, check: (file: string) => Promise<Found>): Promise<Upload<Found>> {
    refuseTooLarge(delivery);
    const id = newId();
    const folder = path.join(this.#folder, id);
    const file = path.join(folder, storedName(delivery.name));
    this.#taking.add(folder);
    try {
      await this.#make(folder, delivery.name);
      await refuseWithoutRoom(delivery, folder);
      const received = await receiveFile(`${file}${PART}`, delivery);
      await fs.rename(`${file}${PART}`, file);
      return { id, path: file, ...received, found: await check(file) };
    } catch (error) {
      // Where even that fails, the next start takes it away.
      await this.#removeFolder(folder).catch(() => undefined);
      throw error;
    } finally {
      this.#taking.delete(folder);
    }
  }

  /** Takes a copy away. @param file as `take` gave it @throws what the system says */
  async remove(file: string): Promise<void> {
    const folder = path.dirname(file);
    if (path.dirname(folder) === this.#folder) await this.#removeFolder(folder);
  }

  /** Whether a file is such a copy. */
  holds(file: string): boolean {
    return path.dirname(path.dirname(file)) === this.#folder;
  }

  /**
   * Takes away what was not received whole, unless it changed a moment ago: then another machine may be at it that shares the folder.
   * What people put there stays.
   * @param nowMs milliseconds since 1970 UTC
   */
  async sweep(nowMs: number = Date.now()): Promise<void> {
    for (const { folder, files } of await this.#folders()) {
      const isHalf = files.length === 0 || (files.length === 1 && files[0].endsWith(PART));
      if (!isHalf || this.#taking.has(folder)) continue;
      const found = await fs.lstat(path.join(folder, files[0] ?? '.')).catch(() => null);
      // A clock that was put back makes it come from the future: that is old, too.
      if (found && Math.abs(nowMs - found.mtimeMs) > FRESH_MS)
        await this.#removeFolder(folder).catch(() => undefined);
    }
  }

  /** Copies that are whole; each is alone in its folder. */
  async whole(): Promise<readonly { readonly id: string; readonly path: string }[]> {
    const copies = (await this.#folders())
      .filter(({ folder, files }) => files.length === 1 && !this.#taking.has(folder))
      .map(({ folder, files }) => ({ id: path.basename(folder), path: path.join(folder, files[0]) }))
      .filter(({ path: file }) => !file.endsWith(PART) && !path.basename(file).startsWith('.'));
    const isFile = await Promise.all(
      copies.map(async ({ path: file }) => (await fs.lstat(file).catch(() => null))?.isFile() ?? false),
    );
    return copies.filter((_, i) => isFile[i]);
  }

  /** Folders as this program names them, with what is in each. */
  async #folders(): Promise<{ readonly folder: string; readonly files: readonly string[] }[]> {
    const names = await fs.readdir(this.#folder).catch(() => []);
    const folders = names.filter((name) => ID.test(name)).map((name) => path.join(this.#folder, name));
    return Promise.all(
      folders.map(async (folder) => ({ folder, files: await fs.readdir(folder).catch(() => []) })),
    );
  }

  #removeFolder(folder: string): Promise<void> {
    return fs.rm(folder, { recursive: true, force: true });
  }

  async #make(folder: string, name: string): Promise<void> {
    try {
      await fs.mkdir(folder, { recursive: true });
    } catch (cause) {
      throw isDiskFull(cause)
        ? new WebProblem(507, 'disk-full', clipTexts.noRoom(name, null), { cause })
        : new WebProblem(507, 'upload-unwritable', clipTexts.unwritable(name), { cause });
    }
  }
}
