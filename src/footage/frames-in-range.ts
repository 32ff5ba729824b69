/** The frames of a clip that belong to a range, with rising time stamps in seconds from its start, and what was lost. */
import type { Warning } from '../run/index.js';
import { placeInRange, roundingS, tooShort, type ClipRange } from './clip-range.js';
import { lossWarning, repeatedStamp, TIME_JUMP_S, timeJump } from './decode-warnings.js';
import type { FrameLook } from './frame-look.js';
import {
  decodeFailed,
  ENDED_WELL,
  stampedFrames,
  type DecodeEnd,
  type StampedFrame,
} from './stamped-frames.js';
import type { ClipFacts, Tools } from './types.js';

/** What is wanted of the clip. */
export interface WantedFrames {
  readonly range: ClipRange;
  readonly look: FrameLook;
  readonly signal: AbortSignal | undefined;
  /** Codes: clip-truncated, clip-damaged, time-stamps-repeat, time-stamps-jump. */
  readonly onWarning: (warning: Warning) => void;
}

/** A raw frame and its place in the range. */
export interface RangeFrame extends StampedFrame {
  /** 0 for the first frame of the range. */
  readonly index: number;
}

/**
 * The frames of the range [inS, outS), none dropped, none doubled, in order of showing.
 *
 * A frame belongs to the range by its own time stamp, with the rounding of containers allowed for. A frame that is not
 * stamped later than the one before is set one frame after it.
 *
 * @throws TrundleError 'clip-too-short' (fewer than two frames), 'decode-failed', 'interrupted'
 */
export async function* framesInRange(
  file: string,
  facts: ClipFacts,
  { range, look, signal, onWarning }: WantedFrames,
  tools: Tools,
): AsyncGenerator<RangeFrame, void, undefined> {
  const frames = stampedFrames(file, facts, { look, fromS: range.inS, signal }, tools);
  const allowanceS = roundingS(facts);
  let index = 0;
  let lastS = -Infinity;
  let saidRepeat = false;
  let saidJump = false;
  let step: IteratorResult<StampedFrame, DecodeEnd>;
  try {
    while (!(step = await frames.next()).done) {
      const { type, bytes, release } = step.value;
      let { timeS } = step.value;
      const place = placeInRange(timeS, range, allowanceS);
      if (place === 'after') break;
      if (place === 'before') {
        release();
        continue;
      }
      if (timeS <= lastS) {
        timeS = lastS + 1 / facts.fps;
        if (!saidRepeat) onWarning(repeatedStamp(timeS));
        saidRepeat = true;
      }
      if (timeS - lastS > TIME_JUMP_S && index > 0) {
        if (!saidJump) onWarning(timeJump(lastS, timeS));
        saidJump = true;
      }
      lastS = timeS;
      yield { index: index++, timeS, type, bytes, release };
    }
  } finally {
    await frames.return(ENDED_WELL);
  }
  const end = step.done ? step.value : ENDED_WELL;
  if (index === 0 && (end.failure !== null || end.faults.length > 0)) throw decodeFailed(file, end);
  if (index < 2) throw tooShort(file, facts, index, range);
  const loss = step.done ? lossWarning(file, facts, range, end, index, lastS) : null;
  if (loss) onWarning(loss);
}
