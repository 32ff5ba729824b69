/** How long a clip is and how many frames it holds: what its container states, unless its own frames prove that wrong. */
import { askFfprobe } from './ask-ffprobe.js';
import type { PacketTimes } from './packet-times.js';
import { decimal, durationOf, type Probed, type ProbedStream } from './stream-facts.js';
import type { FrameRate } from './frame-rate.js';
import type { Tools } from './types.js';

/** Fewer frames than this between what is stated and what is there is rounding. */
const FRAMES_OFF = 4;

/** Length and frame count. */
export interface ClipLength {
  readonly frameCount: number;
  readonly durationS: number;
  /** The length that the container states; absent where its frames bear it out. */
  readonly misstatedLengthS?: number;
}

/** What the length is read from. */
export interface LengthFacts {
  readonly probed: Probed;
  readonly video: ProbedStream;
  readonly rate: FrameRate;
  /** When the clip starts, as the container counts time. */
  readonly startS: number;
  readonly last: PacketTimes;
}

/**
 * The length from the first frame to the end of the last.
 *
 * The time stamp of the last packet decides where it lies clearly after the stated end, and where it lies before and all
 * frames that are stated fit; else a clip that ends early may have been cut short, which only decoding can tell. Streams
 * without a container state neither length nor count: their packets are counted.
 */
export async function lengthOf(
  file: string,
  { probed, video, rate, startS, last }: LengthFacts,
  tools: Tools,
): Promise<ClipLength> {
  const statedS = durationOf(probed, video);
  const stated = decimal(video.nb_frames);
  const lastFrameS = last.endIsStated ? 0 : 1 / rate.fps;
  const seenS = last.endS === null ? null : last.endS + lastFrameS - startS;
  const durationS = lengthBy(statedS, seenS, stated, rate.fps);
  if (durationS === null) {
    const counted = stated ?? (await countPackets(file, tools));
    return { frameCount: counted, durationS: counted / rate.fps };
  }
  const fitting = Math.round(durationS * rate.fps);
  const isTooMany = stated !== null && !rate.variableRate && stated >= fitting + FRAMES_OFF;
  const frameCount = stated === null || isTooMany ? fitting : stated;
  const isMisstated = statedS !== null && durationS !== statedS;
  return { frameCount, durationS, ...(isMisstated && { misstatedLengthS: statedS }) };
}

function lengthBy(
  statedS: number | null,
  seenS: number | null,
  stated: number | null,
  fps: number,
): number | null {
  if (statedS === null || seenS === null) return statedS ?? seenS;
  const isLonger = (seenS - statedS) * fps >= FRAMES_OFF;
  const holdsAll = stated !== null && stated < seenS * fps + FRAMES_OFF;
  const isShorter = (statedS - seenS) * fps >= FRAMES_OFF && holdsAll;
  return isLonger || isShorter ? seenS : statedS;
}

async function countPackets(file: string, tools: Tools): Promise<number> {
  const question = ['-select_streams', 'V:0', '-count_packets', '-show_entries', 'stream=nb_read_packets'];
  const { stdout } = await askFfprobe(file, [...question, '-of', 'csv=p=0'], tools);
  return decimal(stdout.split(/[\n,]/)[0]) ?? 0;
}
