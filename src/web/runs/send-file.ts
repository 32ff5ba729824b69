/** Sends a file: from memory whole, from the disk as a stream and by ranges of bytes (RFC 9110, section 14). */
import fs from 'node:fs/promises';
import type { ServerResponse } from 'node:http';
import type { Context } from 'hono';
import { runFileTexts } from '../../texts/index.js';
import { WebProblem } from '../server/problem.js';
import type { FileSource } from './run-reports.js';

/** First and last byte, both sent. */
type Span = readonly [first: number, last: number];

/** Bytes that are read at once. */
const PIECE_BYTES = 256 * 1024;

/**
 * Answers with the file; a HEAD request gets the headers alone. A file that gets shorter while it is sent ends the connection, so that
 * nobody waits for the rest, or takes what came for all of it.
 * @param headers type and name of the file
 * @throws WebProblem 404 `file-missing` where it cannot be opened
 */
export async function sendFile(
  context: Context,
  source: FileSource,
  headers: Readonly<Record<string, string>>,
): Promise<Response> {
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
    wantsBody && sizeBytes > 0 ? bytesOf(await opened(path), first, last, () => cut(context)) : null;
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

function opened(path: string): Promise<fs.FileHandle> {
  return fs.open(path).catch((cause: unknown) => {
    throw new WebProblem(404, 'file-missing', runFileTexts.fileGone, { cause });
  });
}

/** Bytes of a file from the first to the last; closes it at the end. @param cutOff ends the connection; false where there is none */
function bytesOf(
  handle: fs.FileHandle,
  first: number,
  last: number,
  cutOff: () => boolean,
): ReadableStream<Uint8Array> {
  let at = first;
  return new ReadableStream<Uint8Array>(
    {
      async pull(controller) {
        const wanted = Math.min(PIECE_BYTES, last - at + 1);
        const piece = await handle.read(new Uint8Array(wanted), 0, wanted, at).catch(() => null);
        if (piece === null || piece.bytesRead === 0) {
          await handle.close();
          if (!cutOff()) controller.error(new Error('The file got shorter while it was sent.'));
          return;
        }
        at += piece.bytesRead;
        controller.enqueue(piece.buffer.subarray(0, piece.bytesRead));
        if (at <= last) return;
        await handle.close();
        controller.close();
      },
      // Closing twice does nothing.
      cancel: () => handle.close(),
    },
    { highWaterMark: 0 },
  );
}

/** Ends the connection that is being answered. @returns whether there was one */
function cut(context: Context): boolean {
  const { outgoing } = (context.env ?? {}) as { outgoing?: ServerResponse };
  outgoing?.destroy();
  return outgoing !== undefined;
}
