/** Takes one picture out of a clip in colour, upright and with square pixels. */
import { analysisSize } from './analysis-size.js';
import { roundingS } from './clip-range.js';
import { scaledLook } from './frame-look.js';
import {
  decodeFailed,
  ENDED_WELL,
  stampedFrames,
  type DecodeEnd,
  type StampedFrame,
} from './stamped-frames.js';
import type { ClipFacts, Picture, Tools } from './types.js';

/**
 * The frame on screen at `atS`: the last whose time stamp is not later. Before the first frame that is the first;
 * after the last frame, the last.
 *
 * @param atS seconds from the start of the clip
 * @param widthPx at most; clips narrower than this keep their width
 * @throws TrundleError 'decode-failed' when no frame can be decoded
 */
export async function grabPicture(
  file: string,
  facts: ClipFacts,
  atS: number,
  widthPx: number,
  tools: Tools,
  signal?: AbortSignal,
): Promise<Picture> {
  if (Number.isNaN(atS)) throw new RangeError('atS must be a number, got NaN');
  const size = analysisSize(facts, widthPx);
  const lastFrameS = facts.durationS > 0 ? facts.durationS - 1 / facts.fps : atS;
  const wantedS = Math.max(0, Math.min(atS, lastFrameS));
  const look = scaledLook(facts, size.widthPx, size.heightPx, 'rgb24');
  const frames = stampedFrames(file, facts, { look, fromS: wantedS, signal }, tools);
  const allowanceS = roundingS(facts);
  let shown: StampedFrame | null = null;
  let step: IteratorResult<StampedFrame, DecodeEnd>;
  while (!(step = await frames.next()).done) {
    if (shown && step.value.timeS > wantedS + allowanceS) break;
    shown = step.value;
  }
  if (!step.done) await frames.return(ENDED_WELL);
  if (!shown) throw decodeFailed(file, step.done ? step.value : ENDED_WELL);
  return { ...size, rgb: shown.bytes };
}
