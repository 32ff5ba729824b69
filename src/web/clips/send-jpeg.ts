/** Answers with a small picture that never changes under its address. */
import type { Context } from 'hono';

/** A year, s: the longest that caches take seriously (RFC 9111 leaves it open). */
const KEPT_S = 31_536_000;

/** The answer. */
export function sendJpeg(context: Context, jpeg: Uint8Array<ArrayBuffer>): Response {
  return context.body(jpeg, 200, {
    'Content-Type': 'image/jpeg',
    'Cache-Control': ['private', `max-age=${KEPT_S}`, 'immutable'].join(', '),
  });
}
