/**
 * What a file is by its first bytes, whatever its name says: a clip in one of the containers that clips come in, or something that people
 * take for one by mistake. Signatures as their formats publish them.
 */
import { isTransportStream } from '../../footage/index.js';

/** What was found. A clip may still turn out to hold sound only. */
export type FileKind = { readonly isClip: true } | { readonly isClip: false; readonly is: OtherKind };

/** What a file may be that is no clip. */
export type OtherKind = keyof typeof OTHERS | 'webPage' | 'text' | 'unknown';

/** So many bytes of a file are looked at. */
export const SNIFFED_BYTES = 4096;

/** At an offset, bytes as Latin-1 text. */
type Signature = readonly [offset: number, bytes: string];

/** Containers and bare streams of moving pictures. */
const CLIPS: readonly Signature[] = [
  [0, '\x1a\x45\xdf\xa3'], // EBML (RFC 8794): Matroska, WebM
  [8, 'AVI '], // RIFF
  [0, '\x30\x26\xb2\x75\x8e\x66\xcf\x11\xa6\xd9\x00\xaa\x00\x62\xce\x6c'], // ASF header object
  [0, 'OggS'], // RFC 3533
  [0, 'FLV\x01'],
  [0, '\x00\x00\x01\xba'], // MPEG programme stream pack (ISO/IEC 13818-1)
  [0, '\x00\x00\x01\xb3'], // MPEG video sequence (ISO/IEC 13818-2)
  [0, '\x00\x00\x01\xb0'], // MPEG-4 visual object sequence (ISO/IEC 14496-2)
  [0, '\x00\x00\x00\x01\x09'], // H.264 access unit, parameter sets (ITU-T H.264, annex B)
  [0, '\x00\x00\x00\x01\x67'],
  [0, '\x00\x00\x00\x01\x27'],
  [0, '\x00\x00\x00\x01\x40'], // H.265 parameter sets, access unit (ITU-T H.265, annex B)
  [0, '\x00\x00\x00\x01\x46'],
  [0, '\x00\x00\x00\x00\x01\xbc'], // GXF (SMPTE 360M)
  [0, '\x1f\x07\x00'], // DV (IEC 61834)
  [0, 'YUV4MPEG2 '],
  [0, 'DKIF'], // IVF
  [0, 'nut/multimedia'],
];

/** Partition pack of MXF (SMPTE ST 377-1); a run-in may stand before it. */
const MXF = '\x06\x0e\x2b\x34\x02\x05\x01\x01\x0d\x01\x02\x01\x01';

/** Boxes that a file of ISO/IEC 14496-12 or QuickTime may begin with. */
const BOXES = /^(ftyp|moov|mdat|wide|free|skip|pnot|styp|moof|sidx|uuid)$/;
/** Brands of such files that are pictures (ISO/IEC 23008-12 and its kin, raw pictures of cameras). */
const PICTURE_BRANDS = /^(mif1|msf1|heic|heix|heim|heis|hevc|hevx|avif|avis|avci|jpeg|crx |miaf)$/;

/** What else it may be. */
const OTHERS = {
  picture: [
    [0, '\x89PNG\r\n\x1a\n'],
    [0, '\xff\xd8\xff'], // JPEG
    [0, 'GIF8'],
    [0, 'BM'],
    [0, 'II*\x00'], // TIFF 6.0, raw pictures among them
    [0, 'MM\x00*'],
    [0, 'II+\x00'],
    [0, 'MM\x00+'],
    [8, 'WEBP'], // RIFF
    [0, '8BPS'],
    [0, 'SDPX'], // DPX (SMPTE ST 268)
    [0, 'XPDS'],
    [0, '\x80\x2a\x5f\xd7'], // Cineon
    [0, '\x76\x2f\x31\x01'], // OpenEXR
    [0, '\x00\x00\x00\x0cjP  '], // JPEG 2000
    [0, '\xff\x4f\xff\x51'],
    [0, '\x00\x00\x00\x0cJXL '],
    [0, '\xff\x0a'],
    [0, '\x00\x00\x01\x00'], // ICO
    [0, '#?RADIANCE'],
    [0, 'qoif'],
    [0, 'P4\n'], // Netpbm
    [0, 'P5\n'],
    [0, 'P6\n'],
  ],
  pdf: [[0, '%PDF-']],
  archive: [
    [0, 'PK\x03\x04'],
    [0, 'PK\x05\x06'],
    [0, '7z\xbc\xaf\x27\x1c'],
    [0, 'Rar!\x1a\x07'],
    [0, '\x1f\x8b\x08'], // gzip (RFC 1952)
    [0, '\xfd7zXZ\x00'],
    [0, 'BZh'],
    [0, '\x28\xb5\x2f\xfd'], // zstd (RFC 8878)
    [257, 'ustar'],
  ],
  sound: [
    [8, 'WAVE'], // RIFF
    [8, 'AIFF'],
    [8, 'AIFC'],
    [0, 'fLaC'],
    [0, 'ID3'],
    [0, '\xff\xfb'],
    [0, '\xff\xf3'],
    [0, '\xff\xf1'],
    [0, 'caff'],
  ],
  document: [[0, '\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1']],
  program: [
    [0, 'MZ'],
    [0, '\x7fELF'],
    [0, '\xcf\xfa\xed\xfe'],
    [0, '\xca\xfe\xba\xbe'],
  ],
} as const satisfies Record<string, readonly Signature[]>;

/** @param first the first bytes of the file, `SNIFFED_BYTES` of them if it has so many */
export function fileKind(first: Uint8Array): FileKind {
  const bytes = Buffer.from(first.buffer, first.byteOffset, first.length).toString('latin1');
  const begins = ([offset, signature]: Signature) => bytes.startsWith(signature, offset);
  // Some signatures are two letters that begin many a text.
  if (isText(first)) return CLIPS.some(begins) ? { isClip: true } : { isClip: false, is: textKind(bytes) };
  if (isMovie(bytes))
    return PICTURE_BRANDS.test(brandOf(bytes)) ? { isClip: false, is: 'picture' } : { isClip: true };
  if (CLIPS.some(begins) || bytes.includes(MXF) || isTransportStream(first)) return { isClip: true };
  const other = Object.entries(OTHERS).find(([, signatures]) => signatures.some(begins));
  return { isClip: false, is: other ? (other[0] as keyof typeof OTHERS) : 'unknown' };
}

function isMovie(bytes: string): boolean {
  return BOXES.test(bytes.slice(4, 8));
}

function brandOf(bytes: string): string {
  return bytes.slice(4, 8) === 'ftyp' ? bytes.slice(8, 12) : '';
}

/** Whether these are words: UTF-8 or UTF-16 with its mark, without the control characters that no text holds. */
function isText(bytes: Uint8Array): boolean {
  if (bytes.length === 0) return false;
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff))
    return bytes.length % 2 === 0 || bytes.length >= SNIFFED_BYTES;
  try {
    // The last character may be cut in two.
    const words = new TextDecoder('utf-8', { fatal: true }).decode(bytes, { stream: true });
    return !/[\x00-\x08\x0e-\x1a\x1c-\x1f\x7f]/.test(words);
  } catch {
    return false;
  }
}

function textKind(bytes: string): 'webPage' | 'pdf' | 'text' {
  const words = bytes.replace(/^\xef\xbb\xbf/, '').trimStart();
  if (words.startsWith('%PDF-')) return 'pdf';
  return /^<(!doctype html|html|head|body)\b/i.test(words) ? 'webPage' : 'text';
}
