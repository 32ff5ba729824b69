/** Files that look like clips and name something else: another file of the disk, or an address of the network. */
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { makeClip, testSource } from '../../footage/made-clips.js';

/** What a lure names. */
export interface Bait {
  /** Folder that all files lie in. */
  readonly folder: string;
  /** A real clip that nobody asked for; its name has twelve characters. */
  readonly hidden: string;
  /** Port of this machine that somebody listens on. */
  readonly port: number;
}

/** One kind of lure. */
export interface Lure {
  /** What it is, in plain words. */
  readonly kind: string;
  /** Its own ending; every lure is also tried as .mp4. */
  readonly ending: string;
  readonly content: (bait: Bait) => string | Buffer | Promise<Buffer>;
}

/** A text in which "HIDDEN" stands for the file, "WEB" for an address. */
function text(kind: string, ending: string, words: string): Lure {
  const content = ({ hidden, port }: Bait): string =>
    words.replaceAll('HIDDEN', hidden).replaceAll('WEB', `http://127.0.0.1:${port}/a.ts`);
  return { kind, ending, content };
}

const hls = (...lines: readonly string[]): string =>
  `#EXTM3U\n#EXT-X-VERSION:7\n#EXT-X-TARGETDURATION:2\n${lines.join('\n')}\n#EXT-X-ENDLIST\n`;
const dash = (address: string): string =>
  `<?xml version="1.0"?><MPD xmlns="urn:mpeg:dash:schema:mpd:2011" type="static" mediaPresentationDuration="PT1S" profiles="urn:mpeg:dash:profile:isoff-on-demand:2011"><Period><AdaptationSet mimeType="video/mp4"><Representation id="a" bandwidth="9000" codecs="mp4v.20.9"><BaseURL>${address}</BaseURL><SegmentBase/></Representation></AdaptationSet></Period></MPD>\n`;

/** Every kind. */
export const LURES: readonly Lure[] = [
  text('a playlist that names an address', 'm3u8', hls('#EXTINF:2,', 'WEB')),
  text('a playlist that names a file', 'm3u8', hls('#EXTINF:2,', 'HIDDEN')),
  text(
    'a playlist whose key is a file and whose head an address',
    'm3u8',
    hls('#EXT-X-KEY:METHOD=AES-128,URI="HIDDEN"', '#EXT-X-MAP:URI="WEB"', '#EXTINF:2,', 'HIDDEN'),
  ),
  text(
    'a playlist of joined and cut files',
    'm3u8',
    hls('#EXTINF:2,', 'concat:HIDDEN|WEB', '#EXTINF:2,', 'subfile,,start,0,end,900,,:HIDDEN'),
  ),
  text('a playlist of playlists', 'm3u8', '#EXTM3U\n#EXT-X-STREAM-INF:BANDWIDTH=9000\nWEB\n'),
  text('a script that joins files', 'ffconcat', "ffconcat version 1.0\nfile 'HIDDEN'\nfile 'WEB'\n"),
  text(
    'a description of streams',
    'sdp',
    'v=0\no=- 0 0 IN IP4 127.0.0.1\ns=a\nc=IN IP4 127.0.0.1\nt=0 0\nm=video 5004 RTP/AVP 96\na=rtpmap:96 H264/90000\n',
  ),
  text('a manifest that names an address', 'mpd', dash('WEB')),
  text('a manifest that names a file', 'mpd', dash('HIDDEN')),
  text(
    'a list of a player',
    'xspf',
    '<?xml version="1.0"?><playlist version="1" xmlns="http://xspf.org/ns/0/"><trackList><track><location>WEB</location></track></trackList></playlist>\n',
  ),
  text('a redirection', 'asx', '<asx version="3.0"><entry><ref href="WEB"/></entry></asx>\n'),
  text('a redirection of the old kind', 'asf', '[Reference]\r\nRef1=WEB\r\nRef2=HIDDEN\r\n'),
  text(
    'an index of subtitles',
    'idx',
    '# VobSub index file, v7 (do not modify this line!)\nsize: 64x48\nid: en, index: 0\ntimestamp: 00:00:00:000, filepos: 000000000\n',
  ),
  text(
    'a drawing that names pictures',
    'svg',
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="64" height="48"><image xlink:href="WEB" width="64" height="48"/><image xlink:href="file://HIDDEN" width="64" height="48"/></svg>\n',
  ),
  {
    kind: 'a movie that refers to an address',
    ending: 'mov',
    content: ({ port }) => {
      const address = Buffer.from(`http://127.0.0.1:${port}/a.mov\0`);
      const reference = box(
        'rdrf',
        Buffer.concat([Buffer.from('\0\0\0\0url '), uint32(address.length), address]),
      );
      return Buffer.concat([
        box('ftyp', Buffer.from('qt  \0\0\0\0qt  ')),
        box('moov', box('rmra', box('rmda', reference))),
      ]);
    },
  },
  { kind: 'a movie whose pictures lie in another file', ending: 'mov', content: movieOfAnother },
  { kind: 'a clip that is to be followed by another file', ending: 'mkv', content: linkedClip },
];

