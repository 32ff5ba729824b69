/** The list of known clips on the disk, so that they are known after a restart; a damaged one is set aside. */
import fs from 'node:fs/promises';
import path from 'node:path';
import type { KnownClip } from '../server/context.js';
import { clearParts, writeWhole } from '../../write-whole.js';

/** A clip as it was when it was taken; another size or time makes it another clip. */
export interface ClipRecord extends KnownClip {
  readonly sizeBytes: number;
  /** Last change, milliseconds since 1970 UTC. */
  readonly modifiedMs: number;
  /** Hexadecimal; null while it is not known. */
  readonly sha256: string | null;
}

const INDEX_FILE = 'clips.json';
const FORMAT = 'trundle-clips/1';

/** Reads and writes the list in the data folder. */
export class ClipIndex {
  readonly #file: string;
  readonly #dataDir: string;
  #writing: Promise<void> = Promise.resolve();

  constructor(dataDir: string) {
    this.#file = path.join(dataDir, INDEX_FILE);
    this.#dataDir = dataDir;
  }

  /** The clips on the list; none where there is no list, or none that can be read: that one is then kept under a dated name. */
  async read(): Promise<ClipRecord[]> {
    await clearParts(this.#file);
    let text: string;
    try {
      text = await fs.readFile(this.#file, 'utf8');
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return [];
      throw error;
    }
    const records = recordsIn(text);
    if (records)
      return records.map((record) => ({ ...record, path: path.resolve(this.#dataDir, record.path) }));
    const stamp = new Date().toISOString().replace(/\D/g, '').slice(0, 17);
    await fs.rename(this.#file, `${this.#file}.damaged-${stamp}`);
    return [];
  }

  /** Writes the list; writes follow one another, each with the list as it is by then. */
  write(records: () => readonly ClipRecord[]): Promise<void> {
    const written = this.#writing.then(() =>
      writeWhole(
        this.#file,
        `${JSON.stringify({ format: FORMAT, clips: records().map((record) => this.#stored(record)) }, null, 1)}\n`,
      ),
    );
    this.#writing = written.catch(() => {});
    return written;
  }

  /** Copies lie in the data folder, and go with it where it is moved to. */
  #stored(record: ClipRecord): ClipRecord {
    return record.origin === 'upload'
      ? { ...record, path: path.relative(this.#dataDir, record.path) }
      : record;
  }
}

/** The records of a list; null when it is not one of this format. */
function recordsIn(text: string): ClipRecord[] | null {
  try {
    const { format, clips } = JSON.parse(text) as { format?: unknown; clips?: unknown };
    return format === FORMAT && Array.isArray(clips) && clips.every(isRecord) ? clips : null;
  } catch {
    return null;
  }
}

function isRecord(value: unknown): value is ClipRecord {
  if (typeof value !== 'object' || value === null) return false;
  const { id, name, path: place, origin, sizeBytes, modifiedMs, sha256 } = value as Record<string, unknown>;
  return (
    [id, name, place].every((text) => typeof text === 'string' && text !== '') &&
    (origin === 'upload' || (origin === 'folder' && path.isAbsolute(String(place)))) &&
    [sizeBytes, modifiedMs].every((figure) => typeof figure === 'number' && Number.isFinite(figure)) &&
    (sha256 === null || (typeof sha256 === 'string' && /^[0-9a-f]{64}$/.test(sha256)))
  );
}
