/** Overwrites what an MP4 or QuickTime file says of itself, box by box (ISO/IEC 14496-12), so that it lies. */
import { readFile, writeFile } from 'node:fs/promises';

/** Boxes that hold boxes. */
const HOLDERS = new Set(['moov', 'trak', 'mdia', 'minf', 'stbl', 'edts']);

/** A box: its four letters and where its payload lies in the file. */
interface Box {
  readonly kind: string;
  readonly from: number;
  readonly to: number;
}

/** All boxes down to those that hold none, in the order of the file. */
function boxesOf(bytes: Buffer, from = 0, to = bytes.length): Box[] {
  const found: Box[] = [];
  for (let at = from; at + 8 <= to;) {
    const size = bytes.readUInt32BE(at);
    if (size < 8) throw new Error(`a box of ${size} bytes at ${at}: this patcher reads plain boxes only`);
    const box = { kind: bytes.toString('latin1', at + 4, at + 8), from: at + 8, to: at + size };
    found.push(box, ...(HOLDERS.has(box.kind) ? boxesOf(bytes, box.from, box.to) : []));
    at += size;
  }
  return found;
}

/** What may be overwritten; ticks are those of the box itself. */
export interface MovieLies {
  /** Ticks of a second by which the samples are timed (mdhd). */
  readonly mediaTicksPerS?: number;
  /** Lengths as the file, its track and its media state them, as a factor on what is true (mvhd, tkhd, mdhd). */
  readonly lengthTimes?: number;
  /** Every sample takes this many times as long (stts). */
  readonly sampleTimes?: number;
}

/** Overwrites a file of one video track. Every box named has to be there, in version 0. */
export async function lie(file: string, lies: MovieLies): Promise<void> {
  const bytes = await readFile(file);
  const boxes = boxesOf(bytes);
  const payloadOf = (kind: string): number => {
    const box = boxes.find((one) => one.kind === kind);
    if (!box || bytes[box.from] !== 0) throw new Error(`no ${kind} box of version 0`);
    return box.from;
  };
  const times = (at: number, factor: number): void => {
    bytes.writeUInt32BE(Math.round(bytes.readUInt32BE(at) * factor), at);
  };
  const { mediaTicksPerS, lengthTimes, sampleTimes } = lies;
  if (mediaTicksPerS !== undefined) bytes.writeUInt32BE(mediaTicksPerS, payloadOf('mdhd') + 12);
  if (lengthTimes !== undefined) {
    times(payloadOf('mvhd') + 16, lengthTimes);
    times(payloadOf('tkhd') + 20, lengthTimes);
    times(payloadOf('mdhd') + 16, lengthTimes);
  }
  if (sampleTimes !== undefined) {
    const table = payloadOf('stts');
    const entries = bytes.readUInt32BE(table + 4);
    for (let k = 0; k < entries; k++) times(table + 8 + 8 * k + 4, sampleTimes);
  }
  await writeFile(file, bytes);
}
