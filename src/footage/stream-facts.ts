/** Single facts read out of what ffprobe says of a stream: rotation, pixel aspect, depth, colour, sound, rate, timecode. */
import type { ClipFacts, ColourTags, SoundStream } from './types.js';

/** A turn this far from quarter turns is meant, degrees. */
const SKEW_DEG = 1;

/** The parts of ffprobe's JSON that are read here; everything may be missing. */
export interface ProbedStream {
  readonly codec_type?: string;
  readonly codec_name?: string;
  readonly width?: number;
  readonly height?: number;
  readonly pix_fmt?: string;
  readonly sample_aspect_ratio?: string;
  readonly field_order?: string;
  readonly color_range?: string;
  readonly color_space?: string;
  readonly color_transfer?: string;
  readonly color_primaries?: string;
  readonly chroma_location?: string;
  readonly channels?: number;
  readonly channel_layout?: string;
  readonly bits_per_sample?: number;
  readonly bits_per_raw_sample?: string;
  readonly r_frame_rate?: string;
  readonly avg_frame_rate?: string;
  readonly time_base?: string;
  readonly start_time?: string;
  readonly duration?: string;
  readonly nb_frames?: string;
  readonly disposition?: Readonly<Record<string, number>>;
  readonly tags?: Readonly<Record<string, string>>;
  readonly side_data_list?: readonly {
    readonly side_data_type?: string;
    readonly rotation?: number;
    readonly displaymatrix?: string;
  }[];
}

/** What ffprobe says of a whole file. */
export interface Probed {
  readonly streams?: readonly ProbedStream[];
  readonly format?: {
    readonly format_name?: string;
    readonly start_time?: string;
    readonly duration?: string;
    readonly tags?: Readonly<Record<string, string>>;
  };
}

/** The first video stream that is no cover picture, as FFmpeg's stream word `V` chooses it. */
export function videoStream(streams: readonly ProbedStream[]): ProbedStream | undefined {
  return streams.find((one) => {
    const isPicture = one.disposition?.attached_pic === 1 || one.disposition?.timed_thumbnails === 1;
    return one.codec_type === 'video' && !isPicture;
  });
}

/** "16:15", "30000/1001" or a plain number as a number; null when absent, zero or not a ratio. */
export function ratio(text: string | undefined): number | null {
  const parts = (text ?? '').split(/[:/]/).map(Number);
  const value = parts.length === 2 ? parts[0] / parts[1] : parts[0];
  return Number.isFinite(value) && value > 0 ? value : null;
}

/** A decimal number of ffprobe's, null for "N/A" and absence. */
export function decimal(text: string | undefined): number | null {
  const value = text === undefined || text === '' ? NaN : Number(text);
  return Number.isFinite(value) ? value : null;
}

/**
 * How the stored picture is to be turned to stand upright: clockwise quarter turns in degrees, then mirrored left
 * to right or not.
 *
 * The display matrix counts anticlockwise, the older `rotate` tag clockwise; the matrix wins. A matrix with a
 * negative determinant mirrors (ISO/IEC 14496-12, track header matrix, here read from ffprobe's table of 16.16
 * numbers); its turn is read from the first row with the mirroring taken out. A turn between quarter turns is
 * taken for the nearest of them.
 */
export function uprightTurn(stream: ProbedStream): Pick<ClipFacts, 'rotationDeg' | 'mirrored' | 'skewDeg'> {
  const matrix = stream.side_data_list?.find((one) => /display ?matrix/i.test(one.side_data_type ?? ''));
  const [a, b, , c, d] = (matrix?.displaymatrix ?? '')
    .split('\n')
    .flatMap((line) => line.replace(/^\s*[0-9a-f]{8}:/i, '').match(/-?\d+/g) ?? [])
    .map(Number);
  if (matrix && Number.isFinite(d)) {
    const mirrored = a * d - b * c < 0;
    // A row vector (x y) is multiplied by [a b; c d], y pointing down: (1 0) goes to (a b). Mirroring left to
    // right comes last, so it turns the sign of the new x, and with it of a and c.
    const clockwise = Math.atan2(b, mirrored ? -a : a) * (180 / Math.PI);
    return { ...turnOf(clockwise), mirrored };
  }
  const clockwise = matrix?.rotation === undefined ? (decimal(stream.tags?.rotate) ?? 0) : -matrix.rotation;
  return { ...turnOf(clockwise), mirrored: false };
}

