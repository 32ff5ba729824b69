/** Writes planes of full depth as H.264 or ProRes, with the colours tagged, sound and timecode taken over, whole or not at all. */
import { chromaPlaceOptions, colourOptions } from './colour-codes.js';
import { applyLevels, levelTable, type LevelScale } from './levels.js';
import { containerOf, refuseSource, REPEATABLE, writeClip } from './output-clip.js';
import { chromaLocationOf, outputFormat, type PlaneCodec, type PlaneFormat } from './plane-format.js';
import { planarName } from './sample-layout.js';
import { soundPlan, type SoundRecord } from './sound-tracks.js';
import { ratio } from './stream-facts.js';
import type { Samples } from './turn-plane.js';
import type { ClipFacts, Tools } from './types.js';

/** How the clip is to be written. */
export interface EncodePlanesOptions {
  /** The clip the frames come from: never written over, and where the sound is. */
  readonly source: ClipFacts;
  /** How the frames handed over lie; see `outputFormat` for what each codec takes. */
  readonly format: PlaneFormat;
  /** h264 for .mp4 and .mkv, prores for .mov. */
  readonly codec: PlaneCodec;
  /** Frames per second as an exact fraction, for example "24000/1001". */
  readonly fpsFraction: string;
  /** Constant quality of H.264, 0 lossless to 51; default 14. ProRes has a quality of its own. */
  readonly quality?: number | undefined;
  /** Speed against size of H.264, in the encoder's words; default medium. */
  readonly preset?: string | undefined;
  /** The part of the source whose sound goes along, seconds from its first frame; null for silence. */
  readonly sound: { readonly inS: number; readonly durationS: number } | null;
  /** Timecode of the first frame, HH:MM:SS:FF or HH:MM:SS;FF; null for none. */
  readonly timecode: string | null;
}

/** What was written. */
export interface EncodeRecord {
  readonly frameCount: number;
  /** FFmpeg's name of the layout in the file. */
  readonly pixelFormat: string;
  readonly bitDepth: number;
  /** True when samples lost bits, each in one rounding. */
  readonly depthReduced: boolean;
  /** True when full-range levels were brought to those of television, which ProRes has no word for otherwise. */
  readonly rangeReduced: boolean;
  /** One for each sound stream of the source; empty without sound. */
  readonly sound: readonly SoundRecord[];
}

/** Default of `quality`: visually lossless, with room for grading. */
export const PROOF_QUALITY = 14;

/** The deepest that each codec is written with. */
const DEEPEST_BITS = 10;

/**
 * Encodes `frames` to `file`, replacing what is there.
 *
 * H.264 keeps 8 and 10 bits and the density of chroma (High, High 10, High 4:2:2 or High 4:4:4 profile); ProRes is
 * written with 10 bits as 422 HQ, or as 4444 for 4:4:4. Other depths are brought to the next of these, or the
 * deepest, in one rounding. Grey gets chroma that says grey. Colour tags are those of `format`. Frames are pulled no
 * faster than the encoder takes them. The clip is written under another name in the same folder and renamed once
 * whole; after a failure nothing is left behind.
 *
 * @param frames planes as `format` tells; must not be changed after they are handed over
 * @throws RangeError on a format, size, ending, rate or quality the codec does not take, a frame of the wrong
 * length, or no frame at all
 * @throws TrundleError 'output-unwritable' (also when `file` is the source itself), 'interrupted'
 * @throws whatever `frames` throws
 */
export async function encodePlanes(
  file: string,
  options: Readonly<EncodePlanesOptions>,
  frames: AsyncIterable<{ readonly planes: readonly Samples[] }>,
  tools: Tools,
  signal?: AbortSignal,
): Promise<EncodeRecord> {
  const container = checkOptions(file, options);
  await refuseSource(file, options.source.file);
  const { format, fpsFraction, source, sound } = options;
  const coded = codedForm(options);
  const track = sound
    ? soundPlan(source, sound.inS, sound.durationS, container)
    : { sideInputs: [], outputOptions: [], streams: [] };
  const count = { frames: 0 };
  const recipe = {
    container,
    inputOptions: [
      ...['-f', 'rawvideo', '-pix_fmt', coded.pixelFormat],
      ...['-video_size', `${format.widthPx}x${format.heightPx}`, '-framerate', fpsFraction],
      ...coded.tags,
    ],
    chunks: chunksOf(frames, format, coded, count),
    sideInputs: track.sideInputs,
    outputOptions: [
      ...['-map', '0:v', ...track.outputOptions],
      ...videoOptions(options, coded),
      ...REPEATABLE,
    ],
  };
  await writeClip(file, recipe, tools, signal);
  return {
    frameCount: count.frames,
    pixelFormat: coded.pixelFormat,
    bitDepth: coded.scale.bitDepth,
    depthReduced: format.bitDepth > coded.scale.bitDepth,
    rangeReduced: format.colour.range !== coded.scale.range,
    sound: track.streams,
  };
}

