/** Sends a file: from memory whole, from the disk as a stream and by ranges of bytes (RFC 9110, section 14). */
import { createReadStream } from 'node:fs';
import { Readable } from 'node:stream';
import type { Context } from 'hono';
import type { FileSource } from './run-reports.js';

/** First and last byte, both sent. */
type Span = readonly [first: number, last: number];

/** Answers with the file; a HEAD request gets the headers alone. @param headers type and name of the file */
export function sendFile(
  context: Context,
  source: FileSource,
  headers: Readonly<Record<string, string>>,
): Response {
  const wantsBody = context.req.method !== 'HEAD';
  if ('bytes' in source)
    return new Response(wantsBody ? new Uint8Array(source.bytes) : null, {
      headers: { ...headers, 'Content-Length': String(source.bytes.length) },
    });

  const { path, sizeBytes, modifiedMs } = source;
  const version = `"${sizeBytes.toString(36)}-${Math.round(modifiedMs).toString(36)}"`;
  const all = { ...headers, 'Accept-Ranges': 'bytes', ETag: version };
  const ifRange = context.req.header('If-Range');
  const asked = ifRange === undefined || ifRange === version ? context.req.header('Range') : undefined;
  const span = wantsBody ? spanOf(asked, sizeBytes) : null;
  if (span === 'outside')
    return new Response(null, { status: 416, headers: { ...all, 'Content-Range': `bytes */${sizeBytes}` } });
  const [first, last] = span ?? [0, sizeBytes - 1];
  const sent = { ...all, 'Content-Length': String(last - first + 1) };
  const body =
    wantsBody && sizeBytes > 0
      ? (Readable.toWeb(createReadStream(path, { start: first, end: last })) as ReadableStream)
      : null;
  return span === null
    ? new Response(body, { headers: sent })
    : new Response(body, {
        status: 206,
        headers: { ...sent, 'Content-Range': `bytes ${first}-${last}/${sizeBytes}` },
      });
}

/** The one range that is asked for; null for none, several, or what is not understood: then the whole is sent. */
function spanOf(range: string | undefined, sizeBytes: number): Span | 'outside' | null {
  const [, from = '', to = ''] = /^bytes=(\d*)-(\d*)$/.exec(range?.replace(/\s/g, '') ?? '') ?? [];
  if (from === '' && to === '') return null;
  const last = sizeBytes - 1;
  if (from === '')
    return Number(to) === 0 || sizeBytes === 0 ? 'outside' : [Math.max(0, sizeBytes - Number(to)), last];
  if (Number(from) > last) return 'outside';
  if (to === '') return [Number(from), last];
  return Number(to) < Number(from) ? null : [Number(from), Math.min(Number(to), last)];
}
