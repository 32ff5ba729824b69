/** The SHA-256 of a file, read in pieces. */
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { pipeline } from 'node:stream/promises';
import { TrundleError } from '../run/index.js';
import { quoted } from './clip-path.js';
import { refuseIfAborted } from './ffmpeg-job.js';
import type { ClipFacts, FileMark } from './types.js';

/**
 * SHA-256 of the file's bytes as 64 lower-case hex digits; memory does not grow with the file.
 *
 * @param signal stops reading
 * @throws TrundleError 'clip-missing' when there is no such file, 'clip-unreadable' when it cannot be read, 'interrupted'
 */
export async function sha256OfFile(file: string, signal?: AbortSignal): Promise<string> {
  const hash = createHash('sha256');
  try {
    await pipeline(createReadStream(file), hash, { ...(signal && { signal }) });
  } catch (cause) {
    refuseIfAborted(signal, file);
    const isMissing = (cause as NodeJS.ErrnoException).code === 'ENOENT';
    throw isMissing
      ? new TrundleError('clip-missing', `There is no file ${quoted(file)}; check the path.`, { cause })
      : new TrundleError(
          'clip-unreadable',
          `The file ${quoted(file)} cannot be read; check its permissions.`,
          { cause },
        );
  }
  return hash.digest('hex');
}

/**
 * SHA-256 of a clip that was probed before, as `sha256OfFile`.
 *
 * @throws TrundleError 'clip-changed' when the file is no longer the one that was probed, or changes while it is read
 */
export async function sha256OfClip(facts: ClipFacts, signal?: AbortSignal): Promise<string> {
  const sum = await sha256OfFile(facts.file, signal);
  const mark = await markOf(facts.file);
  const { mark: before } = facts;
  const isSame = mark?.sizeBytes === before?.sizeBytes && mark?.modifiedMs === before?.modifiedMs;
  if (before && !isSame) {
    throw new TrundleError(
      'clip-changed',
      `The clip ${quoted(facts.file)} changed while it was measured, as when it is still being copied; wait until that is done and measure it again.`,
    );
  }
  return sum;
}

/** Size and time of the last change; null when there is no such file. */
export async function markOf(file: string): Promise<FileMark | null> {
  const found = await stat(file).catch(() => null);
  return found && { sizeBytes: found.size, modifiedMs: found.mtimeMs };
}
