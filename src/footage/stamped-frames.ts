/** Decodes a clip to raw frames, each with its time stamp in seconds from the start of the clip and its coding type. */
import { TrundleError } from '../run/index.js';
import { ffmpegPath, quoted } from './clip-path.js';
import type { FrameLook } from './frame-look.js';
import { refuseIfAborted, refuseIfBrokenOff, startFfmpeg, stopOnAbort, type Job } from './ffmpeg-job.js';
import { ShowInfo, type FrameStamp } from './show-info.js';
import type { ClipFacts, FrameType, Tools } from './types.js';

/** Seeking aims this much ahead of the first frame wanted: frames right after a key frame may lean on earlier ones. */
const SEEK_AHEAD_S = 1;

/** What to decode and how the frames are to look. */
export interface FramePlan {
  readonly look: FrameLook;
  /** Frames before this clip time may be left out (never later ones). */
  readonly fromS: number;
  /** Any frame near `fromS` will do for the first: quicker, for samples. */
  readonly near?: boolean;
  readonly signal?: AbortSignal | undefined;
}

/** One raw frame. */
export interface StampedFrame {
  /** Seconds from the first frame of the clip. */
  readonly timeS: number;
  readonly type: FrameType;
  /** Row by row in the pixel layout asked for, from the start of its memory; the receiver owns it. */
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** Gives the memory back for a later frame. Nobody has to; whoever does must not look at the bytes again. */
  readonly release: () => void;
}

/** How decoding ended. */
export interface DecodeEnd {
  /** Null when FFmpeg ended well, else what it said. */
  readonly failure: string | null;
  /** Faults FFmpeg met in the clip after the first frame wanted, oldest first; at most a few are kept. */
  readonly faults: readonly string[];
}

/** An end without fault, also of a decode that was left early. */
export const ENDED_WELL: DecodeEnd = Object.freeze({ failure: null, faults: [] });

/**
 * Every frame from `fromS` (or a little before) to the end, none dropped, none doubled, in order of showing.
 *
 * Clip time is the container's time stamp minus that of the stream's first frame. Where the stream carries no time
 * stamps at all, frames are counted at the stated rate. Reading slowly holds FFmpeg back; leaving the loop ends it.
 *
 * @throws TrundleError 'interrupted' when the signal fires; 'ffmpeg-broke-off' when FFmpeg was killed, crashed or fell silent: what it gave
 * until then is no clip that ends early
 */
export async function* stampedFrames(
  file: string,
  facts: ClipFacts,
  plan: FramePlan,
  tools: Tools,
): AsyncGenerator<StampedFrame, DecodeEnd> {
  const seekS = plan.fromS - (plan.near ? 0 : SEEK_AHEAD_S);
  if (seekS > 0 && facts.hasTimeStamps) {
    const frames = oneRun(file, facts, plan, seekS, tools);
    try {
      const first = await frames.next();
      // Some streams can only be entered too late, or not at all: then decode from the start instead.
      const isInTime =
        !first.done && (plan.near === true || first.value.timeS <= plan.fromS + 0.5 / facts.fps);
      if (isInTime) {
        yield first.value;
        return yield* frames;
      }
    } finally {
      await frames.return(ENDED_WELL);
    }
  }
  return yield* oneRun(file, facts, plan, 0, tools);
}

async function* oneRun(
  file: string,
  facts: ClipFacts,
  plan: FramePlan,
  seekS: number,
  tools: Tools,
): AsyncGenerator<StampedFrame, DecodeEnd> {
  refuseIfAborted(plan.signal, file);
  // The first frames after a seek may rightly complain of what they lean on.
  const stamps = new ShowInfo(seekS > 0);
  const job = startFfmpeg(
    {
      inputOptions: [
        // Turning is done in the filters: what FFmpeg turns by itself differs between versions.
        ...['-noautorotate', '-copyts'],
        ...(seekS > 0 ? ['-ss', seekS.toFixed(6)] : []),
        ...(plan.near ? ['-noaccurate_seek'] : []),
      ],
      input: ffmpegPath(file),
      outputOptions: [
        ...['-map', '0:V:0', '-an', '-sn', '-dn', '-filter:v', plan.look.filters],
        ...[tools.ffmpeg.knowsFpsMode ? '-fps_mode' : '-vsync', 'passthrough'],
        ...['-pix_fmt', plan.look.pixels, '-f', 'rawvideo'],
      ],
      onLine: (line) => stamps.hear(line),
    },
    tools,
  );
  const untie = stopOnAbort(job, plan.signal);
  void job.said.then(() => stamps.end());
  try {
    let index = 0;
    const spare: Uint8Array<ArrayBuffer>[] = [];
    for await (const bytes of pieces(job, plan.look.frameBytes, spare)) {
      const stamp = await stamps.next();
      if (!stamp) break;
      const release = (): void => void spare.push(bytes);
      yield { timeS: clipTime(stamp, index, seekS, facts), type: stamp.type, bytes, release };
      index++;
    }
    const failure = await job.done;
    refuseIfAborted(plan.signal, file);
    refuseIfBrokenOff(job, file);
    return { failure, faults: stamps.faults };
  } finally {
    untie();
    job.stop();
    await job.done;
  }
}

function clipTime(stamp: FrameStamp, index: number, seekS: number, facts: ClipFacts): number {
  if (!facts.hasTimeStamps || stamp.timeS === null) return seekS + index / facts.fps;
  return stamp.timeS - facts.startTimeS;
}

/**
 * Cuts the byte stream into frames, each in memory of its own; an incomplete last one is left out.
 * @param spare memory of frames that nobody needs any more, taken before any new: the collector of the language is slow to see that
 * so much lies idle, and searches everything for it
 */
async function* pieces(
  job: Job,
  frameBytes: number,
  spare: Uint8Array<ArrayBuffer>[],
): AsyncGenerator<Uint8Array<ArrayBuffer>> {
  let frame = new Uint8Array(frameBytes);
  let filled = 0;
  for await (const chunk of job.stdout as AsyncIterable<Buffer>) {
    for (let from = 0; from < chunk.length;) {
      const part = chunk.subarray(from, from + frameBytes - filled);
      frame.set(part, filled);
      filled += part.length;
      from += part.length;
      if (filled < frameBytes) continue;
      yield frame;
      frame = spare.pop() ?? new Uint8Array(frameBytes);
      filled = 0;
    }
  }
}

/** What a decode that gave no frame at all is reported as. */
export function decodeFailed(file: string, end: DecodeEnd): TrundleError {
  const said = end.faults[0] ?? end.failure?.trim().split('\n').at(-1) ?? 'no reason given';
  return new TrundleError(
    'decode-failed',
    `No frame of ${quoted(file)} could be decoded (FFmpeg: ${said}); play the clip to check it, or export it as MP4 or MOV.`,
  );
}
