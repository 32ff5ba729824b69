/** Reads what a clip is (size as shown, rate, length, scan, timecode) without decoding it in full. */
import { access, constants, open, stat } from 'node:fs/promises';
import { TrundleError } from '../run/index.js';
import { askFfprobe, probedJson, type Prober } from './ask-ffprobe.js';
import { refuseIfAborted } from './ffmpeg-job.js';
import { lengthOf } from './clip-length.js';
import { quoted } from './clip-path.js';
import { asksForLater, frameRate, type FrameRate, type StatedRate } from './frame-rate.js';
import { decoderLeftAlone, turnedAway } from './input-limits.js';
import { areAll, firstPackets, lastPackets, packetsAfter, type PacketTimes } from './packet-times.js';
import { refuseHugePicture, refuseImpossiblePicture } from './picture-limits.js';
import { markOf } from './sha256.js';
import { holdsPictureRow, namesPictureRow, picturesRefused, readsPictures } from './still-pictures.js';
import {
  bitDepth,
  colourTags,
  decimal,
  durationOf,
  ratio,
  soundStreams,
  timecodeOf,
  uprightTurn,
  videoStream,
  type Probed,
  type ProbedStream,
} from './stream-facts.js';
import type { ClipFacts, Tools } from './types.js';

/** FFmpeg's readers of coded pictures without a container. */
const BARE_STREAM =
  /^(h26[1-4]|hevc|vvc|evc|apv|m4v|mpegvideo|vc1|dirac|dnxhd|cavsvideo|avs[23]|obu|av1|s?mjpeg|mjpeg_2000)$/;

/**
 * Facts about a clip.
 *
 * The video stream is the first that is no cover picture. Nothing but the file itself is opened, on the disk or over a
 * network, whatever the file says.
 *
 * @throws TrundleError 'clip-missing' when there is no such file; 'clip-unreadable' for a folder, an empty file or
 * what FFmpeg cannot read; 'clip-no-video' for sound alone; 'clip-unsupported' for single pictures and rows of them, and
 * for absurd sizes; 'ffmpeg-broke-off', 'ffmpeg-missing' when ffprobe does not answer as such; 'interrupted'
 */
export async function probeClip(
  file: string,
  { ffmpeg, ffprobe }: Tools,
  signal?: AbortSignal,
): Promise<ClipFacts> {
  refuseIfAborted(signal, file);
  // Whoever is asked about the clip is stopped with it.
  const tools: Tools & Prober = { ffmpeg, ffprobe, signal };
  await checkFile(file);
  const mark = await markOf(file);
  const probed = await askAbout(file, tools);
  const streams = probed.streams ?? [];
  const video = videoStream(streams);
  if (!video) throw withoutVideo(file, streams);
  if (!video.width || !video.height)
    throw unreadable(file, 'the size of its picture is not stated, it may be damaged');
  const pixelAspect = ratio(video.sample_aspect_ratio) ?? 1;
  refuseHugePicture(file, video.width, video.height, pixelAspect);
  const asked = [firstPackets(file, tools), lastPackets(file, tools), firstFrame(file, tools)] as const;
  // Where one fails, the others have ended before that is told.
  await Promise.allSettled(asked);
  const [first, found, scan] = await Promise.all(asked);
  const last = found.endS === null && areAll(first) ? first : found;
  const startTimeS = decimal(video.start_time) ?? earliest(first) ?? decimal(probed.format?.start_time) ?? 0;
  const rate = await rateOf(file, probed, video, { first, last, startTimeS }, tools);
  const length = await lengthOf(file, { probed, video, rate, startS: startTimeS, last }, tools);
  const turn = uprightTurn(video.side_data_list ? video : { ...video, ...scan.sideData });
  const colour = colourTags(video);
  const sound = soundStreams(streams);
  const wide = Math.round(video.width * pixelAspect);
  const onItsSide = turn.rotationDeg % 180 !== 0;
  return {
    file,
    ...(mark && { mark }),
    codec: video.codec_name ?? 'unknown',
    pixelFormat: video.pix_fmt ?? 'unknown',
    bitDepth: bitDepth(video),
    widthPx: onItsSide ? video.height : wide,
    heightPx: onItsSide ? wide : video.height,
    ...turn,
    pixelAspect,
    storedWidthPx: video.width,
    storedHeightPx: video.height,
    ...rate,
    interlaced: isInterlaced(video.field_order) ?? scan.interlaced,
    colourTransfer: colour.transfer,
    colour,
    hasAudio: sound.length > 0,
    sound,
    ...length,
    startTimeS,
    hasTimeStamps: first.areShown && !isBare(probed),
    timecodeStart: timecodeOf(probed, video),
  };
}

async function checkFile(file: string): Promise<void> {
  const found = await stat(file).catch(() => null);
  if (!found && namesPictureRow(file)) throw picturesRefused(file, 'row');
  if (!found) throw new TrundleError('clip-missing', `There is no file ${quoted(file)}; check the path.`);
  if (found.isDirectory() && (await holdsPictureRow(file))) throw picturesRefused(file, 'row');
  if (found.isDirectory()) throw unreadable(file, 'it is a folder; name a clip inside it', '');
  if (found.size === 0) throw unreadable(file, 'it is empty; copy it again from the card', '');
  await access(file, constants.R_OK).catch(() => {
    throw unreadable(file, 'it may not be opened; check its permissions', '');
  });
}

