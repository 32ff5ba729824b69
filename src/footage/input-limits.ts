/**
 * What FFmpeg may do with a file of others: read that one file, as one of the containers and codecs that cameras, phones and
 * editors write, and open nothing else, on the disk or over a network.
 */
import { MOST_PIXELS } from './picture-limits.js';

/**
 * Containers of moving pictures by FFmpeg's names, and a few of sound and single pictures, which are refused later with a better
 * sentence. None of them leads to a second file: playlists, scripts, descriptions of streams and numbered pictures do.
 */
const CONTAINERS = [
  ...[
    'mov',
    'matroska',
    'avi',
    'mpegts',
    'mpeg',
    'mxf',
    'asf',
    'asf_o',
    'ogg',
    'rm',
    'flv',
    'live_flv',
    'kux',
    'dv',
  ],
  ...[
    'gxf',
    'lxf',
    'nut',
    'wtv',
    'dhav',
    'r3d',
    'cine',
    'mlv',
    'nsv',
    'ty',
    'pva',
    'ifv',
    'ivf',
    'obu',
    'av1',
    'gif',
    'apng',
  ],
  ...[
    'h261',
    'h263',
    'h264',
    'hevc',
    'vvc',
    'evc',
    'apv',
    'm4v',
    'mpegvideo',
    'vc1',
    'vc1test',
    'dirac',
    'dnxhd',
    'cavsvideo',
  ],
  ...['avs2', 'avs3', 'mjpeg', 'mjpeg_2000', 'mpjpeg', 'smjpeg', 'yuv4mpegpipe'],
  ...['wav', 'w64', 'aiff', 'caf', 'mp3', 'aac', 'ac3', 'eac3', 'flac'],
  ...[
    'jpeg_pipe',
    'png_pipe',
    'tiff_pipe',
    'dpx_pipe',
    'exr_pipe',
    'bmp_pipe',
    'webp_pipe',
    'j2k_pipe',
    'jpegxl_pipe',
  ],
];

/** Decoders of pictures, by FFmpeg's names. */
const PICTURE_DECODERS = [
  ...['h264', 'hevc', 'vvc', 'evc', 'apv', 'libdav1d', 'libaom-av1', 'av1', 'mpeg1video'],
  ...['mpeg2video', 'mpegvideo', 'mpeg4', 'msmpeg4v1', 'msmpeg4v2', 'msmpeg4', 'h261', 'h263', 'h263p'],
  ...['h263i', 'flv', 'vp3', 'vp4', 'vp5', 'vp6', 'vp6a', 'vp6f', 'vp7'],
  ...['vp8', 'libvpx', 'vp9', 'libvpx-vp9', 'theora', 'wmv1', 'wmv2', 'wmv3', 'vc1'],
  ...['rv10', 'rv20', 'rv30', 'rv40', 'svq1', 'svq3', 'cinepak', 'prores', 'prores_raw'],
  ...['dnxhd', 'cfhd', 'aic', 'mjpeg', 'mjpegb', 'sp5x', 'jpeg2000', 'libopenjpeg', 'jpegls'],
  ...['libjxl', 'ffv1', 'ffvhuff', 'huffyuv', 'hymt', 'utvideo', 'magicyuv', 'lagarith', 'rawvideo'],
  ...['v210', 'v210x', 'v308', 'v408', 'v410', 'r210', 'r10k', 'avrp', 'avui'],
  ...['ayuv', 'yuv4', 'y41p', '012v', 'bitpacked', 'qtrle', 'rpza', 'smc', 'png'],
  ...['apng', 'tiff', 'dpx', 'exr', 'bmp', 'targa', 'webp', 'gif', 'hap'],
  ...['dxv', 'notchlc', 'hq_hqa', 'hqx', 'cllc', 'speedhq', 'sheervideo', 'pixlet', 'media100'],
  ...['dvvideo', 'dirac', 'cavs', 'libdavs2', 'libuavs3d', 'snow', 'asv1', 'asv2', 'vble'],
];

