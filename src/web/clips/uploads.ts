/** Copies of clips in the data folder, each in a folder of its own; what a crash left behind goes at the start. */
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
import { PART } from '../../write-whole.js';

const UPLOADS = 'uploads';

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
    try {
      await this.#make(folder, delivery.name);
      await refuseWithoutRoom(delivery, folder);
      const received = await receiveFile(`${file}${PART}`, delivery);
      await fs.rename(`${file}${PART}`, file);
      return { id, path: file, ...received, found: await check(file) };
    } catch (error) {
      await fs.rm(folder, { recursive: true, force: true });
      throw error;
    }
  }

  /** Takes a copy away. @param file as `take` gave it */
  async remove(file: string): Promise<void> {
    const folder = path.dirname(file);
    if (path.dirname(folder) === this.#folder) await fs.rm(folder, { recursive: true, force: true });
  }

  /** Whether a file is such a copy. */
  holds(file: string): boolean {
    return path.dirname(path.dirname(file)) === this.#folder;
  }

  /** Takes away what was not received whole. A whole copy stays, also where the list of clips was lost: it may be the only one. */
  async sweep(): Promise<void> {
    for (const name of await fs.readdir(this.#folder).catch(() => [])) {
      const folder = path.join(this.#folder, name);
      const files = await fs.readdir(folder).catch(() => null);
      if (files?.every((file) => file.endsWith(PART))) await fs.rm(folder, { recursive: true, force: true });
    }
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
