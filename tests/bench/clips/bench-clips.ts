/**
 * Clips that speed is measured on: one made-up pass, filmed small, then scaled, given the noise of a sensor and coded as cameras do.
 * Kept under .cache/bench/.
 */
import { execFile } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { promisify } from 'node:util';
import type { Tools } from '../../../src/footage/index.js';
import { madeUpClip } from '../../support/made-up-clip.js';

const run = promisify(execFile);
const FOLDER = path.resolve(import.meta.dirname, '../../../.cache/bench');
/** Rises when clips are made in another way. */
const VERSION = 1;

/** Frames a second, and frames of a clip: five seconds there and the same back, so that repeats of it go on without a jump. */
export const FPS = 25;
export const FRAMES = 250;

const SIZES = { '720p': [1280, 720], '1080p': [1920, 1080], UHD: [3840, 2160] } as const;
const CODECS = {
  'H.264': ['mp4', '-c:v', 'libx264', '-preset', 'veryfast', '-crf', '21', '-pix_fmt', 'yuv420p'],
  'HEVC 10-bit': ['mp4', '-c:v', 'libx265', '-preset', 'ultrafast', '-crf', '23', '-pix_fmt', 'yuv420p10le'],
  'ProRes 422': ['mov', '-c:v', 'prores_ks', '-profile:v', '2', '-pix_fmt', 'yuv422p10le'],
} as const;

/** Size and codec of a clip. */
export interface ClipKind {
  readonly size: keyof typeof SIZES;
  readonly codec: keyof typeof CODECS;
}

/** Every size in every codec. */
export const CLIP_KINDS: readonly ClipKind[] = (Object.keys(SIZES) as ClipKind['size'][]).flatMap((size) =>
  (Object.keys(CODECS) as ClipKind['codec'][]).map((codec) => ({ size, codec })),
);

/** How the clips came about, for the head of a table. */
export const HOW_MADE =
  'Clips: five seconds of a made-up push past a corridor at 1280x720, there and back (250 frames), scaled, with noise, coded anew.';

/** Makes a clip, or takes it from the cache. @throws what FFmpeg says where it lacks the encoder */
export async function benchClip({ size, codec }: ClipKind, { ffmpeg }: Tools): Promise<string> {
  const [ending, ...coding] = CODECS[codec];
  const [widthPx, heightPx] = SIZES[size];
  const file = path.join(FOLDER, `${size}-${codec.replace(/\W/g, '')}-${VERSION}.${ending}`);
  if (fs.existsSync(file)) return file;
  fs.mkdirSync(FOLDER, { recursive: true });
  const { clipFile } = await madeUpClip({
    name: 'bench-push',
    scene: 'tiled-corridor',
    move: 'pushIn',
    durationS: FRAMES / 2 / FPS,
    fps: FPS,
    widthPx: 1280,
    heightPx: 720,
    focalLengthMm: 28,
    speedMps: 0.3,
    vibration: { angularDegRms: { tilt: 0.05, pan: 0.03 }, translationMmRms: { vertical: 0.3 } },
  });
  const filters = [
    'split[a][b];[b]reverse[r];[a][r]concat=n=2',
    `scale=${widthPx}:${heightPx}:flags=bicubic`,
    'noise=alls=4:allf=t',
    'setpts=N/25/TB',
  ];
  const half = `${file}.half.${ending}`;
  await run(ffmpeg.path, [
    ...['-v', 'error', '-nostdin', '-y', '-i', clipFile, '-lavfi', filters.join(',')],
    ...['-r', String(FPS), ...coding, half],
  ]);
  fs.renameSync(half, file);
  return file;
}

/** The clip so many times in a row, coded as it is. */
export async function repeated(file: string, times: number, { ffmpeg }: Tools): Promise<string> {
  if (times === 1) return file;
  const long = file.replace(/(\.\w+)$/, `-x${times}$1`);
  if (fs.existsSync(long)) return long;
  const half = long.replace(/(\.\w+)$/, '.half$1');
  const loop = ['-stream_loop', String(times - 1), '-i', file, '-c', 'copy', half];
  await run(ffmpeg.path, ['-v', 'error', '-nostdin', '-y', ...loop]);
  fs.renameSync(half, long);
  return long;
}