/** The nearest quarter turn, and what is left over where that is no rounding. */
function turnOf(clockwiseDeg: number): Pick<ClipFacts, 'rotationDeg' | 'skewDeg'> {
  const nearestDeg = Math.round(clockwiseDeg / 90) * 90;
  const rotationDeg = (((nearestDeg % 360) + 360) % 360) as ClipFacts['rotationDeg'];
  const skewDeg = clockwiseDeg - nearestDeg;
  return { rotationDeg, ...(Math.abs(skewDeg) >= SKEW_DEG && { skewDeg }) };
}

/**
 * Bits per sample: as the codec states it, else read from the name of the pixel format ("yuv422p10le" 10, "p010le"
 * 10, "rgb48be" 16, "yuvj420p" 8).
 */
export function bitDepth(stream: ProbedStream): number {
  const stated = decimal(stream.bits_per_raw_sample);
  if (stated !== null && stated > 0) return stated;
  const name = (stream.pix_fmt ?? '').replace(/(le|be)$/, '');
  if (/^(rgb|bgr)48$|^(rgba|bgra)64$|^ya16$/.test(name)) return 16;
  const digits = /^(?:gray|ya|p0|p2|p4|y2|y4)(\d{2})$|p(9|10|12|14|16)$/.exec(name);
  return Number(digits?.[1] ?? digits?.[2] ?? 8);
}

/** What the stream says of its colours. Pixel formats named "yuvj" are full range, whether or not that is also tagged. */
export function colourTags(stream: ProbedStream): ColourTags {
  const range = stated(stream.color_range) ?? (/^yuvj/.test(stream.pix_fmt ?? '') ? 'pc' : null);
  return {
    primaries: stated(stream.color_primaries),
    transfer: stated(stream.color_transfer),
    matrix: stated(stream.color_space),
    range: range === 'tv' || range === 'pc' ? range : null,
    chromaLocation: stated(stream.chroma_location),
  };
}

/** A word of ffprobe's, null for those that say nothing. */
function stated(word: string | undefined): string | null {
  return word === undefined || /^(unknown|unspecified|reserved.*|)$/.test(word) ? null : word;
}

/** The sound streams among the streams of a file, in its order. */
export function soundStreams(streams: readonly ProbedStream[]): SoundStream[] {
  return streams
    .filter((one) => one.codec_type === 'audio')
    .map((one) => ({
      codec: one.codec_name ?? 'unknown',
      channels: one.channels ?? 0,
      channelLayout: stated(one.channel_layout),
      bitDepth: (decimal(one.bits_per_raw_sample) ?? 0) || (one.bits_per_sample ?? 0),
      startTimeS: decimal(one.start_time),
    }));
}

/** First timecode found in the tags, with ";" before the frames for drop-frame; null when none is well formed. */
export function timecodeOf(probed: Probed, video: ProbedStream): string | null {
  const streams = probed.streams ?? [];
  const tags = [video.tags, ...streams.map((one) => one.tags), probed.format?.tags];
  for (const one of tags) {
    // Matroska spells the names of its tags in capitals.
    const tag = one?.timecode ?? one?.TIMECODE ?? '';
    const found = /^(\d{2}:\d{2}:\d{2})([:;.])(\d{2,3})$/.exec(tag.trim());
    if (found) return `${found[1]}${found[2] === ':' ? ':' : ';'}${found[3]}`;
  }
  return null;
}

/** Length of the video stream in seconds: as stated for it, else as tagged (Matroska), else that of the file. */
export function durationOf(probed: Probed, video: ProbedStream): number | null {
  const tag = Object.entries(video.tags ?? {}).find(([name]) => /^DURATION(-|$)/i.test(name))?.[1];
  const [, hours, minutes, seconds] = /^(\d+):(\d{2}):(\d{2}(?:\.\d+)?)$/.exec(tag ?? '') ?? [];
  const tagged = seconds === undefined ? null : Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds);
  return decimal(video.duration) ?? tagged ?? decimal(probed.format?.duration);
}
