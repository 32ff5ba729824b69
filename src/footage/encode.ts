/** Writes raw grey or colour frames as an H.264 clip (8-bit 4:2:0, limited range, BT.709), with sound if there is any, whole or not at all. */
import { randomUUID } from 'node:crypto';
import { rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { ffmpegPath } from './clip-path.js';
import type { SideInput } from './ffmpeg-job.js';
import { checkFolder, containerOf, REPEATABLE, unwritten, writeClip } from './output-clip.js';
import type { Tools } from './types.js';

/** How the clip is to be written. */
export interface EncodeOptions {
  /** Even. */
  readonly widthPx: number;
  /** Even. */
  readonly heightPx: number;
  readonly fps: number;
  /** Exact rate, for example "24000/1001"; taken instead of `fps` when given. */
  readonly fpsFraction?: string;
  /** Constant quality, 0 lossless to 51; default 16, visually lossless. */
  readonly crf?: number;
  /** One byte a pixel (full range) or three (red, green, blue); default gray. */
  readonly pixelFormat?: 'gray' | 'rgb24';
  /** Speed against size, in the encoder's words; default medium. */
  readonly preset?: string;
  /** Every frame coded on its own, as cameras for the cutting room do; default false. */
  readonly allIntra?: boolean;
  /** Most B frames in a row; default: the encoder's choice. */
  readonly bFrames?: number;
  /** Start timecode, HH:MM:SS:FF or HH:MM:SS;FF. */
  readonly timecode?: string;
  /** One channel that begins with the first frame; AAC in .mp4, samples of 16 bits in .mov and .mkv. Default: silent, no track. */
  readonly sound?: EncodedSound;
}

/** Samples of one channel. */
export interface EncodedSound {
  /** Whole. */
  readonly rateHz: number;
  /** -1..1, clipped beyond. */
  readonly samples: Readonly<Float64Array>;
}

/**
 * Encodes `frames` to `file` (.mp4, .mov or .mkv), replacing what is there.
 *
 * Frames are pulled no faster than the encoder takes them. The clip is written under another name in the same
 * folder and renamed once whole; after a failure nothing is left behind.
 *
 * @param frames each of widthPx * heightPx * (1 or 3) bytes, row by row; must not be changed after it is handed over
 * @throws RangeError on odd or empty sizes, a frame of the wrong length, or no frame at all
 * @throws TrundleError 'output-unwritable', 'interrupted'
 * @throws whatever `frames` throws
 */
export async function encodeClip(
  file: string,
  options: Readonly<EncodeOptions>,
  frames: AsyncIterable<Uint8Array> | Iterable<Uint8Array>,
  tools: Tools,
  signal?: AbortSignal,
): Promise<void> {
  const container = checkOptions(file, options);
  const chunks = checkedFrames(frames, options);
  const recipe = { container, chunks, inputOptions: rawInput(options) };
  if (!options.sound) {
    await writeClip(file, { ...recipe, outputOptions: encoderOptions(options) }, tools, signal);
    return;
  }
  const raw = path.join(path.dirname(file), `.${path.basename(file)}.${randomUUID().slice(0, 8)}.sound`);
  try {
    await checkFolder(file);
    await writeFile(raw, rawSamples(options.sound)).catch((cause: Error) => {
      throw unwritten(file, cause.message, { cause });
    });
    const sideInputs = [soundInput(raw, options.sound)];
    const outputOptions = [...encoderOptions(options), ...soundOptions(container)];
    await writeClip(file, { ...recipe, sideInputs, outputOptions }, tools, signal);
  } finally {
    await rm(raw, { force: true });
  }
}

/** Little-endian samples of 16 bits, whatever the machine's own order. */
function rawSamples({ samples }: EncodedSound): Uint8Array {
  const view = new DataView(new ArrayBuffer(2 * samples.length));
  samples.forEach((v, i) => view.setInt16(2 * i, Math.round(32767 * Math.max(-1, Math.min(1, v))), true));
  return new Uint8Array(view.buffer);
}

function soundInput(raw: string, { rateHz }: EncodedSound): SideInput {
  return { path: ffmpegPath(raw), options: ['-f', 's16le', '-ar', String(rateHz), '-ac', '1'] };
}

function soundOptions(container: string): string[] {
  const codec = container === 'mp4' ? ['aac', '-b:a', '160k'] : ['pcm_s16le'];
  return ['-map', '0:v', '-map', '1:a', '-flags:a', '+bitexact', '-c:a', ...codec];
}

function checkOptions(
  file: string,
  { widthPx, heightPx, fps, crf = 16, sound }: Readonly<EncodeOptions>,
): string {
  for (const [name, value] of Object.entries({ widthPx, heightPx })) {
    if (!Number.isInteger(value) || value < 2 || value % 2 !== 0) {
      throw new RangeError(`${name} must be an even whole number, got ${value}`);
    }
  }
  if (!(fps > 0 && Number.isFinite(fps))) throw new RangeError(`fps must be above 0, got ${fps}`);
  if (!(crf >= 0 && crf <= 51)) throw new RangeError(`crf must be within 0 to 51, got ${crf}`);
  if (sound && !(Number.isInteger(sound.rateHz) && sound.rateHz > 0))
    throw new RangeError(`sound.rateHz must be a whole number above 0, got ${sound.rateHz}`);
  return containerOf(file);
}

async function* checkedFrames(
  frames: AsyncIterable<Uint8Array> | Iterable<Uint8Array>,
  { widthPx, heightPx, pixelFormat = 'gray' }: Readonly<EncodeOptions>,
): AsyncGenerator<Uint8Array> {
  const frameBytes = widthPx * heightPx * (pixelFormat === 'gray' ? 1 : 3);
  let count = 0;
  for await (const frame of frames) {
    if (frame.length !== frameBytes) {
      throw new RangeError(`frame ${count} must hold ${frameBytes} bytes, got ${frame.length}`);
    }
    count++;
    yield frame;
  }
  if (count === 0) throw new RangeError('frames must hold at least one frame, got none');
}

function rawInput({
  widthPx,
  heightPx,
  fps,
  fpsFraction,
  pixelFormat = 'gray',
}: Readonly<EncodeOptions>): string[] {
  return [
    ...['-f', 'rawvideo', '-pix_fmt', pixelFormat],
    ...['-video_size', `${widthPx}x${heightPx}`, '-framerate', fpsFraction ?? String(fps)],
  ];
}

function encoderOptions(options: Readonly<EncodeOptions>): string[] {
  const { crf = 16, preset = 'medium', allIntra = false, bFrames, timecode } = options;
  return [
    // Range and matrix said in full, so that every FFmpeg writes the same levels and says which they are.
    ...[
      '-filter:v',
      'scale=in_range=full:out_range=limited:out_color_matrix=bt709:flags=accurate_rnd,format=yuv420p',
    ],
    ...['-color_range', 'tv', '-colorspace', 'bt709', '-color_primaries', 'bt709', '-color_trc', 'bt709'],
    ...['-c:v', 'libx264', '-preset', preset, '-crf', String(crf)],
    ...(allIntra ? ['-g', '1'] : []),
    ...(bFrames === undefined ? [] : ['-bf', String(bFrames)]),
    ...(timecode === undefined ? [] : ['-timecode', timecode]),
    ...[...REPEATABLE, '-movflags', '+faststart'],
  ];
}
