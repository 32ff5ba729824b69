/** Clips for the tests of this room, made by FFmpeg or frame by frame in a folder that goes when the tests end. */
import { execFile } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { readFile, writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import { afterAll, expect } from 'vitest';
import {
  encodeClip,
  findTools,
  type EncodeOptions,
  type GreyFrame,
  type Tools,
} from '../../src/footage/index.js';
import { TrundleError, type ErrorCode } from '../../src/run/index.js';

const run = promisify(execFile);

/** FFmpeg as found on this machine, once for all tests of a file. */
export const tools: Tools = await findTools();

/** A folder of its own for one test file. */
export function clipFolder(): string {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'footage-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Runs FFmpeg to make `file`; `{passthrough}` among the arguments becomes this version's word for "keep every frame". */
export async function makeClip(file: string, ...args: string[]): Promise<string> {
  const vsync = [tools.ffmpeg.knowsFpsMode ? '-fps_mode' : '-vsync', 'passthrough'];
  const spelt = args.flatMap((one) => (one === '{passthrough}' ? vsync : [one]));
  await run(tools.ffmpeg.path, ['-v', 'error', '-nostdin', '-y', ...spelt, `file:${path.resolve(file)}`]);
  return file;
}

/** What FFmpeg writes to its output for these arguments, for a second reading of a clip beside the code under test. */
export async function rawBytes(...args: string[]): Promise<Buffer> {
  const command = ['-v', 'error', '-nostdin', ...args, '-'];
  const options = { encoding: 'buffer', maxBuffer: 256 * 1024 * 1024 } as const;
  return (await run(tools.ffmpeg.path, command, options)).stdout;
}

/** What ffprobe says of the streams of a clip. */
export async function streamsOf(file: string): Promise<Record<string, unknown>[]> {
  const { stdout } = await run(tools.ffprobe.path, ['-v', 'error', '-of', 'json', '-show_streams', file]);
  return (JSON.parse(stdout) as { streams: Record<string, unknown>[] }).streams;
}

/** A test source as an input: moving bars and a counter. */
export function testSource(widthPx: number, heightPx: number, fps: string, seconds: number): string[] {
  return ['-f', 'lavfi', '-i', `testsrc=size=${widthPx}x${heightPx}:rate=${fps}:duration=${seconds}`];
}

export const CODED_WIDTH_PX = 128;
export const CODED_HEIGHT_PX = 64;

/** Frames that carry their number, 0..255, as two grey patches of 16 levels beside one black and one white. */
export function* codedFrames(count: number): Generator<Uint8Array> {
  for (let number = 0; number < count; number++) {
    const levels = [0, 255, 8 + 16 * (number % 16), 8 + 16 * Math.floor(number / 16)];
    const frame = new Uint8Array(CODED_WIDTH_PX * CODED_HEIGHT_PX);
    for (let i = 0; i < frame.length; i++) {
      frame[i] = levels[Math.floor((4 * (i % CODED_WIDTH_PX)) / CODED_WIDTH_PX)];
    }
    yield frame;
  }
}

/** The number a coded frame carries, read at any size. */
export function codedNumber({ grey, widthPx, heightPx }: GreyFrame): number {
  const row = (heightPx >> 1) * widthPx;
  const digit = (patch: number) => Math.floor(grey[row + Math.round(((patch + 0.5) * widthPx) / 4)] / 16);
  return digit(2) + 16 * digit(3);
}

/** A clip of coded frames. */
export async function makeCodedClip(
  file: string,
  count: number,
  options: Partial<EncodeOptions> = {},
): Promise<string> {
  const size = { widthPx: CODED_WIDTH_PX, heightPx: CODED_HEIGHT_PX };
  await encodeClip(file, { ...size, fps: 25, preset: 'veryfast', ...options }, codedFrames(count), tools);
  return file;
}

/** Overwrites the track's display matrix (ISO/IEC 14496-12, tkhd) of an MP4: a, b, c, d of 1, 0 or -1. */
export async function setDisplayMatrix(file: string, [a, b, c, d]: readonly number[]): Promise<void> {
  const bytes = await readFile(file);
  // In a version 0 header the matrix stands 40 bytes after the version; each row holds two 16.16 numbers and one 2.30.
  const matrixAt = bytes.indexOf('tkhd') + 4 + 40;
  bytes.writeInt32BE(a * 65536, matrixAt);
  bytes.writeInt32BE(b * 65536, matrixAt + 4);
  bytes.writeInt32BE(c * 65536, matrixAt + 12);
  bytes.writeInt32BE(d * 65536, matrixAt + 16);
  await writeFile(file, bytes);
}

/** Takes all frames. */
export async function collect<Frame>(frames: AsyncIterable<Frame> | Iterable<Frame>): Promise<Frame[]> {
  const all: Frame[] = [];
  for await (const frame of frames) all.push(frame);
  return all;
}

/** Fails unless `action` ends in a failure with this code; gives its sentence. */
export async function failureOf(code: ErrorCode, action: () => Promise<unknown>): Promise<string> {
  const outcome = await action().then(
    () => 'no failure',
    (error: unknown) => error,
  );
  expect(outcome).toBeInstanceOf(TrundleError);
  expect((outcome as TrundleError).code).toBe(code);
  return (outcome as TrundleError).message;
}

/** Command lines of running processes that name `text`. */
export async function processesNaming(text: string): Promise<string[]> {
  const { stdout } = await run('ps', ['-A', '-o', 'args'], { maxBuffer: 16 * 1024 * 1024 });
  return stdout.split('\n').filter((line) => line.includes(text));
}

/** Packet times of the video stream as ffprobe reads them, in order of showing. */
export async function packetTimesS(file: string): Promise<number[]> {
  const question = [
    '-select_streams',
    'v:0',
    '-show_entries',
    'packet=pts,flags:stream=time_base',
    '-of',
    'json',
  ];
  const { stdout } = await run(tools.ffprobe.path, ['-v', 'error', ...question, file]);
  const said = JSON.parse(stdout) as {
    packets: { pts: number; flags: string }[];
    streams: { time_base: string }[];
  };
  const [over, under] = said.streams[0].time_base.split('/').map(Number);
  // Packets that the container itself marks as not to be shown carry a D.
  const shown = said.packets.filter(({ flags }) => !flags.includes('D'));
  return shown.map(({ pts }) => (pts * over) / under).sort((a, b) => a - b);
}
