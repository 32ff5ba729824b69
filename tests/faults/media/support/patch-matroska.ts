/** Overwrites what a Matroska file says of itself (RFC 9559), element by element, so that it lies. */
import { readFile, writeFile } from 'node:fs/promises';

const DEFAULT_DURATION = Buffer.from([0x23, 0xe3, 0x83]);
const DURATION = Buffer.from([0x44, 0x89]);

/** What may be overwritten. */
export interface MatroskaLies {
  /** Rate that the track claims for itself, frames per second. */
  readonly claimedFps?: number;
  /** Length that the file and its track claim. */
  readonly claimedS?: number;
}

/** Overwrites a file of one video track, as FFmpeg writes it. */
export async function lieInMatroska(file: string, { claimedFps, claimedS }: MatroskaLies): Promise<void> {
  const bytes = await readFile(file);
  if (claimedFps !== undefined) {
    const { from, length } = payloadOf(bytes, DEFAULT_DURATION);
    bytes.writeUIntBE(Math.round(1e9 / claimedFps), from, length);
  }
  if (claimedS !== undefined) {
    // In ticks of a millisecond, which is what FFmpeg sets.
    const { from, length } = payloadOf(bytes, DURATION);
    if (length === 8) bytes.writeDoubleBE(1000 * claimedS, from);
    else bytes.writeFloatBE(1000 * claimedS, from);
    const tag = bytes.indexOf('DURATION');
    const text = tag < 0 ? -1 : bytes.indexOf('00:00:', tag);
    if (text >= 0) bytes.write(`00:00:${claimedS.toFixed(9).padStart(12, '0')}`, text, 'latin1');
  }
  await writeFile(file, bytes);
}

/** Where an element's payload lies; sizes are single bytes with the highest bit set. */
function payloadOf(bytes: Buffer, id: Buffer): { from: number; length: number } {
  const at = bytes.indexOf(id);
  if (at < 0) throw new Error(`no element ${id.toString('hex')}`);
  return { from: at + id.length + 1, length: bytes[at + id.length] & 0x7f };
}
