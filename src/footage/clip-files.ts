/** Which files may be clips: by their names, and where a name is shared with texts of programs by their first bytes. */
import fs from 'node:fs/promises';

/** Endings that a clip may have. */
const CLIP_ENDINGS =
  /\.(mp4|m4v|mov|qt|mxf|mkv|webm|avi|mts|m2ts|m2t|ts|mpg|mpeg|mpe|m2v|m1v|vob|mod|tod|3gp|3g2|wmv|asf|flv|f4v|ogv|ogg|ogm|dv|dif|gxf|insv|lrv|h264|264|avc|h265|265|hevc|y4m|ivf|nut|braw|r3d|crm)$/i;
/** A name has something before its ending. */
const ENDING_ALONE = /^\.[^.]*$/;
/** So many bytes tell a transport stream. */
const LOOKED_AT_BYTES = 4096;

/** Whether a file of this name may be a clip. */
export function mayBeClip(name: string): boolean {
  return CLIP_ENDINGS.test(name) && !ENDING_ALONE.test(name);
}

/** Endings that clips share with texts of programs: what such a file is, its first bytes say. */
export function mustBeSniffed(name: string): boolean {
  return /.\.m?ts$/is.test(name);
}

/** Packets of 188 bytes (ISO/IEC 13818-1), four more before each on discs, sixteen behind each on air. */
export function isTransportStream(bytes: Uint8Array): boolean {
  const PACKETS = 5;
  for (const packet of [188, 192, 204]) {
    for (let first = 0; first < packet; first++) {
      let k = 0;
      while (k < PACKETS && bytes[first + k * packet] === 0x47) k++;
      if (k === PACKETS) return true;
    }
  }
  return false;
}

/** Whether a file begins like a transport stream; false where it cannot be read. */
export async function holdsTransportStream(file: string): Promise<boolean> {
  const handle = await fs.open(file).catch(() => null);
  if (handle === null) return false;
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(LOOKED_AT_BYTES), 0, LOOKED_AT_BYTES, 0);
    return isTransportStream(buffer.subarray(0, bytesRead));
  } catch {
    return false;
  } finally {
    await handle.close();
  }
}
