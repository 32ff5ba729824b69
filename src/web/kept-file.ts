/** A list of the data folder as JSON in one file: read checked, written whole and in turn, and set aside when it cannot be read. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { setAside } from '../log/index.js';
import { TrundleError } from '../run/index.js';
import { dataTexts } from '../texts/index.js';
import { clearParts, writeWhole } from '../files/index.js';

/** What a file holds. */
export interface KeptFormat<Value> {
  /** The value of a file that this version writes; null for anything else. @param json as it was parsed, an object */
  readonly valueIn: (json: Readonly<Record<string, unknown>>) => Value | null;
  /** As it is written, its format and version among it. */
  readonly jsonOf: (value: Value) => object;
  /** For the name of a file that is set aside; the clock unless given. */
  readonly now?: () => Date;
}

/** One such file. */
export class KeptFile<Value> {
  #last: Promise<unknown> = Promise.resolve();
  /** A write that has not begun: it will write what is asked for until then. */
  #waiting: Promise<void> | null = null;

  /** @param file absolute; its folder is made when it is written */
  constructor(
    private readonly file: string,
    private readonly format: KeptFormat<Value>,
  ) {}

  /**
   * What the file holds; null where there is none. One that this version did not write is moved to `FILE.damaged-YYYYMMDD-HHMMSS` and told
   * of in a warning of the process, so that nothing of it is overwritten.
   * @throws TrundleError `output-unwritable` where it may not be read, or not be moved
   */
  read(): Promise<Value | null> {
    const read = this.#last.then(() => this.#read());
    this.#last = read.catch(() => undefined);
    return read;
  }

  async #read(): Promise<Value | null> {
    try {
      await clearParts(this.file);
      const text = await fs.readFile(this.file, 'utf8').catch((error: unknown) => {
        const { code } = error as NodeJS.ErrnoException;
        if (code === 'ENOENT') return null;
        // A folder in its place is as good as damaged.
        if (code === 'EISDIR') return '';
        throw error;
      });
      if (text === null) return null;
      const json = parsed(text);
      const value = json && this.format.valueIn(json);
      if (value !== null) return value;
      const aside = setAside(this.file, this.format.now?.() ?? new Date());
      process.emitWarning(dataTexts.setAside(this.file, aside), { code: 'data-damaged' });
      return null;
    } catch (cause) {
      throw new TrundleError(
        'output-unwritable',
        `The file "${this.file}" cannot be read; check its permissions, or choose another folder with --data-dir.`,
        { cause },
      );
    }
  }

  /**
   * Writes it; writes follow one another, and those that wait are one.
   * @param value asked for when it is written
   * @throws TrundleError `output-unwritable`
   */
  write(value: () => Value): Promise<void> {
    if (this.#waiting) return this.#waiting;
    const written = this.#last.then(async () => {
      this.#waiting = null;
      await this.#write(value());
    });
    this.#waiting = written;
    this.#last = written.catch(() => undefined);
    return written;
  }

  async #write(value: Value): Promise<void> {
    try {
      await fs.mkdir(path.dirname(this.file), { recursive: true });
      await writeWhole(this.file, `${JSON.stringify(this.format.jsonOf(value), null, 1)}\n`);
    } catch (cause) {
      throw new TrundleError(
        'output-unwritable',
        `"${this.file}" cannot be written; check that the folder may be written to and has room.`,
        { cause },
      );
    }
  }
}

function parsed(text: string): Record<string, unknown> | null {
  try {
    const value: unknown = JSON.parse(text);
    return isRecord(value) ? value : null;
  } catch {
    return null;
  }
}

/** Whether a value of JSON is an object, no list. */
export function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