/** Samples as they are coded. */
interface CodedForm {
  readonly pixelFormat: string;
  readonly scale: LevelScale;
  readonly tags: readonly string[];
  /** Samples of each chroma plane that grey gets; 0 when there is chroma. */
  readonly neutralCount: number;
}

function codedForm({ format, codec }: Readonly<EncodePlanesOptions>): CodedForm {
  const isProres = codec === 'prores';
  const bitDepth = isProres || format.bitDepth > 8 ? DEEPEST_BITS : 8;
  const range = isProres ? 'tv' : format.colour.range;
  const isGrey = format.chroma === 'grey';
  const chroma = isGrey ? (isProres ? '422' : '420') : format.chroma;
  const pixelCount = format.widthPx * format.heightPx;
  return {
    pixelFormat: planarName({ chroma, bitDepth }),
    scale: { bitDepth, range },
    tags: colourOptions({ ...format.colour, range }),
    neutralCount: isGrey ? pixelCount / (isProres ? 2 : 4) : 0,
  };
}

function checkOptions(file: string, options: Readonly<EncodePlanesOptions>): string {
  const { format, codec, fpsFraction, quality = PROOF_QUALITY } = options;
  const container = containerOf(file);
  if ((container === 'mov') !== (codec === 'prores')) {
    throw new RangeError(`file must end in ${codec === 'prores' ? '.mov' : '.mp4 or .mkv'}, got "${file}"`);
  }
  const taken = outputFormat(format, codec, format.widthPx, format.heightPx);
  // Chroma in places that no file can name would be shown in the wrong place.
  const lie = ({ widthPx, heightPx, planes }: PlaneFormat) => JSON.stringify([widthPx, heightPx, planes]);
  if (lie(taken) !== lie(format)) {
    const { pixelFormat, widthPx, heightPx } = format;
    throw new RangeError(
      `format must be one of outputFormat for ${codec}, got ${pixelFormat} of ${widthPx} x ${heightPx}`,
    );
  }
  if (ratio(fpsFraction) === null)
    throw new RangeError(`fpsFraction must be a positive fraction, got ${fpsFraction}`);
  if (!(quality >= 0 && quality <= 51))
    throw new RangeError(`quality must be within 0 to 51, got ${quality}`);
  return container;
}

function videoOptions(options: Readonly<EncodePlanesOptions>, { tags }: CodedForm): string[] {
  const { format, codec, quality = PROOF_QUALITY, preset = 'medium', timecode } = options;
  const constant = quality === 0 ? ['-qp', '0'] : ['-crf', String(quality)];
  const coder =
    codec === 'h264'
      ? ['-c:v', 'libx264', '-preset', preset, ...constant, ...chromaPlaceOptions(chromaLocationOf(format))]
      : ['-c:v', 'prores_ks', '-profile:v', format.chroma === '444' ? '4444' : 'hq'];
  return [
    ...['-filter:v', `setsar=${format.pixelAspect.toFixed(9)}:max=10000`],
    ...coder,
    ...tags,
    ...(timecode === null ? [] : ['-timecode', timecode]),
    ...['-movflags', '+faststart+write_colr'],
  ];
}

async function* chunksOf(
  frames: AsyncIterable<{ readonly planes: readonly Samples[] }>,
  format: PlaneFormat,
  { scale, neutralCount }: CodedForm,
  count: { frames: number },
): AsyncGenerator<Uint8Array> {
  const from = { bitDepth: format.bitDepth, range: format.colour.range };
  const bytesPerSample = scale.bitDepth > 8 ? 2 : 1;
  const tables = (['luma', 'chroma'] as const).map((kind) => levelTable(from, scale, kind));
  const grey = new (bytesPerSample === 1 ? Uint8Array : Uint16Array)(2 * neutralCount);
  grey.fill(2 ** (scale.bitDepth - 1));
  for await (const { planes } of frames) {
    checkFrame(planes, format, count.frames);
    for (const [k, samples] of planes.entries()) {
      const table = tables[Math.min(k, 1)];
      yield bytesOf(table ? applyLevels(samples, table, bytesPerSample) : samples);
    }
    if (neutralCount > 0) yield bytesOf(grey);
    count.frames++;
  }
  if (count.frames === 0) throw new RangeError('frames must hold at least one frame, got none');
}

function checkFrame(
  planes: readonly Samples[],
  { planes: wanted, bytesPerSample }: PlaneFormat,
  n: number,
): void {
  const told = (counts: number[], bytes: number) =>
    `planes of ${counts.join(', ')} samples of ${bytes} bytes`;
  const given = told(
    planes.map(({ length }) => length),
    planes[0]?.BYTES_PER_ELEMENT ?? 0,
  );
  const asked = told(
    wanted.map(({ widthPx, heightPx }) => widthPx * heightPx),
    bytesPerSample,
  );
  if (given !== asked) throw new RangeError(`frame ${n} must hold ${asked}, got ${given}`);
}

function bytesOf({ buffer, byteOffset, byteLength }: Samples): Uint8Array {
  return new Uint8Array(buffer, byteOffset, byteLength);
}
