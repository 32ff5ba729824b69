/** Files that hold what clips hold, but are not called like clips: a card that lost its endings, a copy under a name of its own. */
import fs from 'node:fs/promises';
import { isTransportStream } from '../footage/index.js';

/** Endings of what lies beside clips and is none, whatever its first bytes are: sound, pictures, texts, archives. */
const BESIDE =
  /\.(wav|bwf|aiff?|mp3|m4a|m4b|aac|flac|mka|weba|oga|opus|heic|heif|avif|cr3|jpe?g|png|tiff?|dpx|exr|dng|arw|nef|gif|bmp|webp|thm|xml|json|csv|txt|md|pdf|html?|srt|vtt|mks|edl|ale|fcpxml|aaf|otio|xmp|cpf|bim|bdm|mpl|cube|ini|log|db|zip|tar|t?gz|7z|rar|md5|mhl|sha\d+|part|crdownload|tmp)$/i;
/** So many bytes tell a container. */
const LOOKED_AT_BYTES = 4096;
/** A folder with more such files than this is no card of a camera: the rest is not looked at. */
const MOST_LOOKED_AT = 500;

/** First bytes of containers, at their place in the file: ISO/IEC 14496-12 and QuickTime, Matroska, AVI, MXF (SMPTE ST 377-1), ASF, FLV, MPEG-1/2, RED. */
const CONTAINERS: readonly (readonly [atByte: number, head: string])[] = [
  ...['ftyp', 'moov', 'mdat', 'wide', 'RED1', 'RED2'].map((type) => [4, type] as const),
  ...[
    [0, '\x1aE\xdf\xa3'] as const,
    [8, 'AVI '] as const,
    [0, '\x06\x0e+4\x02\x05\x01\x01\r\x01\x02'] as const,
  ],
  ...[[0, '0&\xb2u\x8ef\xcf\x11'] as const, [0, 'FLV\x01'] as const],
  ...[[0, '\0\0\x01\xba'] as const, [0, '\0\0\x01\xb3'] as const],
];
/** Kinds of ISO files that hold no moving picture: sound, and still pictures. */
const STILL_KINDS = /^ftyp(M4[AB] |hei[cxs]|mif1|avif|crx )/;

/**
 * Those of some files that begin like clips.
 * @param files that are not called like clips; as many are looked at as a folder of clips may have
 * @param signal ends the looking: what was found until then is given
 */
export async function unnamedClips(files: readonly string[], signal?: AbortSignal): Promise<string[]> {
  const found: string[] = [];
  for (const file of files.filter((one) => !BESIDE.test(one)).slice(0, MOST_LOOKED_AT)) {
    if (signal?.aborted) break;
    if (beginsLikeClip(await headOf(file))) found.push(file);
  }
  return found;
}

/** Whether these are the first bytes of a container of moving pictures. */
export function beginsLikeClip(head: Uint8Array): boolean {
  const text = Buffer.from(head.buffer, head.byteOffset, head.byteLength).toString('latin1');
  if (STILL_KINDS.test(text.slice(4))) return false;
  return CONTAINERS.some(([at, bytes]) => text.startsWith(bytes, at)) || isTransportStream(head);
}

/** The first bytes; none where the file cannot be read. */
async function headOf(file: string): Promise<Uint8Array> {
  const handle = await fs.open(file).catch(() => null);
  if (handle === null) return new Uint8Array();
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(LOOKED_AT_BYTES), 0, LOOKED_AT_BYTES, 0);
    return buffer.subarray(0, bytesRead);
  } catch {
    return new Uint8Array();
  } finally {
    await handle.close();
  }
}
