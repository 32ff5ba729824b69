/** Documents as the log stores them: JSON, gzip (RFC 1952); and back, or null when they cannot be read. */
import { gunzipSync, gzipSync } from 'node:zlib';

/** A value as bytes; the same bytes for the same value. */
export function pack(value: unknown): Uint8Array {
  return gzipSync(JSON.stringify(value));
}

/** The value that was packed. @returns null for bytes that were not packed here or were damaged */
export function unpack(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(gunzipSync(bytes).toString('utf8'));
  } catch {
    return null;
  }
}
