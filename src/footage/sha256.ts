/** The SHA-256 of a file, read in pieces. */
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { pipeline } from 'node:stream/promises';
import { TrundleError } from '../run/index.js';
import { quoted } from './clip-path.js';

/**
 * SHA-256 of the file's bytes as 64 lower-case hex digits; memory does not grow with the file.
 *
 * @param signal stops reading
 * @throws TrundleError 'clip-missing' when there is no such file, 'clip-unreadable' when it cannot be read
 */
export async function sha256OfFile(file: string, signal?: AbortSignal): Promise<string> {
  const hash = createHash('sha256');
  try {
    await pipeline(createReadStream(file), hash, { ...(signal && { signal }) });
  } catch (cause) {
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
