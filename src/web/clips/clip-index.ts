/** The list of known clips on the disk, so that they are known after a restart. */
import path from 'node:path';
import { KeptFile, isRecord } from '../kept-file.js';
import type { KnownClip } from '../server/context.js';

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

/** The list in a data folder; none that can be read is null. Copies lie in the data folder, and go with it where it is moved to. */
export function clipIndex(dataDir: string): KeptFile<readonly ClipRecord[]> {
  return new KeptFile<readonly ClipRecord[]>(path.join(dataDir, INDEX_FILE), {
    valueIn: ({ format, clips }) =>
      format === FORMAT && Array.isArray(clips) && clips.every(isClip)
        ? clips.map((record) => ({ ...record, path: path.resolve(dataDir, record.path) }))
        : null,
    jsonOf: (records) => ({
      format: FORMAT,
      clips: records.map((record) =>
        record.origin === 'upload' ? { ...record, path: path.relative(dataDir, record.path) } : record,
      ),
    }),
  });
}

function isClip(value: unknown): value is ClipRecord {
  if (!isRecord(value)) return false;
  const { id, name, path: place, origin, sizeBytes, modifiedMs, sha256 } = value;
  return (
    [id, name, place].every((text) => typeof text === 'string' && text !== '') &&
    (origin === 'upload' || (origin === 'folder' && path.isAbsolute(String(place)))) &&
    [sizeBytes, modifiedMs].every((figure) => typeof figure === 'number' && Number.isFinite(figure)) &&
    (sha256 === null || (typeof sha256 === 'string' && /^[0-9a-f]{64}$/.test(sha256)))
  );
}
