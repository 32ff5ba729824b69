/** Picks, for each of some rising moments, the frame nearest in time; times in seconds. */

/** A frame and the moment that it was picked for. */
export interface NearestFrame<Frame> {
  readonly wantedS: number;
  readonly frame: Frame;
}

/**
 * One frame for each moment: the nearest in time, the earlier of two equally near.
 *
 * Before the first frame that is the first, after the last the last; a frame may be picked several times. No more frames are taken than
 * are needed. Without frames nothing comes.
 *
 * @param frames with rising `timeS`
 * @param wantedS rising
 * @example nearestFrames frames at 0, 0.04, 0.08 s for [0.01, 0.07] // those at 0 and 0.08
 */
export async function* nearestFrames<Frame extends { readonly timeS: number }>(
  frames: AsyncIterable<Frame> | Iterable<Frame>,
  wantedS: readonly number[],
): AsyncGenerator<NearestFrame<Frame>, void, undefined> {
  let shown: Frame | null = null;
  let k = 0;
  if (wantedS.length === 0) return;
  for await (const next of frames) {
    if (shown) {
      const middleS = (shown.timeS + next.timeS) / 2;
      for (; k < wantedS.length && wantedS[k] <= middleS; k++) yield { wantedS: wantedS[k], frame: shown };
      if (k === wantedS.length) return;
    }
    shown = next;
  }
  if (!shown) return;
  for (; k < wantedS.length; k++) yield { wantedS: wantedS[k], frame: shown };
}
