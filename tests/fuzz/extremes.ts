/** Clips that claim what no machine can hold: pictures, lengths, rates and counts beyond all measure, in files of some kilobytes. */
import { boxNamed, boxesOf, elementsOf } from './parts.js';

/** A claim. */
export interface Extreme {
  /** What the file claims, in words. */
  readonly name: string;
  /** Clip of the corpus that it is written into. */
  readonly from: string;
  readonly make: (bytes: Buffer) => Buffer;
  /** How it must end, where that does not depend on the version of FFmpeg; see Ending. */
  readonly ends?: string;
  /** What must be warned of, in one of these ways. */
  readonly warns?: readonly string[];
  /** Whether it is one of the short round. */
  readonly inShort?: boolean;
}

/** A 32-bit number of a full box, counted from the start of the box. */
function set32(type: string, ...changes: readonly (readonly [at: number, value: number])[]) {
  return (bytes: Buffer): Buffer => {
    const { at } = boxNamed(bytes, type);
    for (const [offset, value] of changes) bytes.writeUInt32BE(value >>> 0, at + offset);
    return bytes;
  };
}

/** The size of the picture in the first sample description. */
function sized(widthPx: number, heightPx: number) {
  return (bytes: Buffer): Buffer => {
    const { at } = boxNamed(bytes, 'stsd');
    bytes.writeUInt16BE(widthPx, at + 16 + 32);
    bytes.writeUInt16BE(heightPx, at + 16 + 34);
    return bytes;
  };
}

/** Puts bytes at the end of the first box of a type and makes it and the boxes around it larger. */
function appended(type: string, extra: Buffer) {
  return (bytes: Buffer): Buffer => {
    const { end, at: first } = boxNamed(bytes, type);
    const around = boxesOf(bytes).filter((box) => box.at <= first && box.end >= end);
    for (const { sizeAt } of around) bytes.writeUInt32BE(bytes.readUInt32BE(sizeAt) + extra.length, sizeAt);
    return Buffer.concat([bytes.subarray(0, end), extra, bytes.subarray(end)]);
  };
}

function pixelAspect(over: number, under: number) {
  const box = Buffer.alloc(16);
  box.writeUInt32BE(16, 0);
  box.write('pasp', 4, 'latin1');
  box.writeUInt32BE(over, 8);
  box.writeUInt32BE(under, 12);
  return (bytes: Buffer): Buffer => {
    const { at } = boxNamed(bytes, 'stsd');
    const entryEnd = at + 16 + bytes.readUInt32BE(at + 16);
    const present = bytes.indexOf('pasp', at, 'latin1');
    if (present > 0 && present < entryEnd) {
      box.copy(bytes, present - 4);
      return bytes;
    }
    bytes.writeUInt32BE(bytes.readUInt32BE(at + 16) + box.length, at + 16);
    return appended('stsd', box)(bytes);
  };
}

/** Numbers of the display matrix, rows of three; the third column counts in 2.30. */
function turned(degrees: number) {
  const angle = (degrees * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)].map((value) => Math.round(value * 65536));
  return set32('tkhd', [48, c], [52, s], [60, -s], [64, c]);
}

/** A number of an element of Matroska, in its own length. */
function setElement(type: string, value: number) {
  return (bytes: Buffer): Buffer => {
    const part = elementsOf(bytes).find((one) => one.type === type);
    if (!part) throw new Error(`the clip holds no element ${type}`);
    const length = part.end - part.payloadAt;
    if (type !== '4489')
      for (let i = 0; i < length; i++) bytes[part.end - 1 - i] = Math.floor(value / 256 ** i) % 256;
    else if (length === 8) bytes.writeDoubleBE(value, part.payloadAt);
    else bytes.writeFloatBE(value, part.payloadAt);
    return bytes;
  };
}

/** Another number in the text of the head of the file. */
function reheaded(from: RegExp, to: string) {
  return (bytes: Buffer): Buffer => {
    const head = bytes.toString('latin1', 0, 200);
    return Buffer.concat([Buffer.from(head.replace(from, to), 'latin1'), bytes.subarray(200)]);
  };
}

