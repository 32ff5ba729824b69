/** Picks, for each tick of an even rate, the frame nearest in time; times in seconds. */
import { ratio } from './stream-facts.js';

/** The even ticks. */
export interface EvenRate {
  /** Frames per second as an exact fraction, for example "24000/1001". */
  readonly fpsFraction: string;
  /** Moment of tick 0; default the first frame's. Sound has to be cut there too. */
  readonly startS?: number | undefined;
  /** First moment without a tick; the last frame is held up to there. Default: half a tick after the last frame. */
  readonly endS?: number | undefined;
}

/** Ticks this near to the end, in ticks, are at the end. */
const AT_END = 0.25;

/**
 * One frame for each tick startS + k / fps: the nearest in time, the earlier of two equally near.
 *
 * Frames of an uneven rate are repeated or left out, so that picture and sound stay together within half a tick. Before
 * the first frame that one is given, after the last the last. A frame given twice is the same object. Without frames
 * nothing comes.
 *
 * @param frames with rising `timeS`
 * @throws RangeError when the rate is no positive fraction
 */
export async function* evenFrames<Frame extends { readonly timeS: number }>(
  frames: AsyncIterable<Frame> | Iterable<Frame>,
  { fpsFraction, startS, endS }: EvenRate,
): AsyncGenerator<Frame, void, undefined> {
  const rateHz = ratio(fpsFraction);
  if (rateHz === null) throw new RangeError(`fpsFraction must be a positive fraction, got ${fpsFraction}`);
  let firstS = startS ?? 0;
  let tick = 0;
  let shown: Frame | null = null;
  const tickS = () => firstS + tick / rateHz;
  const isPast = () => endS !== undefined && firstS + (tick + AT_END) / rateHz >= endS;
  for await (const next of frames) {
    if (shown) {
      const middleS = (shown.timeS + next.timeS) / 2;
      for (; tickS() <= middleS; tick++) {
        if (isPast()) return;
        yield shown;
      }
    } else {
      firstS = startS ?? next.timeS;
    }
    shown = next;
  }
  if (!shown) return;
  const heldS = endS === undefined ? shown.timeS + 0.5 / rateHz : Infinity;
  for (; tickS() < heldS && !isPast(); tick++) yield shown;
}
