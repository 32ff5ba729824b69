/** The sound clips that are then damaged: one for each container and codec that crews bring and this FFmpeg can write. */
import { execFile } from 'node:child_process';
import fs from 'node:fs/promises';
import path from 'node:path';
import { promisify } from 'node:util';
import type { Tools } from '../../src/footage/index.js';
import { boxNamed } from './parts.js';
import { shakenTexture } from './shaken-texture.js';

const run = promisify(execFile);

/** How the bytes of a file are laid out, as far as the mutator knows it. */
export type Layout = 'boxes' | 'ebml' | 'riff' | 'plain';

/** A clip of the corpus. */
export interface SoundClip {
  /** Names it in reports. */
  readonly name: string;
  readonly file: string;
  readonly layout: Layout;
  readonly bytes: Buffer;
}

interface Recipe {
  readonly name: string;
  readonly extension: string;
  readonly layout: Layout;
  /** Default 24 frames of 96 x 64 px at 10 a second. */
  readonly widthPx?: number;
  readonly heightPx?: number;
  readonly frames?: number;
  readonly fps?: string;
  /** Whether a tone goes with it. */
  readonly sound?: boolean;
  /** Arguments of the writing side. */
  readonly coding: readonly string[];
  /** What is written into the bytes afterwards. */
  readonly finish?: (bytes: Buffer) => void;
}

const X264 = ['-c:v', 'libx264', '-pix_fmt', 'yuv420p', '-crf', '16', '-threads', '1'];
const INTRA = [...X264, '-g', '1'];
const UNEVEN = [
  ...['-filter:v', 'settb=1/1200,setpts=N*120+30*mod(N\\,3)', '-enc_time_base', '1:1200'],
  ...['-video_track_timescale', '1200'],
];
const AAC = ['-c:a', 'aac', '-b:a', '48k'];

const RECIPES: readonly Recipe[] = [
  { name: 'mp4-h264', extension: 'mp4', layout: 'boxes', frames: 32, coding: [...X264, '-bf', '0'] },
  { name: 'mp4-h264-b', extension: 'mp4', layout: 'boxes', coding: [...X264, '-bf', '3', '-g', '12'] },
  {
    ...{ name: 'mp4-fragmented', extension: 'mp4', layout: 'boxes', sound: true },
    coding: [...X264, ...AAC, '-g', '6', '-movflags', 'frag_keyframe+empty_moov'],
  },
  {
    ...{ name: 'mp4-faststart', extension: 'mp4', layout: 'boxes', sound: true, widthPx: 160, heightPx: 90 },
    ...{ frames: 30, fps: '25' },
    coding: [...X264, ...AAC, '-movflags', 'faststart'],
  },
  {
    ...{ name: 'mp4-turned', extension: 'mp4', layout: 'boxes' },
    coding: INTRA,
    finish: turnedByAQuarter,
  },
  {
    ...{ name: 'mp4-uneven', extension: 'mp4', layout: 'boxes' },
    coding: [...INTRA, ...UNEVEN, '{passthrough}'],
  },
  {
    ...{ name: 'mov-prores-timecode', extension: 'mov', layout: 'boxes', frames: 32, sound: true },
    coding: ['-c:v', 'prores', '-pix_fmt', 'yuv422p10le', '-c:a', 'pcm_s16le', '-timecode', '01:00:00:00'],
  },
  {
    ...{ name: 'mov-qtrle-alpha', extension: 'mov', layout: 'boxes', frames: 16 },
    coding: ['-c:v', 'qtrle', '-pix_fmt', 'argb'],
  },
  {
    name: 'mkv-ffv1',
    extension: 'mkv',
    layout: 'ebml',
    widthPx: 160,
    heightPx: 90,
    frames: 32,
    coding: ['-c:v', 'ffv1', '-level', '3'],
  },
  { name: 'mkv-h264', extension: 'mkv', layout: 'ebml', sound: true, coding: [...X264, ...AAC, '-bf', '2'] },
  { name: 'webm-vp8', extension: 'webm', layout: 'ebml', coding: ['-c:v', 'libvpx', '-b:v', '500k'] },
  {
    ...{ name: 'webm-vp9', extension: 'webm', layout: 'ebml', frames: 16 },
    coding: ['-c:v', 'libvpx-vp9', '-b:v', '500k', '-speed', '8'],
  },
  {
    ...{ name: 'avi-mjpeg', extension: 'avi', layout: 'riff', frames: 32, sound: true },
    coding: ['-c:v', 'mjpeg', '-pix_fmt', 'yuvj420p', '-q:v', '3', '-c:a', 'pcm_s16le'],
  },
  { name: 'avi-mpeg4', extension: 'avi', layout: 'riff', coding: ['-c:v', 'mpeg4', '-q:v', '3', '-bf', '2'] },
  {
    ...{ name: 'ts-mpeg2', extension: 'ts', layout: 'plain', fps: '25', frames: 30, sound: true },
    coding: ['-c:v', 'mpeg2video', '-q:v', '3', '-c:a', 'mp2'],
  },
  {
    ...{ name: 'flv', extension: 'flv', layout: 'plain', sound: true },
    coding: ['-c:v', 'flv', '-q:v', '3', ...AAC],
  },
  { name: 'ogv-theora', extension: 'ogv', layout: 'plain', coding: ['-c:v', 'libtheora', '-q:v', '8'] },
  {
    ...{ name: 'mxf-dnxhd', extension: 'mxf', layout: 'plain', widthPx: 256, heightPx: 144 },
    ...{ frames: 16, fps: '25' },
    coding: ['-c:v', 'dnxhd', '-profile:v', 'dnxhr_lb', '-pix_fmt', 'yuv422p'],
  },
  { name: 'gif', extension: 'gif', layout: 'plain', fps: '10', coding: [] },
  { name: 'y4m', extension: 'y4m', layout: 'plain', coding: ['-pix_fmt', 'yuv420p'] },
  { name: 'raw-h264', extension: 'h264', layout: 'plain', coding: [...X264, '-bf', '2'] },
];

