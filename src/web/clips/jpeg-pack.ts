/**
 * A row of small pictures on the disk: KEY.jpegs holds them one after the other, KEY.json where each ends and when it is shown. The index
 * is written last, so that a pack without one is not there.
 */
import fs from 'node:fs/promises';
import path from 'node:path';
import { PART, writeWhole } from '../../files/index.js';

/** What a pack holds; columns of equal length. */
export interface PackIndex {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Moments that the pictures were asked for, seconds from the start of the clip. */
  readonly wantedS: readonly number[];
  /** Time stamps of their frames. */
  readonly timeS: readonly number[];
  /** First byte behind each. */
  readonly ends: readonly number[];
}

const FORMAT = 'trundle-jpegs/1';

/** A pack that is being written, and can be read from meanwhile. */
export class PackWriter {
  readonly #wantedS: number[] = [];
  readonly #timeS: number[] = [];
  readonly #ends: number[] = [];
  /** Set when it comes to its end: from then on pictures are read from the complete pack. */
  #ending: Promise<unknown> | null = null;

  private constructor(
    private readonly stem: string,
    private readonly handle: fs.FileHandle,
    private readonly size: { readonly widthPx: number; readonly heightPx: number },
  ) {}

  /** Begins one in a folder, which is made when it is not there. */
  static async begin(
    folder: string,
    key: string,
    size: { readonly widthPx: number; readonly heightPx: number },
  ): Promise<PackWriter> {
    await fs.mkdir(folder, { recursive: true });
    const stem = path.join(folder, key);
    return new PackWriter(stem, await fs.open(`${stem}.jpegs${PART}`, 'w+'), size);
  }

  /** Pictures so far. */
  get count(): number {
    return this.#ends.length;
  }

  /** Adds a picture behind the others. */
  async add(jpeg: Uint8Array, wantedS: number, timeS: number): Promise<void> {
    const from = this.#ends.at(-1) ?? 0;
    // A full disk takes what fits and says so at the next piece.
    for (let done = 0; done < jpeg.length;)
      done += (await this.handle.write(jpeg, done, jpeg.length - done, from + done)).bytesWritten;
    this.#wantedS.push(wantedS);
    this.#timeS.push(timeS);
    this.#ends.push(from + jpeg.length);
  }

  /** The picture of this number; null when it is not there yet, and when the pack has come to its end, which is waited for. */
  async read(n: number): Promise<Uint8Array<ArrayBuffer> | null> {
    if (this.#ending) {
      await this.#ending.catch(() => {});
      return null;
    }
    return n < this.#ends.length ? readAt(this.handle, this.#ends, n) : null;
  }

  /** Ends it well. */
  finish(): Promise<PackIndex> {
    const finished = this.#finish();
    this.#ending = finished;
    return finished;
  }

  /** Ends it without a trace. */
  async discard(): Promise<void> {
    this.#ending ??= Promise.resolve();
    await this.handle.close().catch(() => {});
    await fs.rm(`${this.stem}.jpegs${PART}`, { force: true });
  }

  async #finish(): Promise<PackIndex> {
    const index: PackIndex = {
      ...this.size,
      wantedS: this.#wantedS,
      timeS: this.#timeS,
      ends: this.#ends,
    };
    await this.handle.close();
    await fs.rename(`${this.stem}.jpegs${PART}`, `${this.stem}.jpegs`);
    await writeWhole(`${this.stem}.json`, JSON.stringify({ format: FORMAT, ...index }));
    return index;
  }
}

/** The index of a complete pack, which counts as used now; null when there is none. */
export async function readPackIndex(folder: string, key: string): Promise<PackIndex | null> {
  const file = path.join(folder, `${key}.json`);
  try {
    const index = JSON.parse(await fs.readFile(file, 'utf8')) as PackIndex & { readonly format?: unknown };
    const { size } = await fs.stat(path.join(folder, `${key}.jpegs`));
    if (index.format !== FORMAT || size !== (index.ends.at(-1) ?? 0)) return null;
    const now = new Date();
    await fs.utimes(file, now, now);
    return index;
  } catch {
    return null;
  }
}

/** One picture of a complete pack; null when the pack has gone. @param n below the count */
export async function readPicture(
  folder: string,
  key: string,
  index: PackIndex,
  n: number,
): Promise<Uint8Array<ArrayBuffer> | null> {
  const handle = await fs.open(path.join(folder, `${key}.jpegs`)).catch(() => null);
  if (!handle) return null;
  try {
    return await readAt(handle, index.ends, n);
  } finally {
    await handle.close();
  }
}

async function readAt(
  handle: fs.FileHandle,
  ends: readonly number[],
  n: number,
): Promise<Uint8Array<ArrayBuffer> | null> {
  const from = n === 0 ? 0 : ends[n - 1];
  const bytes = new Uint8Array(ends[n] - from);
  const { bytesRead } = await handle.read(bytes, 0, bytes.length, from);
  // A file that was cut short holds no picture there.
  return bytesRead === bytes.length ? bytes : null;
}