/** Decoders of sound. */
const SOUND_DECODERS = [
  ...[
    'pcm_alaw',
    'pcm_bluray',
    'pcm_dvd',
    'pcm_f16le',
    'pcm_f24le',
    'pcm_f32be',
    'pcm_f32le',
    'pcm_f64be',
    'pcm_f64le',
  ],
  ...[
    'pcm_mulaw',
    'pcm_s8',
    'pcm_s8_planar',
    'pcm_s16be',
    'pcm_s16be_planar',
    'pcm_s16le',
    'pcm_s16le_planar',
    'pcm_s24be',
  ],
  ...[
    'pcm_s24daud',
    'pcm_s24le',
    'pcm_s24le_planar',
    'pcm_s32be',
    'pcm_s32le',
    'pcm_s32le_planar',
    'pcm_s64be',
    'pcm_s64le',
  ],
  ...[
    'pcm_u8',
    'pcm_u16be',
    'pcm_u16le',
    'pcm_u24be',
    'pcm_u24le',
    'pcm_u32be',
    'pcm_u32le',
    'pcm_lxf',
    's302m',
    'dvaudio',
  ],
  ...[
    'aac',
    'aac_fixed',
    'aac_latm',
    'libfdk_aac',
    'mp1',
    'mp1float',
    'mp2',
    'mp2float',
    'mp3',
    'mp3float',
    'ac3',
    'ac3_fixed',
  ],
  ...[
    'eac3',
    'dca',
    'truehd',
    'mlp',
    'dolby_e',
    'alac',
    'flac',
    'opus',
    'libopus',
    'vorbis',
    'libvorbis',
    'speex',
    'libspeex',
  ],
  ...[
    'wavpack',
    'tta',
    'wmav1',
    'wmav2',
    'wmapro',
    'wmalossless',
    'wmavoice',
    'amrnb',
    'libopencore_amrnb',
    'amrwb',
  ],
  ...[
    'libopencore_amrwb',
    'gsm',
    'gsm_ms',
    'g722',
    'g726',
    'g723_1',
    'evrc',
    'qcelp',
    'cook',
    'nellymoser',
    'qdm2',
    'qdmc',
  ],
  ...['mace3', 'mace6', 'adpcm_ms', 'adpcm_ima_wav', 'adpcm_ima_qt', 'adpcm_swf', 'adpcm_yamaha'],
];

/** Codecs fill pictures up to whole blocks: a little more than is let in. */
const CODED_PIXELS = MOST_PIXELS + 2 ** 22;
/** Most that FFmpeg may take at a time: the largest picture at 16 bits with an alpha plane. Tables of 50 million frames fit, too. */
const MOST_BYTES = 8 * CODED_PIXELS;

/** Readers that make something of a list of other files or addresses. */
const LISTS =
  /^(concat|hls|applehttp|dash|imf|sdp|rtsp|rtp|sap|image2|image2pipe|vobsub|webm_dash_manifest|lavfi|realtext)$/;

/** Where the bytes of an input come from. */
export type InputKind = 'file' | 'pipe';

/**
 * Options to stand before an input of FFmpeg: its bytes come from where `kind` says and nowhere else; without a reader among its
 * options only containers of clips are read; and only the decoders above are started.
 *
 * @param options the other options of the input; what "-f" names there is the one reader allowed
 */
export function inputLimits(kind: InputKind, options: readonly string[] = []): string[] {
  const named = options.indexOf('-f');
  const readers = named < 0 ? CONTAINERS : [options[named + 1]];
  return [...probeLimits(kind, readers), '-codec_whitelist:a', SOUND_DECODERS.join(',')];
}

/**
 * The same before the input of ffprobe, whose decoders of sound are not limited: it gives up on a whole clip for one that it may
 * not start.
 */
export function probeLimits(kind: InputKind = 'file', readers: readonly string[] = CONTAINERS): string[] {
  return [
    ...['-protocol_whitelist', kind, '-format_whitelist', readers.join(',')],
    ...['-codec_whitelist:v', PICTURE_DECODERS.join(',')],
    // The header of one frame, or a table, may claim what the first frame did not.
    ...['-max_pixels:v', String(CODED_PIXELS), '-max_alloc', String(MOST_BYTES)],
  ];
}

/** The decoder that ffprobe was not let start, read out of its messages; null when it gave up for another reason. */
export function decoderLeftAlone(said: string): string | null {
  return /\bCodec \(([\w-]+)\) not on whitelist/.exec(said)?.[1] ?? null;
}

/** What FFmpeg recognised a file as when it was not let in for that. */
export interface TurnedAway {
  /** FFmpeg's name of the reader. */
  readonly reader: string;
  /** True for lists of other files or addresses. */
  readonly isList: boolean;
}

/** Reads that out of its messages; null when it gave up for another reason. */
export function turnedAway(said: string): TurnedAway | null {
  const names = /^\[([^\]\s]+) @ [^\]]*\] (?:\[\w+\] )?Format not on whitelist/m.exec(said)?.[1];
  if (names === undefined) return null;
  const reader = names.split(',')[0];
  return { reader, isList: LISTS.test(reader) };
}

/** Whether a message only says that a codec was left alone: it tells of no fault of the file. */
export function isLimitWord(line: string): boolean {
  return line.includes('not on whitelist');
}
