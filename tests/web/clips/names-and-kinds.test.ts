import { describe, expect, it } from 'vitest';
import { mayBeClip } from '../../../src/footage/index.js';
import { shownName, storedName } from '../../../src/web/clips/clip-names.js';
import { fileKind } from '../../../src/web/clips/file-kind.js';

describe('the name of a clip', () => {
  it.each([
    ['A001_C003.mov', 'A001_C003.mov', 'A001_C003.mov'],
    ['C:\\cards\\day 2\\take.MXF', 'take.MXF', 'take.MXF'],
    ['../../etc/passwd', 'passwd', 'passwd'],
    ['-y.mp4', '-y.mp4', 'y.mp4'],
    ['.mp4', '.mp4', 'mp4'],
    ['con.mp4', 'con.mp4', 'clip-con.mp4'],
    ['a\0b\u202egnp.mp4', 'abgnp.mp4', 'abgnp.mp4'],
    ['$(rm -rf ~);"x".mp4', '$(rm -rf ~);"x".mp4', 'rm_-rf_x.mp4'],
    ['大広間 一.mp4', '大広間 一.mp4', '大広間_一.mp4'],
    ['', 'clip', 'clip'],
    ['///', 'clip', 'clip'],
  ])('%j is shown as %j and stored as %j', (given, shown, stored) => {
    expect(shownName(given)).toBe(shown);
    expect(storedName(given)).toBe(stored);
  });

  it('is cut to 200 characters and to what a file system takes, its ending kept', () => {
    const long = `${'広'.repeat(400)}.mp4`;
    expect([...shownName(long)]).toHaveLength(200);
    expect(shownName(long)).toMatch(/\.mp4$/);
    expect(Buffer.byteLength(storedName(long))).toBeLessThanOrEqual(128);
    expect(storedName(long)).toMatch(/広\.mp4$/);
  });

  it('tells whether it may be one', () => {
    expect(['a.mp4', 'a.MXF', 'a.b.mov', 'a.m2ts'].every(mayBeClip)).toBe(true);
    expect(['a.jpg', 'mp4', 'a.mp4.txt', '.mp4', 'a.rig.json'].some(mayBeClip)).toBe(false);
  });
});

const FILL = Buffer.alloc(4096, 0x81);
const starting = (head: string, offset = 0) => {
  const bytes = Buffer.from(FILL);
  bytes.write(head, offset, 'latin1');
  return bytes;
};
const packets = (length: number, first: number) => {
  const bytes = Buffer.from(FILL);
  for (let at = first; at < bytes.length; at += length) bytes[at] = 0x47;
  return bytes;
};

describe('the first bytes of a file', () => {
  it.each<[string, Uint8Array]>([
    ['MP4', starting('\0\0\0\x20ftypisom')],
    ['QuickTime', starting('\0\0\0\x14ftypqt  ')],
    ['QuickTime without a brand', starting('\0\0\0\x08wide\0\x12\x34\x56mdat')],
    ['Matroska', starting('\x1a\x45\xdf\xa3')],
    ['AVI', starting('RIFF\x10\x20\x30\x40AVI LIST')],
    ['MXF behind a run-in', starting('\x06\x0e\x2b\x34\x02\x05\x01\x01\x0d\x01\x02\x01\x01\x02', 700)],
    ['transport stream', packets(188, 0)],
    ['transport stream of a disc', packets(192, 4)],
    ['transport stream that begins within a packet', packets(188, 131)],
    ['programme stream', starting('\0\0\x01\xba')],
    ['ASF', starting('\x30\x26\xb2\x75\x8e\x66\xcf\x11\xa6\xd9\x00\xaa\x00\x62\xce\x6c')],
    ['Ogg', starting('OggS')],
    ['YUV4MPEG2, which begins as a text', Buffer.from('YUV4MPEG2 W64 H36 F25:1\nFRAME\n')],
  ])('of %s are those of a clip', (_, bytes) => {
    expect(fileKind(bytes)).toEqual({ isClip: true });
  });

  it.each<[string, Uint8Array]>([
    ['text', Buffer.from('The free hall, BM of the floor and MZ of the wall')],
    ['text', Buffer.from('\ufeffÜbergänge und Fugen', 'utf8')],
    ['text', Buffer.from('\ufeffnotes', 'utf16le')],
    ['text', Buffer.from('#EXTM3U\nhttp://127.0.0.1/a.ts\n')],
    ['webPage', Buffer.from('\n <html lang="en">')],
    ['sound', starting('RIFF\x10\x20\x30\x40WAVEfmt ')],
    ['archive', starting('ustar', 257)],
    ['unknown', FILL],
    ['unknown', new Uint8Array()],
  ])('of other files are %s', (is, bytes) => {
    expect(fileKind(bytes)).toEqual({ isClip: false, is });
  });
});
