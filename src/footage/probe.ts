/** Reads what a clip is (size as shown, rate, length, scan, timecode) without decoding it in full. */
import { execFile } from 'node:child_process';
import { access, constants, open, stat } from 'node:fs/promises';
import { promisify } from 'node:util';
import { TrundleError } from '../run/index.js';
import { ffmpegPath, quoted } from './clip-path.js';
import { frameRate } from './frame-rate.js';
import { inputLimits, isPictureCodec, turnedAway } from './input-limits.js';
import { toolEnvironment } from './tool-environment.js';
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

const run = promisify(execFile);
/** Packet times of this much of the clip decide whether the rate is variable. */
const PACKETS_S = 20;
const WITHIN_MS = 120_000;

/**
 * Facts about a clip.
 *
 * The video stream is the first that is no cover picture. Nothing but the file itself is opened, on the disk or over a
 * network, whatever the file says.
 *
 * @throws TrundleError 'clip-missing' when there is no such file; 'clip-unreadable' for a folder, an empty file or
 * what FFmpeg cannot read; 'clip-no-video' for sound alone
 */
export async function probeClip(file: string, tools: Tools): Promise<ClipFacts> {
  await checkFile(file);
  const probed = await askAbout(file, tools);
  const streams = probed.streams ?? [];
  const video = videoStream(streams);
  if (!video) throw withoutVideo(file, streams);
  if (!video.width || !video.height)
    throw unreadable(file, 'the size of its picture is not stated, it may be damaged');
  if (video.codec_name !== undefined && !isPictureCodec(video.codec_name)) {
    const why = `its picture is coded as ${video.codec_name}, which no camera or editor in use writes`;
    throw unreadable(file, why, '; export it as H.264 or ProRes');
  }
  const [packets, scan] = await Promise.all([packetTimes(file, tools), firstFrame(file, tools)]);
  const rate = frameRate(packets.timeS, {
    base: video.r_frame_rate,
    average: video.avg_frame_rate,
    tickS: ratio(video.time_base) ?? 0,
    countsFields: video.codec_name === 'h264',
  });
  const length = await lengthOf(file, probed, video, rate.fps, tools);
  const turn = uprightTurn(video.side_data_list ? video : { ...video, ...scan.sideData });
  const colour = colourTags(video);
  const sound = soundStreams(streams);
  const pixelAspect = ratio(video.sample_aspect_ratio) ?? 1;
  const wide = Math.round(video.width * pixelAspect);
  const onItsSide = turn.rotationDeg % 180 !== 0;
  return {
    file,
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
    startTimeS: decimal(video.start_time) ?? packets.firstS ?? decimal(probed.format?.start_time) ?? 0,
    hasTimeStamps: packets.timeS.length > 0,
    timecodeStart: timecodeOf(probed, video),
  };
}

async function checkFile(file: string): Promise<void> {
  const found = await stat(file).catch(() => null);
  if (!found) throw new TrundleError('clip-missing', `There is no file ${quoted(file)}; check the path.`);
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
  const { stdout, failure } = await ffprobe(file, ['-of', 'json', '-show_format', '-show_streams'], tools);
  const probed = failure === null ? (JSON.parse(stdout) as Probed) : {};
  if (probed.format?.format_name) return probed;
  if (turnedAway(failure ?? '')?.isList) {
    throw unreadable(
      file,
      'it is a list that names other files or addresses, and these are not opened',
      '; name the clip itself',
    );
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

/** Runs ffprobe on the clip; `failure` holds what it said when it gave up. */
async function ffprobe(
  file: string,
  question: readonly string[],
  tools: Tools,
): Promise<{ stdout: string; failure: string | null }> {
  const command = ['-v', 'error', ...inputLimits('file'), ...question, '-i', ffmpegPath(file)];
  try {
    const { stdout } = await run(tools.ffprobe.path, command, {
      maxBuffer: 256 * 1024 * 1024,
      timeout: WITHIN_MS,
      windowsHide: true,
      env: toolEnvironment(),
    });
    return { stdout, failure: null };
  } catch (error) {
    return { stdout: '', failure: (error as { stderr?: string }).stderr || String(error) };
  }
}

async function packetTimes(file: string, tools: Tools): Promise<{ timeS: number[]; firstS: number | null }> {
  const question = ['-select_streams', 'V:0', '-read_intervals', `%+${PACKETS_S}`];
  const { stdout } = await ffprobe(
    file,
    [...question, '-show_entries', 'packet=pts_time', '-of', 'csv=p=0'],
    tools,
  );
  const timeS = stdout
    .split('\n')
    .map((line) => decimal(line.split(',')[0].trim()))
    .filter((time) => time !== null);
  return { timeS, firstS: timeS.length > 0 ? timeS.reduce((a, b) => Math.min(a, b)) : null };
}

/** Some containers leave scan and rotation to the frames themselves. */
async function firstFrame(
  file: string,
  tools: Tools,
): Promise<{ interlaced: boolean; sideData: Pick<ProbedStream, 'side_data_list'> }> {
  const question = ['-select_streams', 'V:0', '-read_intervals', '%+#1', '-show_frames', '-of', 'json'];
  const { stdout, failure } = await ffprobe(file, question, tools);
  if (failure !== null) return { interlaced: false, sideData: {} };
  const { frames = [] } = JSON.parse(stdout) as {
    frames?: { interlaced_frame?: number; side_data_list?: [] }[];
  };
  const sideData = frames[0]?.side_data_list ? { side_data_list: frames[0].side_data_list } : {};
  return { interlaced: frames[0]?.interlaced_frame === 1, sideData };
}

function isInterlaced(fieldOrder: string | undefined): boolean | null {
  if (fieldOrder === undefined || fieldOrder === 'unknown') return null;
  return fieldOrder !== 'progressive';
}

/** Length and frame count as stated; streams without a container state neither, so their packets are counted. */
async function lengthOf(
  file: string,
  probed: Probed,
  video: ProbedStream,
  fps: number,
  tools: Tools,
): Promise<{ frameCount: number; durationS: number }> {
  const durationS = durationOf(probed, video);
  const frameCount = decimal(video.nb_frames) ?? (durationS === null ? null : Math.round(durationS * fps));
  if (frameCount !== null && durationS !== null) return { frameCount, durationS };
  const question = ['-select_streams', 'V:0', '-count_packets', '-show_entries', 'stream=nb_read_packets'];
  const { stdout } = await ffprobe(file, [...question, '-of', 'csv=p=0'], tools);
  const counted = frameCount ?? decimal(stdout.split(/[\n,]/)[0]) ?? 0;
  return { frameCount: counted, durationS: durationS ?? counted / fps };
}
