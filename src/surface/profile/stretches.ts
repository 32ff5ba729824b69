/** A pass cut into stretches of frames that overlap enough to be solved each by itself; places in metres. */
import type { RolledDeck } from '../deck/rolled-deck.js';
import { frameStepM } from './height-rows.js';
import type { Stretch } from './types.js';

/** A stretch of this many frames takes some tenths of a second; a pass up to a quarter longer is not cut. */
const STRETCH_FRAMES = 400;
const UNCUT_SHARE = 1.25;
const LEAST_OVERLAP_FRAMES = 100;
/** Most frames of an overlap: the work goes with the cube of a stretch. */
const MOST_OVERLAP_FRAMES = 400;
/** A stretch at least this many overlaps long, or little of it is new. */
const OVERLAPS = 1.6;
/** Periods of the cut-off after which the end of a stretch no longer matters to its drift. */
const DRIFT_PERIODS = 1.25;

/**
 * Cuts a pass into stretches of about 400 frames, all of one length; one for a short pass.
 *
 * Neighbours share max(2 L / v, 100 frames, L / v and 1.25 periods of the cut-off on either side), at most 400 frames. They hand
 * over in the middle of what both of them saw under both axles.
 *
 * @returns in order; what they answer for tiles [rear axle at the first frame, front axle at the last]
 */
export function stretchesOf(deck: RolledDeck): Stretch[] {
  const { rearM, frontAheadM, rateHz, cutoffHz } = deck;
  const frameCount = rearM.length;
  const wheelbaseFrames = frontAheadM / frameStepM(deck);
  const overlap = Math.min(
    MOST_OVERLAP_FRAMES,
    Math.ceil(
      Math.max(
        LEAST_OVERLAP_FRAMES,
        2 * wheelbaseFrames,
        wheelbaseFrames + (2 * DRIFT_PERIODS * rateHz) / cutoffHz,
      ),
    ),
  );
  const longest = Math.max(STRETCH_FRAMES, Math.round(OVERLAPS * overlap));
  const count =
    frameCount <= UNCUT_SHARE * longest ? 1 : Math.ceil((frameCount - overlap) / (longest - overlap));
  const length = Math.ceil((frameCount + (count - 1) * overlap) / count);

  const frames = Array.from({ length: count }, (_, i) => {
    const fromFrame = Math.round((i * (frameCount - length)) / Math.max(1, count - 1));
    return { fromFrame, toFrame: fromFrame + length };
  });
  const borders = frames.slice(1).map(({ fromFrame }, i) => {
    const lastBefore = rearM[frames[i].toFrame - 1];
    return (rearM[fromFrame] + frontAheadM + lastBefore) / 2;
  });
  const edges = [rearM[0], ...borders, rearM[frameCount - 1] + frontAheadM];
  return frames.map((stretch, i) => ({ ...stretch, answersM: [edges[i], edges[i + 1]] }));
}