function unreadable(
  file: string,
  why: string,
  then = '; copy it again from the card or export it anew',
): TrundleError {
  return new TrundleError('clip-unreadable', `The clip ${quoted(file)} cannot be read: ${why}${then}.`);
}

function withoutVideo(file: string, streams: readonly ProbedStream[]): TrundleError {
  if (!streams.some((one) => one.codec_type === 'audio'))
    return unreadable(file, 'it is not a video file', '; name a video clip');
  return new TrundleError(
    'clip-no-video',
    `The file ${quoted(file)} holds sound but no moving picture; name the clip itself.`,
  );
}

async function askAbout(file: string, tools: Tools): Promise<Probed> {
  const question = ['-of', 'json', '-show_format', '-show_streams'];
  const answer = await askFfprobe(file, question, tools);
  const { failure, said } = answer;
  refuseImpossiblePicture(file, said);
  const probed = failure === null ? (probedJson(answer, tools) as Probed) : {};
  const turned = turnedAway(failure ?? '');
  const reader = probed.format?.format_name ?? turned?.reader;
  if (reader !== undefined && readsPictures(reader)) throw picturesRefused(file, 'picture');
  if (probed.format?.format_name) return probed;
  if (turned?.isList) {
    throw unreadable(
      file,
      'it is a list that names other files or addresses, and these are not opened',
      '; name the clip itself',
    );
  }
  const coded = decoderLeftAlone(failure ?? '');
  if (coded !== null) {
    const why = `its picture is coded as ${coded}, which no camera or editor in use writes`;
    throw unreadable(file, why, '; export it as H.264 or ProRes');
  }
  if (failure !== null && /moov atom not found/.test(failure) && (await startsAsMovie(file))) {
    throw unreadable(file, 'its table of contents is missing, as when a recording or a copy is cut short');
  }
  throw unreadable(
    file,
    'it is not a video file that FFmpeg knows',
    '; name a video clip, or export it as MP4 or MOV',
  );
}

/** Whether the file opens with a box of the MP4 / QuickTime kind, and not merely carries such a name. */
async function startsAsMovie(file: string): Promise<boolean> {
  const handle = await open(file);
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(8), 0, 8, 0);
    return bytesRead === 8 && /^(ftyp|mdat|wide|free|skip)$/.test(buffer.toString('latin1', 4, 8));
  } finally {
    await handle.close();
  }
}

/** Earliest moment of some packets. */
function earliest({ timeS }: PacketTimes): number | null {
  return timeS.length > 0 ? timeS.reduce((a, b) => Math.min(a, b)) : null;
}

/** The rate, from time stamps of the start, and of three places further on where the average speaks against the start. */
async function rateOf(
  file: string,
  probed: Probed,
  video: ProbedStream,
  { first, last, startTimeS }: { first: PacketTimes; last: PacketTimes; startTimeS: number },
  tools: Tools,
): Promise<FrameRate> {
  const { timeS } = first;
  const stated: StatedRate = {
    base: video.r_frame_rate,
    average: video.avg_frame_rate,
    tickS: ratio(video.time_base) ?? 0,
    // Containers count frames, whatever they hold.
    countsFields: video.codec_name === 'h264' && isBare(probed),
    isWhole: areAll(first),
  };
  // A container that counts its frames knows its average.
  const isCounted = decimal(video.nb_frames) !== null && !isBare(probed);
  if (stated.isWhole || isCounted || !asksForLater(timeS, stated)) return frameRate(timeS, stated);
  const endS = last.endS ?? startTimeS + (durationOf(probed, video) ?? 0);
  const moments = [1 / 4, 1 / 2, 3 / 4].map((share) => startTimeS + share * (endS - startTimeS));
  return frameRate(timeS, { ...stated, laterS: await packetsAfter(file, moments, tools) });
}

/** Whether the file is a bare stream, whose time stamps FFmpeg makes up by counting. */
function isBare({ format }: Probed): boolean {
  return BARE_STREAM.test(format?.format_name ?? '');
}

/** Some containers leave scan and rotation to the frames themselves. */
async function firstFrame(
  file: string,
  tools: Tools,
): Promise<{ interlaced: boolean; sideData: Pick<ProbedStream, 'side_data_list'> }> {
  const question = ['-select_streams', 'V:0', '-read_intervals', '%+#1', '-show_frames', '-of', 'json'];
  const answer = await askFfprobe(file, question, tools);
  if (answer.failure !== null) return { interlaced: false, sideData: {} };
  const { frames = [] } = probedJson(answer, tools) as {
    frames?: { interlaced_frame?: number; side_data_list?: [] }[];
  };
  const sideData = frames[0]?.side_data_list ? { side_data_list: frames[0].side_data_list } : {};
  return { interlaced: frames[0]?.interlaced_frame === 1, sideData };
}

function isInterlaced(fieldOrder: string | undefined): boolean | null {
  if (fieldOrder === undefined || fieldOrder === 'unknown') return null;
  return fieldOrder !== 'progressive';
}