/** The display matrix of a quarter turn clockwise; versions of FFmpeg differ in how they write one. */
function turnedByAQuarter(bytes: Buffer): void {
  const { at } = boxNamed(bytes, 'tkhd');
  [0, 1, 0, -1, 0].forEach((value, i) => bytes.writeInt32BE(value * 0x10000, at + 48 + 4 * i));
}

/** The corpus, and the recipes that this FFmpeg cannot write. */
export interface Corpus {
  readonly clips: readonly SoundClip[];
  readonly unwritten: readonly string[];
}

/**
 * Writes the corpus into `folder`; clips that are there already are taken as they are.
 *
 * The same FFmpeg writes the same bytes each time, which a replay counts on.
 */
export async function makeCorpus(folder: string, tools: Tools): Promise<Corpus> {
  await fs.mkdir(folder, { recursive: true });
  const clips: SoundClip[] = [];
  const unwritten: string[] = [];
  for (const recipe of RECIPES) {
    const file = path.join(folder, `${recipe.name}.${recipe.extension}`);
    try {
      await fs.access(file).catch(() => film(recipe, file, tools));
      clips.push({ name: recipe.name, layout: recipe.layout, file, bytes: await fs.readFile(file) });
    } catch {
      unwritten.push(recipe.name);
    }
  }
  return { clips, unwritten };
}

async function film(recipe: Recipe, file: string, tools: Tools): Promise<void> {
  const { widthPx = 96, heightPx = 64, frames = 24, fps = '10', sound = false, coding } = recipe;
  const raw = `${file}.raw`;
  const part = path.join(path.dirname(file), `.part-${path.basename(file)}`);
  const passthrough = [tools.ffmpeg.knowsFpsMode ? '-fps_mode' : '-vsync', 'passthrough'];
  const picture = ['-f', 'rawvideo', '-pixel_format', 'gray', '-video_size', `${widthPx}x${heightPx}`];
  const tone = sound ? ['-f', 'lavfi', '-i', `anoisesrc=r=16000:a=0.2:seed=1:d=${frames / Number(fps)}`] : [];
  try {
    await fs.writeFile(raw, shakenTexture({ widthPx, heightPx, frames }));
    await run(tools.ffmpeg.path, [
      ...['-v', 'error', '-nostdin', '-y', ...picture, '-framerate', fps, '-i', raw, ...tone],
      ...['-map_metadata', '-1', '-fflags', '+bitexact', '-flags:v', '+bitexact', '-flags:a', '+bitexact'],
      ...coding.flatMap((word) => (word === '{passthrough}' ? passthrough : [word])),
      part,
    ]);
    const bytes = await fs.readFile(part);
    recipe.finish?.(bytes);
    await fs.writeFile(part, bytes);
    await fs.rename(part, file);
  } finally {
    await fs.rm(raw, { force: true });
    await fs.rm(part, { force: true });
  }
}
