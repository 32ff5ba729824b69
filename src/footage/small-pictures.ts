/** Small colour pictures along a clip, to play it and to find places in it: upright, square pixels, times in seconds from its start. */
import { analysisSize } from './analysis-size.js';
import { checkRange } from './clip-range.js';
import { scaledLook } from './frame-look.js';
import { framesInRange } from './frames-in-range.js';
import { nearestFrames } from './nearest-frames.js';
import { stampedFrames } from './stamped-frames.js';
import type { ClipFacts, Picture, Tools } from './types.js';

/** How the pictures are to be. */
export interface SmallPictureOptions {
  /** Widest they may be; smaller clips keep their own width. */
  readonly widthPx: number;
  readonly signal?: AbortSignal | undefined;
}

/** A picture, the moment that it was asked for, and the time stamp of its frame. */
export interface TimedPicture extends Picture {
  readonly wantedS: number;
  /** Of the frame itself, seconds from the start of the clip. */
  readonly timeS: number;
}

/** More than two frames are needed for a stretch of one moment: this many frames either side are looked at. */
const MARGIN_FRAMES = 1.5;
/** A clip of at most this many pixels in all is decoded as a whole, about 20 s of 1920x1080 at 25 frames/s. */
const WHOLE_PX = 1.1e9;
/** Seeks that run side by side. */
const SEEKS_AT_ONCE = 2;

/**
 * The frame nearest in time to each moment, decoded in one pass over the stretch from the first moment to the last.
 *
 * Turned, deinterlaced and scaled as `decodeGrey` does. A damaged or cut clip gives its last good frame for what is missing at its end.
 *
 * @param wantedS rising, seconds from the start of the clip
 * @throws TrundleError 'range-invalid' where the clip ends before the first moment, 'clip-too-short', 'decode-failed', 'interrupted'
 */
export async function* smallPictures(
  facts: ClipFacts,
  wantedS: readonly number[],
  { widthPx, signal }: Readonly<SmallPictureOptions>,
  tools: Tools,
): AsyncGenerator<TimedPicture, void, undefined> {
  if (wantedS.length === 0) return;
  const marginS = MARGIN_FRAMES / facts.fps;
  const inS = Math.max(0, wantedS[0] - marginS);
  const range = checkRange(facts.file, facts, { inS, outS: wantedS[wantedS.length - 1] + marginS });
  const size = analysisSize(facts, widthPx);
  const look = scaledLook(facts, size.widthPx, size.heightPx, 'rgb24');
  const frames = framesInRange(facts.file, facts, { range, look, signal, onWarning: () => {} }, tools);
  for await (const { wantedS: atS, frame } of nearestFrames(frames, wantedS))
    yield { ...size, rgb: frame.bytes, wantedS: atS, timeS: frame.timeS };
}

/**
 * Pictures spread over the whole clip, each with the time stamp that its frame has.
 *
 * A short clip is decoded once and gives `count` of them at even distances, the first and the last frame among them. Of a long one only
 * the frame is decoded that a seek leads to, so that they stand a little before their even places and those that fall together are given
 * once.
 *
 * @param count at least 1; a clip of fewer frames gives fewer
 * @throws TrundleError 'clip-too-short' (one frame only), 'decode-failed', 'interrupted'
 */
export async function* posterPictures(
  facts: ClipFacts,
  count: number,
  options: Readonly<SmallPictureOptions>,
  tools: Tools,
): AsyncGenerator<TimedPicture, void, undefined> {
  const wantedS = evenMoments(facts, count);
  const framesPx = facts.durationS * facts.fps * facts.storedWidthPx * facts.storedHeightPx;
  if (!facts.hasTimeStamps || framesPx <= WHOLE_PX) {
    yield* smallPictures(facts, wantedS, options, tools);
    return;
  }
  let lastS = -Infinity;
  for (let from = 0; from < wantedS.length; from += SEEKS_AT_ONCE) {
    const some = wantedS.slice(from, from + SEEKS_AT_ONCE);
    for (const picture of await Promise.all(some.map((atS) => soughtPicture(facts, atS, options, tools)))) {
      if (!picture || picture.timeS <= lastS) continue;
      lastS = picture.timeS;
      yield picture;
    }
  }
}

/** Moments at even distances from the first frame to the last. */
function evenMoments({ durationS, fps }: ClipFacts, count: number): number[] {
  const most = Math.max(1, Math.min(count, Math.round(durationS * fps)));
  const lastS = Math.max(0, durationS - 1 / fps);
  return Array.from({ length: most }, (_, k) => (most === 1 ? 0 : (k * lastS) / (most - 1)));
}

/** The first frame that a seek leads to; null where it leads to none. */
async function soughtPicture(
  facts: ClipFacts,
  wantedS: number,
  { widthPx, signal }: Readonly<SmallPictureOptions>,
  tools: Tools,
): Promise<TimedPicture | null> {
  const size = analysisSize(facts, widthPx);
  const look = scaledLook(facts, size.widthPx, size.heightPx, 'rgb24');
  const plan = { look, fromS: wantedS, near: true, signal };
  for await (const { timeS, bytes } of stampedFrames(facts.file, facts, plan, tools))
    return { ...size, rgb: bytes, wantedS, timeS };
  return null;
}
