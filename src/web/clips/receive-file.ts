/** Takes the body of a request to disk piece by piece: no faster than the disk writes, never more than the limit, only what is a clip. */
import { createHash } from 'node:crypto';
import { open, statfs } from 'node:fs/promises';
import { clipTexts } from '../../texts/index.js';
import { WebProblem } from '../server/problem.js';
import { SNIFFED_BYTES } from './file-kind.js';
import { refuseOtherKinds } from './refuse-other-kinds.js';

/** What comes, and how much of it is taken. */
export interface Delivery {
  /** For sentences. */
  readonly name: string;
  readonly body: ReadableStream<Uint8Array>;
  /** Size as stated; null when it is not. */
  readonly statedBytes: number | null;
  readonly mostBytes: number;
}

/** What was written. */
export interface Received {
  readonly sizeBytes: number;
  /** Hexadecimal. */
  readonly sha256: string;
}

/** A refusal is heard once what was under way has been read: so much of it, for so long at most. */
const DISCARDED_BYTES = 512 * 2 ** 20;
const DISCARDED_MS = 2000;

/** @throws WebProblem 413 `clip-too-large` where the stated size is over the limit */
export function refuseTooLarge({ name, statedBytes, mostBytes }: Omit<Delivery, 'body'>): void {
  if (statedBytes !== null && statedBytes > mostBytes) throw tooLarge(name, mostBytes);
}

/** @throws WebProblem 507 `disk-full` where the stated size is more than the disk of the folder has left */
export async function refuseWithoutRoom(
  { name, statedBytes }: Omit<Delivery, 'body'>,
  folder: string,
): Promise<void> {
  const disk = await statfs(folder).catch(() => null);
  const freeBytes = disk ? disk.bavail * disk.bsize : Infinity;
  if (statedBytes !== null && statedBytes > freeBytes) throw noRoom(name, freeBytes);
}

/**
 * Writes the body to `file`. The first bytes are looked at before anything is written. What was written when it fails is left to the
 * caller to take away.
 *
 * @throws WebProblem 415 `clip-empty` and those of `refuseOtherKinds`; 413 `clip-too-large`; 400 `upload-broken` for a body that ends too
 *   early; 507 `disk-full`, `upload-unwritable`
 */
export async function receiveFile(file: string, delivery: Delivery): Promise<Received> {
  // Read by hand: leaving a loop over the stream would cut the connection before the answer is out.
  const reader = delivery.body.getReader();
  try {
    return await receive(file, delivery, reader);
  } catch (error) {
    if (error instanceof WebProblem && error.status === 415) await discard(reader);
    throw error;
  } finally {
    reader.releaseLock();
  }
}

type Reader = ReadableStreamDefaultReader<Uint8Array>;

async function receive(file: string, delivery: Delivery, reader: Reader): Promise<Received> {
  const { name, mostBytes, statedBytes } = delivery;
  let piece: Uint8Array | null = await firstBytes(reader, name);
  if (piece.length === 0) throw new WebProblem(415, 'clip-empty', clipTexts.empty(name));
  refuseOtherKinds(piece.subarray(0, SNIFFED_BYTES), name);
  const hash = createHash('sha256');
  let sizeBytes = 0;
  const handle = await open(file, 'w').catch((cause: unknown) => {
    throw writingProblem(cause, name);
  });
  try {
    for (; piece; piece = await next(reader, name)) {
      sizeBytes += piece.length;
      if (sizeBytes > mostBytes) throw tooLarge(name, mostBytes);
      hash.update(piece);
      await writeAll(handle, piece);
    }
  } catch (cause) {
    throw cause instanceof WebProblem ? cause : writingProblem(cause, name);
  } finally {
    await handle.close();
  }
  if (statedBytes !== null && sizeBytes < statedBytes) throw broken(name);
  return { sizeBytes, sha256: hash.digest('hex') };
}

async function writeAll(handle: Awaited<ReturnType<typeof open>>, piece: Uint8Array): Promise<void> {
  for (let from = 0; from < piece.length;) {
    const { bytesWritten } = await handle.write(piece, from);
    from += bytesWritten;
  }
}

/** The next piece; null at the end. */
async function next(reader: Reader, name: string): Promise<Uint8Array | null> {
  try {
    const { done, value } = await reader.read();
    return done ? null : value;
  } catch (error) {
    throw broken(name, error);
  }
}

/** Pieces until there are enough bytes to tell what they are. */
async function firstBytes(reader: Reader, name: string): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  let length = 0;
  for (let piece; length < SNIFFED_BYTES && (piece = await next(reader, name)); length += piece.length)
    pieces.push(piece);
  return Buffer.concat(pieces);
}

/** Reads on for a moment: a browser hears the answer to what it sends only when it is done sending. */
async function discard(reader: Reader): Promise<void> {
  let isLate = false;
  const late = new Promise<null>((resolve) => {
    setTimeout(() => {
      isLate = true;
      resolve(null);
    }, DISCARDED_MS).unref();
  });
  for (let bytes = 0; bytes < DISCARDED_BYTES && !isLate;) {
    // The other side may have gone: then nobody waits for the answer.
    // Lengths race, not pieces: whatever wins is held until it is late.
    const read = reader.read().then(({ value }) => value?.length ?? null);
    const length = await Promise.race([read.catch(() => null), late]);
    if (length === null) return;
    bytes += length;
  }
}

function tooLarge(name: string, mostBytes: number): WebProblem {
  return new WebProblem(413, 'clip-too-large', clipTexts.tooLarge(name, mostBytes));
}

function broken(name: string, cause?: unknown): WebProblem {
  return new WebProblem(400, 'upload-broken', clipTexts.broken(name), { cause });
}

function noRoom(name: string, freeBytes: number | null, cause?: unknown): WebProblem {
  return new WebProblem(507, 'disk-full', clipTexts.noRoom(name, freeBytes), { cause });
}

function writingProblem(cause: unknown, name: string): WebProblem {
  return isDiskFull(cause)
    ? noRoom(name, null, cause)
    : new WebProblem(507, 'upload-unwritable', clipTexts.unwritable(name), { cause });
}

/** Whether the disk, or what this user may take of it, is full. */
export function isDiskFull(error: unknown): boolean {
  return ['ENOSPC', 'EDQUOT', 'EFBIG'].includes(String((error as NodeJS.ErrnoException).code));
}
