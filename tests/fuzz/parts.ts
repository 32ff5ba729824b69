/** Finds the parts of a clip file that a mutator can aim at: boxes of MP4 and MOV, elements of Matroska, chunks of AVI. */

/** A part of a file that states its own size. */
export interface Part {
  /** Four letters, or the number of an EBML element in hexadecimal. */
  readonly type: string;
  /** First byte of its header. */
  readonly at: number;
  readonly typeAt: number;
  readonly typeBytes: number;
  readonly sizeAt: number;
  readonly sizeBytes: number;
  readonly payloadAt: number;
  /** First byte after it, held within its parent. */
  readonly end: number;
  /** Whether its payload is again made of parts. */
  readonly isFolder: boolean;
}

/** More parts than this are not needed to aim at. */
const MOST_PARTS = 4000;

const BOX_FOLDERS = new Set([
  ...['moov', 'trak', 'mdia', 'minf', 'stbl', 'edts', 'dinf', 'udta', 'mvex', 'moof', 'traf', 'mfra'],
]);

/** Boxes of ISO/IEC 14496-12 section 4.2, folders before what they hold. */
export function boxesOf(bytes: Buffer, from = 0, to = bytes.length, found: Part[] = []): Part[] {
  for (let at = from; at + 8 <= to && found.length < MOST_PARTS;) {
    const stated = bytes.readUInt32BE(at);
    const isLong = stated === 1 && at + 16 <= to;
    const size = isLong ? Number(bytes.readBigUInt64BE(at + 8)) : stated === 0 ? to - at : stated;
    const type = bytes.toString('latin1', at + 4, at + 8);
    const payloadAt = at + (isLong ? 16 : 8);
    const end = Math.min(to, at + size);
    if (end < payloadAt) break;
    const isFolder = BOX_FOLDERS.has(type);
    const header = { typeAt: at + 4, typeBytes: 4, sizeAt: isLong ? at + 8 : at, sizeBytes: isLong ? 8 : 4 };
    found.push({ type, at, ...header, payloadAt, end, isFolder });
    if (isFolder) boxesOf(bytes, payloadAt, end, found);
    at = end;
  }
  return found;
}

/** Segment, SeekHead, Seek, Info, Tracks, TrackEntry, Video, Audio, Cluster, BlockGroup, Cues, CuePoint, Tags and their like. */
const EBML_FOLDERS = new Set([
  ...['18538067', '114d9b74', '4dbb', '1549a966', '1654ae6b', 'ae', 'e0', 'e1', '1f43b675', 'a0'],
  ...['1c53bb6b', 'bb', 'b7', '1254c367', '7373', '67c8', '1a45dfa3', '55b0'],
]);

/** Elements of Matroska (RFC 8794 for the layout), folders before what they hold. */
export function elementsOf(bytes: Buffer, from = 0, to = bytes.length, found: Part[] = []): Part[] {
  for (let at = from; at + 2 <= to && found.length < MOST_PARTS;) {
    const typeBytes = Math.clz32(bytes[at]) - 23;
    const sizeAt = at + typeBytes;
    const sizeBytes = sizeAt < to ? Math.clz32(bytes[sizeAt]) - 23 : 9;
    const payloadAt = sizeAt + sizeBytes;
    if (typeBytes > 4 || sizeBytes > 8 || payloadAt > to) break;
    const type = bytes.toString('hex', at, sizeAt);
    let size = bytes[sizeAt] & (0xff >> sizeBytes);
    for (let i = 1; i < sizeBytes; i++) size = size * 256 + bytes[sizeAt + i];
    const end = Math.min(to, payloadAt + size);
    const isFolder = EBML_FOLDERS.has(type);
    found.push({ type, at, typeAt: at, typeBytes, sizeAt, sizeBytes, payloadAt, end, isFolder });
    if (isFolder) elementsOf(bytes, payloadAt, end, found);
    at = end;
  }
  return found;
}

/** Chunks of RIFF, lists before what they hold; sizes are little-endian. */
export function chunksOf(bytes: Buffer, from = 0, to = bytes.length, found: Part[] = []): Part[] {
  for (let at = from; at + 8 <= to && found.length < MOST_PARTS;) {
    const type = bytes.toString('latin1', at, at + 4);
    const end = Math.min(to, at + 8 + bytes.readUInt32LE(at + 4));
    const isFolder = (type === 'RIFF' || type === 'LIST') && at + 12 <= end;
    const payloadAt = at + (isFolder ? 12 : 8);
    const header = { typeAt: at, typeBytes: 4, sizeAt: at + 4, sizeBytes: 4 };
    found.push({ type, at, ...header, payloadAt, end, isFolder });
    if (isFolder) chunksOf(bytes, payloadAt, end, found);
    // Chunks begin on even bytes.
    at = end + (end & 1);
  }
  return found;
}

/** The one box of a type. @throws Error when there is none */
export function boxNamed(bytes: Buffer, type: string): Part {
  const found = boxesOf(bytes).find((part) => part.type === type);
  if (!found) throw new Error(`the clip holds no box "${type}"`);
  return found;
}
