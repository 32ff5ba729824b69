/** How a path is handed to FFmpeg, and how it is named in a sentence. */
import path from 'node:path';

/**
 * The path as FFmpeg takes it: absolute and with the `file:` protocol named, so that a leading dash is no
 * option and a colon is no protocol. FFmpeg takes what follows `file:` as it stands: no escapes, no "%20".
 */
export function ffmpegPath(file: string): string {
  return `file:${path.resolve(file)}`;
}

/** The path as the person gave it, quoted. */
export function quoted(file: string): string {
  return `"${file}"`;
}