/** Offsets count from the start of the box: 8 bytes of header, 4 of version and flags. */
export const EXTREMES: readonly Extreme[] = [
  {
    name: 'a picture of 30000 x 30000 px',
    ends: 'clip-unsupported',
    inShort: true,
    from: 'mov-qtrle-alpha',
    make: sized(30_000, 30_000),
  },
  {
    name: 'a picture of 16384 x 16384 px',
    ends: 'clip-unsupported',
    from: 'mov-qtrle-alpha',
    make: sized(16_384, 16_384),
  },
  {
    name: 'a picture of 65535 x 1 px',
    ends: 'clip-unsupported',
    from: 'mov-qtrle-alpha',
    make: sized(65_535, 1),
  },
  {
    name: 'a picture of 2 x 65535 px',
    ends: 'clip-unsupported',
    from: 'mov-qtrle-alpha',
    make: sized(2, 65_535),
  },
  { name: 'a picture of 16384 x 8000 px', from: 'mov-prores-timecode', make: sized(16_384, 8000) },
  {
    name: 'a canvas of 65535 x 65535 px',
    ends: 'clip-unsupported',
    inShort: true,
    from: 'gif',
    make: (bytes) => bytes.fill(0xff, 6, 10),
  },
  {
    name: 'frames of 20000 x 20000 px',
    ends: 'clip-unsupported',
    inShort: true,
    from: 'y4m',
    make: reheaded(/W96 H64/, 'W20000 H20000'),
  },
  {
    name: 'frames of 100000 x 16 px',
    ends: 'clip-unsupported',
    from: 'y4m',
    make: reheaded(/W96 H64/, 'W100000 H16'),
  },
  {
    name: 'frames of 16384 x 16384 px in JPEG',
    ends: 'clip-unsupported',
    inShort: true,
    from: 'avi-mjpeg',
    make(bytes) {
      // Start of frame: length, depth, height, width.
      for (let at = bytes.indexOf('ffc0', 0, 'hex'); at >= 0; at = bytes.indexOf('ffc0', at + 2, 'hex'))
        if (bytes.readUInt16BE(at + 5) === 64) bytes.writeUInt32BE(0x40004000, at + 5);
      return bytes;
    },
  },
  {
    name: 'two thousand million frames of one length',
    from: 'mp4-h264',
    make: set32('stts', [12, 1], [16, 0x7fffffff]),
  },
  {
    name: 'a million frames that each take no time',
    inShort: true,
    from: 'mp4-h264',
    make: set32('stts', [12, 1], [16, 1e6], [20, 0]),
  },
  {
    name: 'frames that each take a month',
    ends: 'clip-unsupported',
    inShort: true,
    from: 'mp4-h264',
    make: set32('stts', [20, 0x7fffffff]),
  },
  {
    name: 'frames of equal size without end',
    inShort: true,
    from: 'mp4-h264',
    make: set32('stsz', [12, 1], [16, 0x7fffffff]),
  },
  {
    name: 'fifty million frames of one byte',
    inShort: true,
    from: 'mp4-h264',
    make: set32('stsz', [12, 1], [16, 5e7]),
  },
  {
    name: 'ticks of no length',
    ends: 'clip-unsupported',
    inShort: true,
    from: 'mp4-h264',
    make: set32('mdhd', [20, 0]),
  },
  {
    name: 'a million frames a second',
    ends: 'unmeasurable',
    from: 'mp4-h264',
    make: set32('mdhd', [20, 0x7fffffff]),
  },
  {
    name: 'a frame in a quarter of an hour',
    ends: 'clip-unsupported',
    from: 'mp4-h264',
    make: set32('mdhd', [20, 1]),
  },
  { name: 'a length of a hundred years', from: 'mp4-h264', make: set32('mdhd', [24, 0xfffffff0]) },
  {
    name: 'a start in a hundred years',
    inShort: true,
    from: 'mp4-h264',
    make: set32('elst', [16, 0x7fffffff], [20, 0x7fffffff]),
  },
  { name: 'a start before the beginning', from: 'mp4-h264-b', make: set32('ctts', [20, 0x80000000]) },
  { name: 'times of showing far apart', from: 'mp4-h264-b', make: set32('ctts', [20, 0x7fffffff]) },
  {
    name: 'one frame a year late',
    // FFmpeg may take the stamp for what it is, or put the frame where it was decoded.
    warns: ['time-stamps-jump', 'time-stamps-repeat'],
    from: 'mp4-h264-b',
    make: set32('ctts', [28, 0x1fffffff]),
  },
  { name: 'pixels 100000 times as high as wide', from: 'mp4-h264', make: pixelAspect(1, 100_000) },
  {
    name: 'pixels 100000 times as wide as high',
    ends: 'clip-unsupported',
    inShort: true,
    from: 'mp4-h264',
    make: pixelAspect(100_000, 1),
  },
  {
    name: 'pixels 30 times as high as wide',
    ends: 'clip-unsupported',
    inShort: true,
    from: 'mp4-h264',
    make: pixelAspect(1, 30),
  },
  { name: 'pixels of no width', from: 'mp4-h264', make: pixelAspect(0, 1) },
  {
    name: 'a turn of 37 degrees',
    ends: 'unmeasurable',
    warns: ['turn-oblique'],
    inShort: true,
    from: 'mp4-h264',
    make: turned(37),
  },
  {
    name: 'a turn by a matrix of zeros',
    from: 'mp4-h264',
    make: set32('tkhd', [48, 0], [52, 0], [60, 0], [64, 0]),
  },
  { name: 'a million frames a second in AVI', from: 'avi-mpeg4', make: setRate(1, 1_000_000) },
  {
    name: 'a frame each thousand seconds in AVI',
    ends: 'clip-unsupported',
    inShort: true,
    from: 'avi-mpeg4',
    make: setRate(1000, 1),
  },
  { name: 'no rate in AVI', from: 'avi-mpeg4', make: setRate(0, 0) },
  { name: 'a million frames a second in text', from: 'y4m', make: reheaded(/F10:1/, 'F1000000:1') },
  {
    name: 'a frame each thousand seconds in text',
    ends: 'clip-unsupported',
    from: 'y4m',
    make: reheaded(/F10:1/, 'F1:1000'),
  },
  { name: 'no rate in text', from: 'y4m', make: reheaded(/F10:1/, 'F0:0') },
  {
    name: 'ticks of an hour in Matroska',
    ends: 'clip-unsupported',
    from: 'mkv-h264',
    make: setElement('2ad7b1', 0xffffff),
  },
  { name: 'no ticks in Matroska', from: 'mkv-h264', make: setElement('2ad7b1', 0) },
  { name: 'a length without end in Matroska', from: 'mkv-h264', make: setElement('4489', Infinity) },
  { name: 'a length that is no number in Matroska', from: 'mkv-h264', make: setElement('4489', NaN) },
  { name: 'a last cluster that begins years later', from: 'webm-vp8', make: setLast('e7', 0xff) },
];

/** Scale and rate of the first stream of an AVI, and the time of a frame. */
function setRate(scale: number, rate: number) {
  return (bytes: Buffer): Buffer => {
    const strh = bytes.indexOf('strhF', 0, 'latin1');
    const at = strh >= 0 ? strh : bytes.indexOf('strh', 0, 'latin1');
    bytes.writeUInt32LE(scale, at + 28);
    bytes.writeUInt32LE(rate, at + 32);
    return bytes;
  };
}

function setLast(type: string, value: number) {
  return (bytes: Buffer): Buffer => {
    const part = elementsOf(bytes)
      .filter((one) => one.type === type)
      .at(-1);
    if (!part) throw new Error(`the clip holds no element ${type}`);
    return bytes.fill(value, part.payloadAt, part.end);
  };
}
