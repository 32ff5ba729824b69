/** How each sound stream of a clip goes into another container: as it is, or coded anew, in sync, with all its channels. */
import { ffmpegPath } from './clip-path.js';
import type { SideInput } from './ffmpeg-job.js';
import type { ClipFacts, SoundStream } from './types.js';

/** What became of one sound stream. */
export interface SoundRecord {
  /** 0 for the first sound stream of the clip. */
  readonly stream: number;
  /** Codec it was written with; null when it was left out: FFmpeg has no name for its codec, or it begins too late. */
  readonly codec: string | null;
  /** True when no sample was changed: taken over packet by packet, or samples written as they were. */
  readonly unchanged: boolean;
}

/** What FFmpeg is told about sound. */
export interface SoundPlan {
  readonly sideInputs: readonly SideInput[];
  readonly outputOptions: readonly string[];
  readonly streams: readonly SoundRecord[];
}

/** Codecs each container carries in every FFmpeg and player that matters here. */
const CARRIED: Readonly<Record<string, readonly string[]>> = {
  mp4: ['aac', 'mp3', 'ac3', 'eac3', 'alac'],
  mov: ['aac', 'mp3', 'ac3', 'eac3', 'alac'],
  matroska: ['aac', 'mp3', 'ac3', 'eac3', 'alac', 'flac', 'opus', 'vorbis', 'dts', 'truehd'],
};

/** Samples without coding, cut by the sample rather than by the packet. */
const SAMPLES_KEPT: readonly string[] = ['pcm_s16le', 'pcm_s24le', 'pcm_s32le', 'pcm_f32le', 'pcm_u8'];
/** Others that hold the same samples in another order of bytes. */
const SAMPLES_TURNED: Readonly<Record<string, string>> = {
  ...{ pcm_s16be: 'pcm_s16le', pcm_s24be: 'pcm_s24le', pcm_s32be: 'pcm_s32le', pcm_f32be: 'pcm_f32le' },
};

/** Layouts that AAC has a word for; of others every channel goes into a track of its own. */
const AAC_LAYOUTS: readonly string[] = ['mono', 'stereo', '3.0', '4.0', '5.0', '5.1'];
const AAC_BITS_PER_CHANNEL = 160_000;

/** Silence is put where sound begins late or has holes, so that players that pass over gaps stay in sync. */
const IN_SYNC = 'aresample=async=1:first_pts=0';

/**
 * All sound streams of a clip from `inS` on, for `durationS` seconds.
 *
 * Streams the container carries are taken over packet by packet; these are about 20 ms long, so the first may begin
 * that much late, in sync. Uncompressed samples stay what they are in .mov and .mkv, cut by the sample. Everything
 * else becomes AAC in .mp4 and uncompressed samples in .mov and .mkv.
 *
 * @param inS seconds from the first frame of the clip
 */
export function soundPlan(facts: ClipFacts, inS: number, durationS: number, container: string): SoundPlan {
  const tracks = facts.sound.map((stream, index) => trackOptions(stream, index, container));
  const outputOptions: string[] = [];
  let written = 0;
  for (const { maps } of tracks) {
    for (const { from, options } of maps) {
      outputOptions.push('-map', from, ...options.map((one) => one.replace('{track}', String(written))));
      written++;
    }
  }
  const streams = tracks.map(({ record }) => record);
  const sideInputs = written === 0 ? [] : soundInput(facts, facts.startTimeS + inS, durationS);
  if (sideInputs.length === 0) {
    const silent = streams.map(({ stream }) => ({ stream, codec: null, unchanged: false }));
    return { sideInputs, outputOptions: [], streams: silent };
  }
  return { sideInputs, outputOptions, streams };
}

/**
 * The clip as an input whose moment `fromS`, by the clock of the container itself, becomes 0; none when all sound
 * begins after `durationS`.
 *
 * FFmpeg takes sound of a transport stream that begins later than asked for to begin just then. So it is asked for no
 * earlier than that, and told the delay, off by a microsecond, as a delay to the very start of the file is passed over.
 */
function soundInput({ file, sound }: ClipFacts, fromS: number, durationS: number): SideInput[] {
  const firstS = Math.max(fromS, Math.min(...sound.map(({ startTimeS }) => startTimeS ?? fromS)));
  const delayS = firstS - fromS;
  if (delayS >= durationS) return [];
  const delay = delayS > 0 ? ['-itsoffset', (delayS + 1e-6).toFixed(6)] : [];
  const part = ['-seek_timestamp', '1', '-ss', firstS.toFixed(6), '-t', (durationS - delayS).toFixed(6)];
  return [{ path: ffmpegPath(file), options: [...delay, ...part] }];
}

interface TrackOptions {
  readonly record: SoundRecord;
  /** One for each track written; "{track}" stands for its number. */
  readonly maps: readonly { from: string; options: readonly string[] }[];
}

function trackOptions(sound: SoundStream, stream: number, container: string): TrackOptions {
  const { codec } = sound;
  const from = `1:a:${stream}`;
  const one = (written: string, unchanged: boolean, options: readonly string[]): TrackOptions => ({
    record: { stream, codec: written, unchanged },
    maps: [{ from, options }],
  });
  if (codec === 'unknown' || codec === 'none' || sound.channels === 0) {
    return { record: { stream, codec: null, unchanged: false }, maps: [] };
  }
  if (CARRIED[container].includes(codec)) return one(codec, true, ['-c:a:{track}', 'copy']);
  if (container !== 'mp4') {
    const same = SAMPLES_KEPT.includes(codec) ? codec : SAMPLES_TURNED[codec];
    const coder = same ?? (sound.bitDepth > 16 ? 'pcm_s24le' : 'pcm_s16le');
    return one(coder, same !== undefined, ['-c:a:{track}', coder, '-filter:a:{track}', IN_SYNC]);
  }
  const isNamed = sound.channels <= 2 || AAC_LAYOUTS.includes(sound.channelLayout ?? '');
  if (isNamed) return one('aac', false, aacOptions(sound.channels, IN_SYNC));
  const maps = Array.from({ length: sound.channels }, (_, channel) => {
    return { from, options: aacOptions(1, `pan=mono|c0=c${channel},${IN_SYNC}`) };
  });
  return { record: { stream, codec: 'aac', unchanged: false }, maps };
}

function aacOptions(channels: number, filter: string): string[] {
  const bits = String(channels * AAC_BITS_PER_CHANNEL);
  return ['-c:a:{track}', 'aac', '-b:a:{track}', bits, '-filter:a:{track}', filter];
}