const uint32 = (value: number): Buffer => {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32BE(value);
  return bytes;
};
const box = (type: string, content: Buffer): Buffer =>
  Buffer.concat([uint32(8 + content.length), Buffer.from(type, 'latin1'), content]);

/** A QuickTime file whose data reference is an alias with the whole path of `hidden` (QuickTime File Format, data reference atoms). */
async function movieOfAnother({ folder, hidden }: Bait): Promise<Buffer> {
  const file = path.join(folder, 'plain.mov');
  await makeClip(file, ...testSource(64, 48, '10', 0.5), '-c:v', 'mpeg4', '-fflags', '+bitexact');
  const movie = readFileSync(file);
  const at = movie.indexOf('dref', 0, 'latin1') - 4;
  const was = movie.readUInt32BE(at);
  const wholePath = Buffer.from(hidden.replaceAll('/', ':'));
  const padded = Buffer.concat([wholePath, Buffer.alloc(wholePath.length % 2)]);
  const head = Buffer.alloc(150);
  head.write(path.basename(hidden), 51, 'latin1');
  head[50] = path.basename(hidden).length;
  head.writeUInt16BE(1, 130);
  head.writeUInt16BE(1, 132);
  const entry = Buffer.concat([
    Buffer.from([0, 2, 0, wholePath.length]),
    padded,
    Buffer.from([255, 255, 0, 0]),
  ]);
  const alias = box('alis', Buffer.concat([Buffer.alloc(4), head, entry]));
  const made = box('dref', Buffer.concat([uint32(0), uint32(1), alias]));
  // The boxes around it grow; samples lie before the index, so their places stay.
  for (const type of ['moov', 'trak', 'mdia', 'minf', 'dinf']) {
    const around = movie.indexOf(type, 0, 'latin1') - 4;
    movie.writeUInt32BE(movie.readUInt32BE(around) + made.length - was, around);
  }
  return Buffer.concat([movie.subarray(0, at), made, movie.subarray(at + was)]);
}

/** A Matroska file whose name of the writing library has become the name of the next file (RFC 9559, NextFilename). */
async function linkedClip({ folder, hidden }: Bait): Promise<Buffer> {
  const file = path.join(folder, 'plain.mkv');
  await makeClip(file, ...testSource(64, 48, '10', 0.5), '-c:v', 'mpeg4');
  const clip = readFileSync(file);
  const at = clip.indexOf(Buffer.from([0x4d, 0x80]), clip.indexOf(Buffer.from([0x15, 0x49, 0xa9, 0x66])));
  const length = clip[at + 2] - 0x80;
  const name = path
    .basename(hidden)
    .slice(0, length - 1)
    .padEnd(length - 1, '\0');
  Buffer.concat([Buffer.from([0x3e, 0x83, 0xbb, 0x80 + length - 1]), Buffer.from(name)]).copy(clip, at);
  return clip;
}

/** Writes a lure. @returns its path */
export async function writeLure(bait: Bait, lure: Lure, name: string): Promise<string> {
  const file = path.join(bait.folder, name);
  writeFileSync(file, await lure.content(bait));
  return file;
}
